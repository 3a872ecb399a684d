"""`blockwright serve`: the site on this machine."""

import sys
from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import DataOption, JsonFlag, app, flag, option
from blockwright.cli.output import say, show


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
        document = {
            "format": "blockwright/serve/1",
            "address": opened.address,
            "listens": opened.own,
            "owner_link": opened.owner_link,
            "data": str(opened.data),
        }
        text = f"The site: {opened.address}"
        if opened.own != opened.address:
            text += f"\nThe proxy passes on to: {opened.own}"
        if opened.owner_link is not None:
            text += f"\nMake the owner's account here, once: {opened.owner_link}"
        show(document, text, json)
        sys.stdout.flush()
        say("Stop it with Ctrl-C.")

    question = ServeQuestion(
        port=port, data=data, host=host, https=https, public_url=public_url, owner_link=owner_link
    )
    serve_site(question, tell)


def serve_demo(data: Path, port: int, signs_in: str) -> None:
    """The demo's site, opened by the one link that signs its coach in."""
    from blockwright.server.run import Opened, ServeQuestion
    from blockwright.server.run import serve as serve_site

    def tell(opened: Opened) -> None:
        sys.stdout.write(f"Open it, signed in as the coach: {opened.sign_in_link}\n")
        sys.stdout.flush()
        say("Stop it with Ctrl-C.")

    serve_site(ServeQuestion(port=port, data=data, signs_in=signs_in), tell)
