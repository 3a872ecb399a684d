"""A block made, changed and printed: `plan`, `replan`, `revise`, `sheet`; and options that take
several words."""

from collections.abc import Iterator
from datetime import datetime
from itertools import islice, zip_longest
from pathlib import Path
from typing import Annotated, Any, ClassVar, Literal

import typer
from typer.core import TyperArgument, TyperCommand, TyperOption

from .app import (
    BlockArgument,
    BlockOutput,
    CheckinsOption,
    CoachOfBlockOption,
    CoachOption,
    JsonFlag,
    Paper,
    PaperOption,
    PlainCheckinsOption,
    app,
    day,
    flag,
    option,
)
from .output import progress, save, save_document, say, show, warn


class TakesSeveral(TyperCommand):
    """A command whose repeatable options also take all the words up to the next option, which
    typer cannot. A word counts so only once the command has all its arguments: files may stand
    before the options or behind them. `--change` takes two words each time."""

    in_pairs: ClassVar[frozenset[str]] = frozenset({"--change"})

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Writes the option again before each further word, then parses as usual."""
        return list(super().parse_args(ctx, list(self._one_by_one(args))))

    def _one_by_one(self, args: list[str]) -> Iterator[str]:
        missing = sum(isinstance(param, TyperArgument) for param in self.params)
        options = [param for param in self.params if isinstance(param, TyperOption)]
        several = {name for one in options if one.multiple for name in one.opts} - self.in_pairs
        valued = {name for one in options if not one.is_flag for name in one.opts}
        option = ""
        words = iter(args)
        for word in words:
            if word == "--":
                yield word
                yield from words
            elif word.startswith("-") and len(word) > 1:
                option = word if word in several else ""
                yield word
                if word in valued:
                    yield from islice(words, 1)
                if word in self.in_pairs:
                    yield from (word, next(words, ""))
            elif option and missing <= 0:
                yield from (option, word)
            else:
                missing -= 1
                yield word


@app.command(epilog="Example: blockwright plan ana.toml --facts ana-sets.csv -o block.json")
def plan(
    lifter: Annotated[Path, typer.Argument(metavar="LIFTER", help="The lifter file (TOML).")],
    facts: Annotated[Path | None, option("Sets done so far (CSV), for the loads.", "SETS")] = None,
    checkins: PlainCheckinsOption = None,
    previous: Annotated[
        Path | None, option("The block before: its lifts come back.", "BLOCK")
    ] = None,
    frame: Annotated[
        Path | None, option("Keep this block's patterns, days and heavy lifts.", "BLOCK")
    ] = None,
    output: BlockOutput = None,
    pdf: Annotated[Path | None, option("Write the first week's sheets as PDF.", "FILE")] = None,
    paper: PaperOption = "a4",
    search: Annotated[
        Literal["quick", "usual"],
        option("How long to look for a better week; the same answer every time."),
    ] = "usual",
    solver: Annotated[bool, flag("--solver", "Say how good the search is proven to be.")] = False,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """Composes a block: lifts, days, sets, effort and loads of every week, and the deload."""
    from blockwright.files.block_json import block_to_json
    from blockwright.verbs.block_words import block_text, quality_text
    from blockwright.verbs.compose_block import budget_called, plan_block

    with progress("plan", 0.0):
        reading = plan_block(
            lifter,
            facts,
            checkins,
            previous=previous,
            frame=frame,
            coach=coach,
            budget=budget_called(search),
            tell=say,
        )
    warn(reading.warnings)
    document = block_to_json(reading.value)
    save_document(output, document)
    if pdf is not None:
        from blockwright.files.case_files import case_of_block, with_facts
        from blockwright.verbs.print_sheet import first_week_pdf

        known = with_facts(case_of_block(reading.value), facts, checkins).value
        save(pdf, first_week_pdf(known, paper))
    text = block_text(reading.value)
    show(document, f"{text}\n\n{quality_text(reading.value)}" if solver else text, json)


@app.command(
    cls=TakesSeveral,
    epilog="Example: blockwright replan block.json --date 2027-01-05 --minutes 35 -o block-2.json",
)
def replan(
    block: BlockArgument,
    date: Annotated[datetime, day("The day it happens.", "D")],
    session: Annotated[int | None, option("Which session, when a day has two.", "S")] = None,
    minutes: Annotated[int | None, option("Only so many minutes.", "N")] = None,
    missed: Annotated[bool, flag("--missed", "The session does not happen.")] = False,
    without: Annotated[
        list[str] | None, option("A lift that cannot be done, or several.", "LIFT")
    ] = None,
    sore: Annotated[list[str] | None, option("A sore muscle, or several.", "MUSCLE")] = None,
    hurts: Annotated[list[str] | None, option("A lift that hurts, or several.", "LIFT")] = None,
    region: Annotated[str, option("Where it hurts: shoulder, lower back, ...", "PLACE")] = "",
    output: BlockOutput = None,
    facts: Annotated[
        Path | None, option("The log so far: what hurts gains no set.", "SETS")
    ] = None,
    checkins: PlainCheckinsOption = None,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """Changes one session and what is left of its week, as little as keeps most of it."""
    from blockwright.files.block_json import block_to_json
    from blockwright.verbs.block_words import replan_text
    from blockwright.verbs.replan_block import replan_block

    reading = replan_block(
        block,
        date.date(),
        session,
        facts=facts,
        checkins=checkins,
        minutes=minutes,
        missed=missed,
        without=without or (),
        sore=sore or (),
        hurts=hurts or (),
        region=region,
        coach=coach,
    )
    warn(reading.warnings)
    made = reading.value
    document = block_to_json(made)
    save_document(output, document)
    show(document, replan_text(made, date.date()), json)


@app.command(
    cls=TakesSeveral,
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
    from blockwright.files.block_json import block_to_json, read_block
    from blockwright.files.proposals_json import read_proposals
    from blockwright.verbs.block_words import block_text
    from blockwright.verbs.revise_block import revise_block

    before = read_block(block)
    new = revise_block(
        block,
        proposals,
        accept_all=accept_all,
        accept=accept or (),
        decline=decline or (),
        changes=list(zip_longest((change or ())[::2], (change or ())[1::2], fillvalue="")),
        words=words,
        coach=coach,
    )
    if not read_proposals(proposals).offered:
        say(f"The letter asks for no change: the block stands as printed, revision {new.revision}.")
    document = block_to_json(new)
    save_document(output, document)
    show(document, block_text(new, before), json)


@app.command(
    epilog="Example: blockwright sheet block.json --date 2027-01-04 --facts log.csv --pdf today.pdf"
)
def sheet(
    block: BlockArgument,
    date: Annotated[datetime | None, day("The day of the session.")] = None,
    week: Annotated[int | None, option("Or its week, 1 being the first.")] = None,
    session: Annotated[
        int | None, option("Its number in the week; needed where a day has two.")
    ] = None,
    facts: Annotated[Path | None, option("The log so far: sharpens the advice.", "SETS")] = None,
    checkins: CheckinsOption = None,
    partner: Annotated[
        Path | None, option("A partner's block: how both loads go on one bar.", "BLOCK2")
    ] = None,
    pdf: Annotated[Path | None, option("Write the sheet as PDF.", "FILE")] = None,
    paper: PaperOption = "a4",
    xlsx: Annotated[Path | None, option("Write the block as a workbook.", "FILE")] = None,
    ics: Annotated[Path | None, option("Write the block's sessions as a calendar.", "FILE")] = None,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """Today's sheet: targets, plates, warm-ups, rests, advice for the next set, cautions."""
    from blockwright.sheets.text import sheet_text
    from blockwright.verbs.print_sheet import print_sheet, workbook_of

    answer, printed = print_sheet(
        block,
        facts,
        checkins,
        day=date.date() if date else None,
        week=week,
        session=session,
        partner=partner,
        coach=coach,
    )
    warn(answer.warnings)
    if pdf is not None:
        _save_pdf(pdf, answer.document, paper)
    if xlsx is not None:
        save(xlsx, workbook_of(printed))
    if ics is not None:
        from blockwright.sheets.workbook import block_calendar

        save(ics, block_calendar(printed))
    show(answer.document, sheet_text(answer.document), json)


def _save_pdf(file: Path, document: dict[str, Any], paper: Paper) -> None:
    from blockwright.sheets.pdf import sheets_pdf, unprintable

    save(file, sheets_pdf([document], paper))
    if lost := unprintable(str(document)):
        say(f"note: {file} prints ? for characters its font lacks: {lost}")
