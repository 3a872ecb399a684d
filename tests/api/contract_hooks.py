"""Schemathesis draws addresses at random, and at random nobody ever meets a real lifter. These
hooks put the world's own ids, dates and numbers in place of well-formed ones, so that most calls
get past 404; what was drawn to be malformed stays malformed.

Calls that destroy are sent like any other, but to what is there to be destroyed: erasing meets
the spare lifter, whose name is given in half of the calls; ending somebody's access meets whatever
number was drawn. Lifters the run itself adds are fair game.
"""

import json
import os
import re
from typing import Any

import schemathesis

TOKEN = os.environ["CONTRACT_TOKEN"]
WORLD: dict[str, Any] = json.loads(os.environ["CONTRACT_WORLD"])
_KEY = re.compile(r"[0-9a-fA-F]{8}-([0-9a-fA-F]{4}-){3}[0-9a-fA-F]{12}")
_DAY = re.compile(r"[12]\d{3}-\d\d-\d\d")


def _erases(context: Any) -> bool:
    operation = context.operation
    return operation.method.upper() == "DELETE" and operation.path.endswith("/{lifter}")


@schemathesis.hook
def map_path_parameters(context: Any, path_parameters: dict[str, Any]) -> dict[str, Any]:
    if not path_parameters:
        return path_parameters
    known = dict(path_parameters)
    for name, value in path_parameters.items():
        text = str(value)
        if name == "lifter" and _KEY.fullmatch(text) and text[0] not in "0123":
            known[name] = WORLD["spare" if _erases(context) else "lifter"]
        elif name in ("start", "block") and _DAY.fullmatch(text) and text[-1] not in "01":
            known[name] = WORLD["start"]
        elif name in ("letter", "share") and isinstance(value, int) and value > 99:
            if context.operation.method.upper() != "DELETE":
                known[name] = WORLD[name]
        elif name in ("week", "session", "revision") and isinstance(value, int) and value > 9:
            known[name] = value % 2 + 1
    return known


@schemathesis.hook
def map_query(context: Any, query: dict[str, Any]) -> dict[str, Any]:
    if _erases(context) and query and isinstance(query.get("name"), str):
        name = query["name"]
        if name.isprintable() and len(name) % 2:
            return query | {"name": WORLD["spare_name"]}
    return query


@schemathesis.hook
def before_call(_context: Any, case: Any, **_more: Any) -> None:
    """The cookie that the page's token is compared with; a browser sends it of itself."""
    if TOKEN and isinstance(case.cookies, dict):
        case.cookies.setdefault("csrftoken", TOKEN)
