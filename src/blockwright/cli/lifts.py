"""`blockwright lifts`: the lift catalogue."""

from pathlib import Path
from typing import Annotated

from blockwright.cli.app import JsonFlag, app, option
from blockwright.cli.output import show, warn


@app.command(epilog="Example: blockwright lifts --muscle chest --kit dumbbells --kit bench")
def lifts(
    muscle: Annotated[str, option("Only lifts that train this directly.")] = "",
    pattern: Annotated[str, option('Only this pattern, such as "row".')] = "",
    kit: Annotated[
        list[str] | None,
        option("Only lifts for which this kit is enough; give it once for each word."),
    ] = None,
    find: Annotated[str, option("Only names that contain this.")] = "",
    lifter: Annotated[
        Path | None, option("A lifter file: only what its gym has the kit for, own lifts included.")
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
