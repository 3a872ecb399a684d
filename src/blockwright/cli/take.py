"""`blockwright take`: files into the site."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import DataOption, JsonFlag, app, option
from blockwright.cli.output import show, warn


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
    from blockwright.verbs.take_files import take_files

    answer = take_files(files, lifter, data)
    warn(answer.warnings)
    show(answer.document, answer.text, json)
