"""`blockwright archive`: the whole site as JSON and CSV, for another site or for years from now."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import DataOption, JsonFlag, app, flag
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright archive gym-2027-01-04.zip --data gym")
def archive(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Where the archive goes.")],
    data: DataOption = None,
    replace: Annotated[
        bool, flag("--replace", "Write over FILE where it is there already.")
    ] = False,
    json: JsonFlag = False,
) -> None:
    """Writes everything the site knows, but no passwords, as JSON and CSV in one ZIP archive."""
    from blockwright.verbs.archive_site import archive_site

    made = archive_site(file, data, replace=replace)
    document = {
        "format": "blockwright/archived/1",
        "file": str(file),
        "lifters": made.lifters,
        "facts": made.facts,
        "people": made.people,
    }
    text = f"{file}: {made.lifters} lifters, {made.facts} facts, {made.people} accounts."
    show(document, text, json)
