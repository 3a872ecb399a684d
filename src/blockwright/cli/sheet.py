"""`blockwright sheet`: what one session takes, on screen, on paper, in a workbook."""

from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

from blockwright.cli import app as options
from blockwright.cli.output import save, say, show, warn


@options.app.command(
    epilog="Example: blockwright sheet block.json --date 2027-01-04 --facts log.csv --pdf today.pdf"
)
def sheet(
    block: options.BlockArgument,
    date: Annotated[datetime | None, options.day("The day of the session.")] = None,
    week: Annotated[int | None, options.option("Or its week, 1 being the first.")] = None,
    session: Annotated[
        int | None, options.option("Its number in the week; needed where a day has two.")
    ] = None,
    facts: Annotated[
        Path | None, options.option("The log so far: sharpens the advice.", "SETS")
    ] = None,
    checkins: options.CheckinsOption = None,
    partner: Annotated[
        Path | None, options.option("A partner's block: how both loads go on one bar.", "BLOCK2")
    ] = None,
    pdf: Annotated[Path | None, options.option("Write the sheet as PDF.", "FILE")] = None,
    paper: options.PaperOption = "a4",
    xlsx: Annotated[Path | None, options.option("Write the block as a workbook.", "FILE")] = None,
    ics: Annotated[
        Path | None, options.option("Write the block's sessions as a calendar.", "FILE")
    ] = None,
    coach: options.CoachOfBlockOption = None,
    json: options.JsonFlag = False,
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


def _save_pdf(file: Path, document: dict[str, Any], paper: options.Paper) -> None:
    from blockwright.sheets.pdf import sheets_pdf, unprintable

    save(file, sheets_pdf([document], paper))
    if lost := unprintable(str(document)):
        say(f"note: {file} prints ? for characters its font lacks: {lost}")
