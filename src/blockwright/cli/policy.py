"""`blockwright policy`: every adjustable number."""

from pathlib import Path
from typing import Annotated

from blockwright.cli.app import JsonFlag, app, flag, option
from blockwright.cli.output import show


@app.command(epilog="Example: blockwright policy --find ramp --json")
def policy(
    coach: Annotated[
        Path | None, flag("--coach", "A coach's policy file laid over the defaults.")
    ] = None,
    find: Annotated[str, option("Only keys and reasons that contain this.")] = "",
    json: JsonFlag = False,
) -> None:
    """Every number a coach may change: value, bounds, why, and the source."""
    from blockwright.verbs.list_lifts import policy_document, policy_text

    document = policy_document(coach, find)
    show(document, policy_text(document), json)
