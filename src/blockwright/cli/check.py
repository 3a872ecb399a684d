"""`blockwright check`: what is wrong in any input file, where, and the mend."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright check examples/lifter.toml examples/log.csv")
def check(
    files: Annotated[
        list[Path],
        typer.Argument(help="Lifter or policy TOML, sets or check-ins CSV, block or other JSON."),
    ],
    json: JsonFlag = False,
) -> None:
    """What is wrong in any input file, where, and the mend; all of it at once."""
    from blockwright.actions.check_files import check_files, check_text, has_errors

    document = check_files(files)
    show(document, check_text(document), json)
    if has_errors(document):
        raise typer.Exit(2)
