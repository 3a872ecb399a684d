"""`blockwright restore`: the site back from a backup or an archive."""

from pathlib import Path
from typing import Annotated, Any

import typer

from blockwright.cli.app import DataOption, JsonFlag, app, flag
from blockwright.cli.output import show


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
    from blockwright.files.archive_zip import looks_like_zip

    document, text = (
        _from_archive(file, data, replace) if looks_like_zip(file) else _from_backup(file, data)
    )
    if document["kept"] is not None:
        text += f"\nWhat was there before: {document['kept']}"
    show({"format": "blockwright/restore/1", **document}, text, json)


def _from_backup(file: Path, data: Path | None) -> tuple[dict[str, Any], str]:
    from blockwright.verbs.back_up import restore as put_back

    copied = put_back(file, data)
    kept = None if copied.kept is None else str(copied.kept)
    text = (
        f"{copied.file}: {copied.rows['store_lifter']} lifters, "
        f"{copied.rows['store_fact']} facts are back."
    )
    return {"file": str(copied.file), "kept": kept, "rows": copied.rows}, text


def _from_archive(file: Path, data: Path | None, replace: bool) -> tuple[dict[str, Any], str]:
    from blockwright.verbs.archive_site import restore_archive

    made = restore_archive(file, data, replace=replace)
    rows = {"accounts_user": made.people, "store_lifter": made.lifters, "store_fact": made.facts}
    text = (
        f"{file}: {made.lifters} lifters, {made.facts} facts, {made.people} accounts are back. "
        "Nobody has a password yet: `blockwright serve` prints the owner's link, and the page "
        "“The site” has one for each of the others."
    )
    if made.erased:
        text += f"\nErased since, and left out: {made.erased}."
    kept = None if made.kept is None else str(made.kept)
    return {"file": str(file), "kept": kept, "rows": rows, "erased": made.erased}, text
