"""A coach's own spreadsheets to a sets file (`import`), files into the site (`take`), and copies of
the whole site: `backup`, `archive`, `restore`."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.engine.errors import BadInput
from blockwright.engine.units import Unit
from .app import DataOption, JsonFlag, app, flag, option
from .output import save, show, warn

ReplaceFlag = Annotated[bool, flag("--replace", "Write over FILE where it is there already.")]


@app.command(
    epilog="Example: blockwright take ana.toml log.csv checkins.csv block-1.json --data gym"
)
def take(
    files: Annotated[
        list[Path],
        typer.Argument(
            metavar="FILE...",
            help="Lifter file, sets, check-ins, blocks, reviews' proposals, in any order.",
        ),
    ],
    lifter: Annotated[
        str | None, option("Whose they are; else whom the lifter file names.", "NAME")
    ] = None,
    data: DataOption = None,
    json: JsonFlag = False,
) -> None:
    """Takes one lifter's files into the site: all or none, and never twice what is there."""
    from blockwright.verbs.open_store import take_files

    answer = take_files(files, lifter, data)
    warn(answer.warnings)
    show(answer.document, answer.text, json)


@app.command(epilog="Example: blockwright backup gym-2027-01-04.sqlite3")
def backup(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where the copy goes.")],
    data: DataOption = None,
    replace: ReplaceFlag = False,
    json: JsonFlag = False,
) -> None:
    """Copies the site's database to FILE, opens the copy and counts what is in it."""
    from blockwright.verbs.back_up import back_up

    rows = back_up(file, data, replace=replace)
    document = {"format": "blockwright/backup/1", "file": str(file), "rows": rows}
    text = (
        f"{file}: {rows['store_lifter']} lifters, {rows['store_fact']} facts; opened and checked."
    )
    show(document, text, json)


@app.command(epilog="Example: blockwright archive gym-2027-01-04.zip --data gym")
def archive(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where the archive goes.")],
    data: DataOption = None,
    replace: ReplaceFlag = False,
    json: JsonFlag = False,
) -> None:
    """Writes everything the site knows, but no passwords, as JSON and CSV in one ZIP archive."""
    from blockwright.verbs.archive_site import archive_site

    made = archive_site(file, data, replace=replace)
    document = {"format": "blockwright/archived/1", "file": str(file), **made}
    text = f"{file}: {made['lifters']} lifters, {made['facts']} facts, {made['people']} accounts."
    show(document, text, json)


@app.command(epilog="Example: blockwright restore gym-2027-01-04.sqlite3")
def restore(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="What `backup` or `archive` wrote.")],
    data: DataOption = None,
    replace: Annotated[
        bool, flag("--replace", "Of an archive: in the place of the site that is there.")
    ] = False,
    json: JsonFlag = False,
) -> None:
    """Checks FILE and puts it in the database's place; what was there is kept beside it. An
    archive is read into a fresh site."""
    from blockwright.store.folder import data_folder, database_file
    from blockwright.verbs.restore_site import restore as put_back

    database = database_file(data_folder(data))
    made = put_back(file, data, anew=replace)
    rows, kept = made.rows, made.kept
    more = {} if made.erased is None else {"erased": made.erased}
    there = f"{rows['store_lifter']} lifters, {rows['store_fact']} facts"
    if made.erased is None:
        file, text = database, f"{database}: {there} are back."
    else:
        text = (
            f"{file}: {there}, {rows['accounts_user']} accounts are back. "
            "Nobody has a password yet: `blockwright serve` prints the owner's link, and the page "
            "“The site” has one for each of the others."
        )
        if made.erased:
            text += f"\nErased since, and left out: {made.erased}."
    if kept is not None:
        text += f"\nWhat was there before: {kept}"
    document = {"file": str(file), "kept": None if kept is None else str(kept), "rows": rows}
    show({"format": "blockwright/restore/1", **document, **more}, text, json)


@app.command(
    "import", epilog="Example: blockwright import my-log.xlsx --lifter ana.toml -o sets.csv"
)
def import_(
    files: Annotated[
        list[Path], typer.Argument(metavar="FILE...", help="Workbooks (xlsx) or CSV files.")
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
    if out.exists() and any(path.exists() and out.samefile(path) for path in files):
        raise BadInput.of(f"{out} is read, and would be written over", "name another file with -o")
    answer = import_checkins(asked, column or []) if checkins else import_sheets(asked)
    save(out, answer.sets_csv)
    warn(answer.warnings)
    show(answer.document, answer.text, json)
