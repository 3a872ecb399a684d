"""`blockwright restore`: puts a backup in the place of the site's database."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli._options import DataOption
from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright restore gym-2027-01-04.sqlite3")
def restore(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="What `backup` wrote.")],
    data: DataOption = None,
    json: JsonFlag = False,
) -> None:
    """Checks FILE and puts it in the database's place; what was there is kept beside it."""
    from blockwright.verbs.back_up import restore as put_back

    copied = put_back(file, data)
    document = {
        "format": "blockwright/restore/1",
        "file": str(copied.file),
        "kept": None if copied.kept is None else str(copied.kept),
        "rows": copied.rows,
    }
    text = (
        f"{copied.file}: {copied.rows['store_lifter']} lifters, "
        f"{copied.rows['store_fact']} facts are back."
    )
    if copied.kept is not None:
        text += f"\nWhat was there before: {copied.kept}"
    show(document, text, json)
