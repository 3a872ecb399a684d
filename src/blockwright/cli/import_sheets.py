"""`blockwright import`: a coach's own spreadsheets into a sets file."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import JsonFlag, app, flag, option
from blockwright.cli.output import progress, save, say, show
from blockwright.engine.errors import BadInput
from blockwright.engine.units import Unit


@app.command(
    "import", epilog="Example: blockwright import my-log.xlsx --lifter ana.toml -o sets.csv"
)
def import_(
    files: Annotated[
        list[Path],
        typer.Argument(metavar="FILE...", help="Workbooks (xlsx, xls, ods) or CSV files."),
    ],
    out: Annotated[Path, typer.Option("-o", metavar="FILE.csv", help="The file to write.")],
    lifter: Annotated[Path | None, option("Lifter file: usual unit, own lifts.", "LIFTER")] = None,
    unit: Annotated[Unit | None, option("Unit of loads that do not say theirs.")] = None,
    year: Annotated[
        int | None,
        typer.Option(min=1990, max=2100, metavar="Y", help="Year of the first date without one."),
    ] = None,
    answers: Annotated[
        Path | None, option('TOML of `id = "choice"` for what was asked.', "ANSWERS")
    ] = None,
    checkins: Annotated[
        bool, flag("--checkins", "A scale's or a watch's export, into a check-ins file.")
    ] = False,
    column: Annotated[
        list[str] | None,
        typer.Option(
            metavar="MEASURE=HEADING",
            help='With --checkins: date="Day", bodyweight="Weight (kg)", sleep_h=..., steps=... '
            "Without one the headings are guessed at.",
        ),
    ] = None,
    json: JsonFlag = False,
) -> None:
    """Reads a log as people keep it (weeks across, days as headings, "3x8 @ 80", sets in columns)
    into a sets file, or measures into a check-ins file; lists what it left out, and asks at most
    a few questions."""
    from blockwright.verbs.import_sheets import ImportQuestion, import_checkins, import_sheets

    asked = ImportQuestion(files=files, lifter=lifter, unit=unit, year=year, answers=answers)
    if column and not checkins:
        raise BadInput.of("--column goes with --checkins", "add --checkins")
    with progress(f"reading {', '.join(path.name for path in files)}"):
        answer = import_checkins(asked, column or []) if checkins else import_sheets(asked)
    save(out, answer.sets_csv)
    for note in answer.notes:
        say(f"note: {note}")
    show(answer.document, answer.text, json)
