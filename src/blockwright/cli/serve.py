"""`blockwright serve`, the site on this machine; and `demo`, an invented weights room, played up to
today, and its site."""

import sys
from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

from blockwright.engine.errors import BadInput
from blockwright.engine.units import capital
from .app import DataOption, JsonFlag, app, day, flag, option
from .output import progress, say, show


@app.command(epilog="Example: blockwright serve --host 0.0.0.0 --https")
def serve(
    port: Annotated[int, typer.Option(help="0 takes any free port.", min=0, max=65535)] = 8765,
    data: DataOption = None,
    host: Annotated[str, option("Address to listen on; 0.0.0.0 lets phones in.")] = "127.0.0.1",
    https: Annotated[
        bool, flag("--https", "With a certificate of its own, made at first start.")
    ] = False,
    public_url: Annotated[
        str | None, option("Where a proxy on this machine publishes the site.", "URL")
    ] = None,
    owner_link: Annotated[
        bool, flag("--owner-link", "A link to one more owner, for a lost password.")
    ] = False,
    json: JsonFlag = False,
) -> None:
    """Opens the site on this machine: migrates, prints the address, serves until stopped."""
    # The one place where the command line reaches the site, and late: see pyproject.toml.
    from blockwright.server.run import Opened, ServeQuestion
    from blockwright.server.run import serve as serve_site

    def tell(opened: Opened) -> None:
        text = f"The site: {opened['address']}"
        if opened["listens"] != opened["address"]:
            text += f"\nThe proxy passes on to: {opened['listens']}"
        if opened["owner_link"] is not None:
            text += f"\nMake the owner's account here, once: {opened['owner_link']}"
        show(opened, text, json)
        sys.stdout.flush()
        say("Stop it with Ctrl-C.")

    question = ServeQuestion(
        port=port, data=data, host=host, https=https, public_url=public_url, owner_link=owner_link
    )
    serve_site(question, tell)


@app.command(epilog="Example: blockwright demo --dir demo --no-serve")
def demo(
    folder: Annotated[
        Path, typer.Option("--dir", metavar="DIR", help="Where to leave the files.")
    ] = Path("demo"),
    today: Annotated[datetime | None, day("The day to play up to; else the clock's.")] = None,
    no_serve: Annotated[
        bool, flag("--no-serve", "Leave the files and do not open the site.")
    ] = False,
    port: Annotated[
        int, typer.Option(help="Of the site; where it is taken, any free one.", min=0, max=65535)
    ] = 8765,
    json: JsonFlag = False,
) -> None:
    """Plays invented lifters up to today, fills a site with them and opens it by one link.

    What it played for the same day is only started again."""
    from blockwright.demo.together import is_played, note_played, site_made

    # the one command that asks the clock
    day = (today or datetime.now()).date()
    if no_serve or json:
        _show(_played(folder, day), folder, day, json)
        return
    if not is_played(folder, day, site=False):
        _played(folder, day)
    if not is_played(folder, day, site=True):
        say("demo: the site")
        site_made(folder)
        note_played(folder, day, site=True)
    _serve(folder, day, port)


def _played(folder: Path, day: date) -> list[tuple[str, str, list[str]]]:
    """Everyone's name, who they are, and their files."""
    from blockwright.demo.together import note_played, played_by_all, prepared, write_index

    try:
        prepared(folder)
    except OSError as error:
        says = f"cannot be made or written: {error.strerror or error}"
        mend = "name a folder you may write to with --dir DIR"
        raise BadInput.of(says, mend, file=str(folder)) from error
    with progress("demo"):
        people = write_index(folder, list(played_by_all(folder, day)))
    note_played(folder, day, site=False)
    return people


def _show(people: list[tuple[str, str, list[str]]], folder: Path, day: date, as_json: bool) -> None:
    from blockwright.demo.cast import ROOM

    document = {
        "format": "blockwright/demo/1",
        "folder": str(folder),
        "today": day.isoformat(),
        "people": [{"lifter": name, "files": files} for name, _, files in people],
    }
    lines = [
        f"{capital(ROOM)}. The room and everyone in it are invented.",
        *(f"{about}." for _, about, _ in people),
        f"Everything is in {folder}; {folder / 'README.md'} says what is what.",
    ]
    show(document, "\n".join(lines), as_json)


def _serve(folder: Path, day: date, port: int) -> None:
    """The site with everyone of the demo in it, its data beside their files, its coach signed in by
    one link."""
    from blockwright.demo.cast import COACH, ROOM
    from blockwright.demo.together import SITE, trains
    from blockwright.server.run import Opened, ServeQuestion
    from blockwright.server.run import serve as serve_site

    def tell(opened: Opened) -> None:
        sys.stdout.write(f"Open it, signed in as the coach: {opened['sign_in_link']}\n")
        sys.stdout.flush()
        say("Stop it with Ctrl-C.")

    say(
        f"{capital(ROOM)}, on {day:%A} {day.day} {day:%B %Y}. The room and everyone "
        "in it are invented."
    )
    for start, name in trains(folder, day):
        say(f"Trains today at {start}: {name}.")
    say(f"Their files: {folder / 'README.md'}. The same command starts this again.")
    serve_site(ServeQuestion(port=port, data=folder / SITE, signs_in=COACH.key), tell)
