"""The published JSON Schemas, and the check of a document against its own."""

import json
from functools import cache
from importlib import resources
from typing import Any

from blockwright.engine.errors import BadInput, Problem

NAMES = (
    "lifts", "policy", "check", "rack", "block", "sheet", "proposals", "estimate", "backtest",
    "clash",
)  # fmt: skip


@cache
def schema_of(name: str) -> dict[str, Any]:
    """The schema called `name`; BadInput names the known ones."""
    if name not in NAMES:
        raise BadInput(
            Problem(
                says=f'there is no schema called "{name}"', mend="use one of: " + ", ".join(NAMES)
            )
        )
    file = resources.files("blockwright.files") / "data" / "schemas" / f"{name}.json"
    loaded: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    return loaded
