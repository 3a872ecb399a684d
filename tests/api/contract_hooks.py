"""Schemathesis draws addresses and bodies at random, and at random nobody ever meets a real
lifter. These hooks put the world's own ids, dates and bodies in place of most well-formed ones, so
that calls get past 404; what was drawn to be malformed stays malformed.

Calls that destroy are sent like any other, but to what is there to be destroyed: erasing meets the
spare lifter, whose name is given in half of the calls; ending an access or a search meets whatever
number was drawn. What the run itself makes is fair game.
"""

import json
import os
from typing import Any
from zlib import crc32

import schemathesis

WORLD: dict[str, Any] = json.loads(os.environ["CONTRACT_WORLD"])
ONE_IN = int(os.environ["CONTRACT_ONE_IN"])
CHANGING = "POST /api/lifters/{lifter}/blocks/{start}/changes"
_NUMBERED = {"letter": 1, "share": 1, "composing": 1, "week": 2, "session": 2, "revision": 1}
"""How many there are of each, from 1 on, where the world does not know better."""


def _one_in(count: int, *drawn: object) -> bool:
    """The same answer for the same draw, as schemathesis needs it to shrink and to repeat."""
    return crc32(repr(drawn).encode()) % count == 0


@schemathesis.hook
def filter_case(_context: Any, case: Any) -> bool:
    """A change may be a list of changes, each of them wrong in every way: of 5,000 bodies that
    cover the document's limits 3,500 are changes, which one reader reads. A short run meets one in
    `ONE_IN` of these, others when it keeps a change than when it shows one, and one in an eighth of
    `ONE_IN` of other calls' bodies."""
    label = case.operation.label
    if case.meta is None or case.meta.phase.name.value != "coverage" or not label.startswith("P"):
        return True
    many = label in (CHANGING, f"{CHANGING}/preview")
    return _one_in(ONE_IN if many else max(ONE_IN // 8, 1), label, case.body)


@schemathesis.hook
def before_call(_context: Any, case: Any, **_more: Any) -> None:
    if case.meta is None:
        return
    sound = {place.value: part.mode.is_positive for place, part in case.meta.components.items()}
    label, path = case.operation.label, case.path_parameters
    if sound.get("path") and not _one_in(8, label, sorted(path.items()), case.body):
        case.path_parameters = _met(path, case.operation)
    bodies = WORLD["bodies"].get(label)
    if bodies and sound.get("body") and _one_in(2, label, case.body):
        case.body = bodies[crc32(repr(case.body).encode()) // 2 % len(bodies)]
    if label in WORLD["queries"] and sound.get("query") and _one_in(2, label, case.query):
        case.query = dict(WORLD["queries"][label])


def _met(path: dict[str, Any], operation: Any) -> dict[str, Any]:
    """The address with what is there in place of what was drawn."""
    destroys = operation.method.upper() == "DELETE"
    known = dict(path)
    for name, value in path.items():
        if name == "lifter":
            erases = destroys and operation.path.endswith("/{lifter}")
            known[name] = WORLD["spare" if erases else "lifter"]
        elif name in ("start", "block"):
            known[name] = WORLD["start"]
        elif name in _NUMBERED and type(value) is int and not destroys:
            known[name] = WORLD.get(name, value % _NUMBERED[name] + 1)
    return known
