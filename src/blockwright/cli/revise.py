"""`blockwright revise`: the coach's word on proposals, and a new revision of the block."""

from pathlib import Path
from typing import Annotated, Any

import typer

from blockwright.cli._several import TakesSeveral
from blockwright.cli.app import BlockArgument, BlockOutput, CoachOfBlockOption, JsonFlag, app
from blockwright.cli.output import save_document, show

SEPARATOR = "\x1f"
"""Joins an ID and its KEY=VALUE (or its words) while they pass through the parser as one word."""


class TakesPairs(TakesSeveral):
    """A command with options that take two words and may be repeated, which typer cannot."""

    pairs = frozenset({"--change", "--words-on"})
    several = frozenset({"--accept", "--decline"})

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Joins the two words after each of `pairs` before the usual parsing."""
        joined: list[str] = []
        words = iter(args)
        for word in words:
            joined.append(word)
            if word in self.pairs:
                pair = [w for w in (next(words, None), next(words, None)) if w is not None]
                joined.append(SEPARATOR.join(pair))
        return list(super().parse_args(ctx, joined))


@app.command(
    cls=TakesPairs,
    epilog="Example: blockwright revise block.json proposals.json --accept-all "
    "--decline w3-add-set-leg-press --words 'knee first' -o block-2.json",
)
def revise(
    block: BlockArgument,
    proposals: Annotated[
        Path, typer.Argument(metavar="PROPOSALS", help="The proposals from review (JSON).")
    ],
    accept_all: Annotated[
        bool, typer.Option("--accept-all", help="Accept all that is not declined or changed.")
    ] = False,
    accept: Annotated[
        list[str] | None, typer.Option(metavar="ID", help="Accept this one, or several.")
    ] = None,
    decline: Annotated[
        list[str] | None, typer.Option(metavar="ID", help="Decline this one, or several.")
    ] = None,
    change: Annotated[
        list[str] | None,
        typer.Option(metavar="ID KEY=VALUE", help="Accept it with another value; may be repeated."),
    ] = None,
    words: Annotated[
        str,
        typer.Option(
            help="Why, in the coach's words; kept with the lines declined or changed here, without "
            "any with those accepted by name, else with all."
        ),
    ] = "",
    words_on: Annotated[
        list[str] | None,
        typer.Option(metavar="ID TEXT", help="Words on this one line; may be repeated."),
    ] = None,
    output: BlockOutput = None,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """Accept, change or decline proposals: makes the next revision of the block."""
    from blockwright.files.block_json import block_to_json
    from blockwright.verbs.block_words import block_text
    from blockwright.verbs.revise_block import ReviseQuestion, revise_block

    new = revise_block(
        ReviseQuestion(
            block=block,
            proposals=proposals,
            accept_all=accept_all,
            accept=tuple(accept or ()),
            decline=tuple(decline or ()),
            changes=[pair(text) for text in change or ()],
            words=words,
            words_on=[pair(text) for text in words_on or ()],
            coach=coach,
        )
    )
    document = block_to_json(new)
    save_document(output, document)
    show(document, block_text(new), json)


def pair(text: str) -> tuple[str, str]:
    """The ID and the KEY=VALUE of one `--change`, or the ID and its words."""
    name, _, value = text.partition(SEPARATOR)
    return name, value
