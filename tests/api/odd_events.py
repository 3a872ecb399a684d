"""Several hundred events that no page of ours writes: each a sound event with one thing wrong."""

import copy
import json
from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import people
from blockwright.store.models import Lifter

HALF = "\ud83d"
"""Half an emoji."""
TEXTS: dict[str, Any] = {
    "half an emoji": HALF,
    "half in words": f"good {HALF} set",
    "other half": "\udca9",
    "nul": "a\x00b",
    "control": "a\x01\x0b\x1f\x7fb",
    "no character": "\ufffe\uffff",
    "backwards": "\u202eabc",
    "long": "x" * 999,
    "too long": "x" * 5000,
    "empty": "",
    "spaces": "   ",
    "formula": "=1+1",
    "markup": "<script>alert(1)</script>&amp;",
    "whole emoji": "\U0001f4a9",
}
NUMBERS: dict[str, Any] = {
    "minus": -1,
    "nought": 0,
    "half": 1.5,
    "2**31": 2**31,
    "2**63": 2**63,
    "400 digits": 10**400,
    "large float": 1e308,
    "small float": 5e-324,
    "number as text": "5",
}
TYPES: dict[str, Any] = {
    "none": None,
    "true": True,
    "list": [],
    "nested": [[[[["x"]]]]],
    "table": {"a": {"b": 1}},
    "deep": json.loads("[" * 300 + "]" * 300),
    "other number": 7,
}
TIMES = (
    "0000-01-01T00:00:00+00:00", "0001-01-01T00:00:00+14:00", "1900-01-01T00:00:00Z",
    "1969-12-31T23:59:59-01:00", "2016-02-29T10:00:00+01:00", "2015-02-29T10:00:00+01:00",
    "9999-12-31T23:59:59-14:00", "9999-12-31T23:59:59+14:00", "9998-01-01T00:00:00Z",
    "10000-01-01T00:00:00Z", "2026-01-05T18:00:00+25:00", "2026-01-05T18:00:00+23:59",
    "2026-01-05T18:00:00-23:59", "2026-01-05T24:00:00+01:00", "2026-01-05T18:00:60+01:00",
    "2026-01-05T18:00:00", "2026-01-05", "20260105T180000+0100", "2026-W02-1T18:00:00+01:00",
    "18:00", "soon", "1e5",
)  # fmt: skip
ZONES = ("Mars/Olympus", "/etc/passwd", "../../etc/passwd", "Europe", "UTC", "x" * 300)
IDS = ("5", "{0d6f0000-0000-4000-8000-000000000001}", "0D6F0000-0000-4000-8000-00000000000A",
       "urn:uuid:0d6f0000-0000-4000-8000-000000000002", "0d6f" * 8)  # fmt: skip
TURNS: tuple[dict[str, Any], ...] = (
    {"what": "began"}, {"what": "ended"},
    {"what": "swap_lift", "entry": 2, "lift": "push-up", "why": "taken"},
    {"what": "add_lift", "lift": "push-up"}, {"what": "skip_lift", "entry": 2, "why": "no time"},
    {"what": "short_of_time", "minutes": 20, "left_out": "push-up"},
    {"what": "machine_taken", "entry": 2},
    {"what": "hurts", "entry": 2, "lift": "push-up", "where": "elbow", "pain": 4},
    {"what": "note", "text": "good"},
)  # fmt: skip


def _sound(lifter: Lifter) -> Iterator[dict[str, Any]]:
    yield people.set_event(lifter)
    yield people.checkin_event(lifter)
    yield from (people.session_event(lifter, dict(said)) for said in TURNS)


def _leaves(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    for key, one in value.items():
        yield (*path, key)
        if isinstance(one, dict):
            yield from _leaves(one, (*path, key))


def _with(event: dict[str, Any], path: tuple[str, ...], value: Any) -> dict[str, Any]:
    changed = copy.deepcopy(event)
    if path != ("id",):
        changed["id"] = str(uuid4())
    table = changed
    for key in path[:-1]:
        table = table[key]
    if value is _with:
        table.pop(path[-1], None)
    else:
        table[path[-1]] = value
    return changed


def _values(path: tuple[str, ...], before: Any, first: bool) -> Iterator[tuple[str, Any]]:
    if isinstance(before, str) or before is None:
        yield from TEXTS.items()
    if isinstance(before, int | float) or before is None:
        yield from NUMBERS.items()
    yield from TYPES.items()
    if first and path[-1] in ("at", "began"):
        yield from ((text, text) for text in TIMES)
    if first and path[-1] == "zone":
        yield from ((text, text) for text in ZONES)
    if first and path[-1] in ("id", "device", "lifter", "amends"):
        yield from ((text, text) for text in IDS)


def odd_events(lifter: Lifter) -> Iterator[tuple[str, Any]]:
    """Each with what is odd about it. The keys every kind has are bent in sets only."""
    for at, event in enumerate(_sound(lifter)):
        kind = str(event["kind"])
        name = event[kind].get("what", kind)
        for path in _leaves(event):
            if at and path[0] != kind:
                continue
            before = event
            for key in path:
                before = before[key]
            yield f"{name} without {'.'.join(path)}", _with(event, path, _with)
            for told, value in _values(path, before, at == 0):
                yield f"{name} {'.'.join(path)}: {told}", _with(event, path, value)
        for place in ((), (kind,), *(((("plan",)),) if at == 0 else ())):
            for told in ("half an emoji", "nul", "long", "whole emoji"):
                yield f"{name} odd key {place}: {told}", _with(event, (*place, TEXTS[told]), 1)
            yield f"{name} more keys {place}", _with(event, (*place, "seq"), {"by": [1, 2]})
    yield from (("no event", value) for value in (None, 3, "set", [], {}, [[]], True))
