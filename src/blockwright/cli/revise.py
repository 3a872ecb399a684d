"""`blockwright revise`: the coach's word on proposals, and a new revision of the block."""

from pathlib import Path
from typing import Annotated, Any

import typer

from blockwright.cli._several import TakesSeveral
from blockwright.cli.app import (
    BlockArgument,
    BlockOutput,
    CoachOfBlockOption,
    JsonFlag,
    app,
    flag,
    option,
)
from blockwright.cli.output import save_document, show

SEPARATOR = "\x1f"
"""Joins an ID and its KEY=VALUE while they pass through the parser as one word."""


class TakesPairs(TakesSeveral):
    """A command whose `--change` takes two words and may be repeated, which typer cannot."""

    several = frozenset({"--accept", "--decline"})

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Joins the two words after each before the usual parsing."""
        joined: list[str] = []
        words = iter(args)
        for word in words:
            joined.append(word)
            if word == "--change":
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
        bool, flag("--accept-all", "Accept all that is not declined or changed.")
    ] = False,
    accept: Annotated[list[str] | None, option("Accept this one, or several.", "ID")] = None,
    decline: Annotated[list[str] | None, option("Decline this one, or several.", "ID")] = None,
    change: Annotated[
        list[str] | None, option("Accept it with another value; may be repeated.", "ID KEY=VALUE")
    ] = None,
    words: Annotated[
        str,
        typer.Option(
            help="Why, in the coach's words; kept with the lines declined or changed here, without "
            "any with those accepted by name, else with all."
        ),
    ] = "",
    output: BlockOutput = None,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """Accept, change or decline proposals: makes the next revision of the block."""
    from blockwright.files.block_json import block_to_json
    from blockwright.verbs.block_words import block_text
    from blockwright.verbs.revise_block import revise_block

    new = revise_block(
        block,
        proposals,
        accept_all=accept_all,
        accept=accept or (),
        decline=decline or (),
        changes=[pair(text) for text in change or ()],
        words=words,
        coach=coach,
    )
    document = block_to_json(new)
    save_document(output, document)
    show(document, block_text(new), json)


def pair(text: str) -> tuple[str, str]:
    """The ID and the KEY=VALUE of one `--change`, or the ID and its words."""
    name, _, value = text.partition(SEPARATOR)
    return name, value
