"""`blockwright backup`: a verified copy of the site's database, while it runs."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import DataOption, JsonFlag, app, flag
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright backup gym-2027-01-04.sqlite3")
def backup(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where the copy goes.")],
    data: DataOption = None,
    replace: Annotated[
        bool, flag("--replace", "Write over FILE where it is there already.")
    ] = False,
    json: JsonFlag = False,
) -> None:
    """Copies the site's database to FILE, opens the copy and counts what is in it."""
    from blockwright.verbs.back_up import back_up

    copied = back_up(file, data, replace=replace)
    document = {"format": "blockwright/backup/1", "file": str(file), "rows": copied.rows}
    text = (
        f"{file}: {copied.rows['store_lifter']} lifters, {copied.rows['store_fact']} facts; "
        "opened and checked."
    )
    show(document, text, json)
