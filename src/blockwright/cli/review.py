"""What a log says: `review` and `report`, what a week and a whole block came to; `estimate` and
`backtest`, strength per lift, and how good the estimate has been."""

from datetime import datetime
from pathlib import Path
from typing import Annotated, Literal

import typer

from .app import (
    BlockArgument,
    CheckinsOption,
    CoachOfBlockOption,
    CoachOption,
    JsonFlag,
    PlainCheckinsOption,
    app,
    day,
    flag,
    option,
)
from .output import save, save_document, say, show, warn


@app.command(
    epilog="Example: blockwright review block.json --facts log.csv --checkins checkins.csv "
    "--through 2027-01-17 -o proposals.json"
)
def review(
    block: BlockArgument,
    facts: Annotated[Path, option("Sets done so far (CSV).", "SETS")],
    through: Annotated[
        datetime, day("The last day to look at; the week after it is proposed for.")
    ],
    checkins: PlainCheckinsOption = None,
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", metavar="PROPOSALS", help="Where to write them (JSON)."),
    ] = None,
    full: Annotated[
        bool, flag("--full", "Print figures, sources, runners-up and the message too.")
    ] = False,
    coach: CoachOfBlockOption = None,
    json: JsonFlag = False,
) -> None:
    """A letter of one screen about the week: what changes, what to settle, what stays."""
    from blockwright.engine.review import review as reviewed
    from blockwright.files.case_files import read_case
    from blockwright.sheets.letter import letter_of
    from blockwright.sheets.letter_text import letter_text
    from blockwright.verbs.revise_block import letter_document

    reading = read_case(block, facts, checkins, coach)
    found = reviewed(reading.value, through.date())
    warn(reading.warnings)
    document = letter_document(found)
    save_document(output, document)
    show(document, letter_text(letter_of(document), full=full), json)


@app.command(
    epilog="Example: blockwright report block-5.json --facts log.csv --checkins checkins.csv "
    "--proposals week-1.json --proposals week-2.json --pdf report.pdf"
)
def report(
    block: Annotated[Path, typer.Argument(metavar="BLOCK", help="The block's last revision.")],
    facts: Annotated[Path, option("The log of sets (CSV).", "SETS")],
    checkins: PlainCheckinsOption = None,
    proposals: Annotated[
        list[Path] | None, option("A week's proposals (JSON); may be repeated.", "PROPOSALS")
    ] = None,
    through: Annotated[
        datetime | None, day("The last day to look at; else the block's last.")
    ] = None,
    pdf: Annotated[Path | None, option("Write the report as PDF.", "FILE")] = None,
    paper: Annotated[Literal["a4", "letter"], option("Paper of the PDF.")] = "a4",
    coach: CoachOfBlockOption = None,
    full: Annotated[bool, flag("--full", "What is behind the first page too.")] = False,
    json: JsonFlag = False,
) -> None:
    """What was planned and done, strength, sets, proposals and their fate, and what is next."""
    from blockwright.sheets.report_text import report_text
    from blockwright.verbs.report_block import report_block

    answer = report_block(
        block,
        facts,
        checkins,
        proposals=proposals or (),
        through=through.date() if through else None,
        coach=coach,
    )
    warn(answer.warnings)
    if pdf is not None:
        from blockwright.sheets.report_pdf import report_pdf

        save(pdf, report_pdf(answer.document, paper))
        say(f"written: {pdf}")
    show(answer.document, report_text(answer.document, full=full), json)


@app.command(epilog="Example: blockwright estimate sets.csv --lifter ana.toml --through 2027-02-14")
def estimate(
    sets: Annotated[Path, typer.Argument(metavar="SETS", help="The log of sets (CSV).")],
    lifter: Annotated[
        Path | None, option("Lifter file: bodyweight, own lifts, policy, units.", "LIFTER")
    ] = None,
    through: Annotated[datetime | None, day("Leave out what came later.", "DATE")] = None,
    checkins: CheckinsOption = None,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """How strong on each lift, how sure, where it is heading, and whether it is falling."""
    from blockwright.files.case_files import read_log
    from blockwright.verbs.estimate_strength import estimate_strength

    log = read_log(sets, lifter, coach, checkins)
    answer = estimate_strength(log.cases, log.unit, through.date() if through else None)
    warn(log.warnings)
    show(answer.document, answer.text, json)


@app.command(epilog="Example: blockwright backtest sets.csv --lifter ana.toml --json")
def backtest(
    sets: Annotated[Path, typer.Argument(metavar="SETS", help="The log of sets (CSV).")],
    lifter: Annotated[
        Path | None, option("Lifter file: bodyweight, own lifts, policy.", "LIFTER")
    ] = None,
    checkins: CheckinsOption = None,
    coach: CoachOption = None,
    json: JsonFlag = False,
) -> None:
    """How good the estimate has been on this log, beside simple rules."""
    from blockwright.files.case_files import read_log
    from blockwright.verbs.estimate_strength import backtest_log

    log = read_log(sets, lifter, coach, checkins)
    answer = backtest_log(log.cases)
    warn(log.warnings)
    show(answer.document, answer.text, json)
