"""`blockwright lifts`: the lift catalogue."""

from pathlib import Path
from typing import Annotated

import typer

from blockwright.cli.app import JsonFlag, app
from blockwright.cli.output import show, warn


@app.command(epilog="Example: blockwright lifts --muscle chest --kit dumbbells --kit bench")
def lifts(
    muscle: Annotated[str, typer.Option(help="Only lifts that train this directly.")] = "",
    pattern: Annotated[str, typer.Option(help='Only this pattern, such as "row".')] = "",
    kit: Annotated[
        list[str] | None,
        typer.Option(help="Only lifts for which this kit is enough; give it once for each word."),
    ] = None,
    find: Annotated[str, typer.Option(help="Only names that contain this.")] = "",
    lifter: Annotated[
        Path | None,
        typer.Option(help="A lifter file: only what its gym has the kit for, own lifts included."),
    ] = None,
    json: JsonFlag = False,
) -> None:
    """The lifts: muscles, kit, standard and caution of each."""
    from blockwright.verbs.list_lifts import Narrowing, lifts_document, lifts_text

    document, warnings = lifts_document(
        Narrowing(muscle=muscle, pattern=pattern, kit=tuple(kit or ()), find=find, lifter=lifter)
    )
    warn(warnings)
    show(document, lifts_text(document), json)
