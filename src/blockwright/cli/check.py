"""`blockwright check`: what is wrong in any input file, where, and the mend."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import say, show


@app.command(epilog="Example: blockwright check examples/lifter.toml examples/log.csv")
def check(
    files: Annotated[
        list[Path],
        typer.Argument(help="Lifter or policy TOML, sets or check-ins CSV, block or other JSON."),
    ],
    json: JsonFlag = False,
) -> None:
    """What is wrong in any input file, where, and the mend; all of it at once."""
    from blockwright.verbs.check_files import check_files, check_text, files_with_errors

    document = check_files(files)
    show(document, check_text(document), json)
    if wrong := ", ".join(files_with_errors(document)):
        say(check_text(document) if json else f"blockwright: not usable as it is: {wrong}")
        raise typer.Exit(2)
