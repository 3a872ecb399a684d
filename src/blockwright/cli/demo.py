"""`blockwright demo`: an invented weights room, one whole block played through."""

import sys
from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import progress, say, show
from blockwright.engine.errors import BadInput, Problem


@app.command(epilog="Example: blockwright demo --dir demo --no-serve")
def demo(
    folder: Annotated[
        Path, typer.Option("--dir", metavar="DIR", help="Where to leave the files.")
    ] = Path("demo"),
    no_serve: Annotated[
        bool, typer.Option("--no-serve", help="Do not open the site afterwards.")
    ] = False,
    port: Annotated[
        int, typer.Option(help="Of the site; 0 takes any free one.", min=0, max=65535)
    ] = 8765,
    json: JsonFlag = False,
) -> None:
    """Plays a whole block of invented lifters and leaves sheets, letters, reports and data."""
    from blockwright.demo.cast import ROOM
    from blockwright.demo.together import finished, played_by_all, prepared

    try:
        prepared(folder)
    except OSError as error:
        says = f"cannot be made or written: {error.strerror or error}"
        mend = "name a folder you may write to with --dir DIR"
        raise BadInput(Problem(file=str(folder), says=says, mend=mend)) from error
    told = []
    _tell(f"{ROOM[:1].upper()}{ROOM[1:]}. The room and everyone in it are invented.", json)
    with progress("demo"):
        for one in played_by_all(folder):
            told.append(one)
            _tell("\n\n".join(one.paragraphs), json)
        ending = finished(folder, told)
    for paragraph in ending:
        _tell(paragraph, json)
    where = f"Everything is in {folder}; {folder / 'README.md'} says what is what."
    if json:
        people = [{"lifter": one.name, "story": list(one.paragraphs)} for one in told]
        show({"format": "blockwright/demo/1", "folder": str(folder), "people": people,
              "ending": ending}, "", True)  # fmt: skip
    else:
        _tell(where, json)
    if not no_serve and not json:
        _serve(folder, port)


def _tell(text: str, as_json: bool) -> None:
    if not as_json:
        sys.stdout.write(text + "\n\n")
        sys.stdout.flush()


def _serve(folder: Path, port: int) -> None:
    """The site with everyone of the demo in it, its data beside their files."""
    from blockwright.cli.serve import serve
    from blockwright.demo.site import site_filled

    data = folder / "site"
    for text in site_filled(folder, data):
        say(text)
    say(
        "The site opens now, with the demo's people in it; make yourself its owner. Another time: "
        f"blockwright serve --data {data}"
    )
    serve(data=data, port=port)
