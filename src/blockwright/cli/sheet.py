"""`blockwright sheet`: what one session takes, on screen, on paper, in a workbook."""

from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

from blockwright.cli.app import (
    BlockArgument,
    CheckinsOption,
    CoachOfBlockOption,
    JsonFlag,
    Paper,
    PaperOption,
    app,
    day,
    option,
)
from blockwright.cli.output import save, say, show, warn


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
