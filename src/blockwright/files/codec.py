"""Engine values to JSON documents and back, and the documents' schemas, by the values' types.

A dataclass is an object with its fields in order; what differs from that stands in the tables
below. Reading trusts its document: it was checked against the schema, which the same types and
tables write.
"""

import types
from collections.abc import Callable, Container, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date
from functools import cache
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.training import Block
from blockwright.files.words import caution_json, reason_json

Schema = dict[str, Any]

KEYS: Mapping[str, Mapping[str, str]] = {
    "Session": {"day": "date"},
    "BlockDecision": {"verdict": "decision"},
    "Fate": {"verdict": "decision"},
    "StrengthPoint": {"day": "date", "used_kg": "sets_kg", "flagged_kg": "left_out_kg"},
    "LiftDone": {"planned": "sets_planned", "done": "sets_done"},
    "PredictionScore": {"inside": "inside80"},
    "WeekDone": {"load": "session_load"},
    "SessionLoad": {"days_known": "days", "total": "total_au", "strain": "strain_au"},
}
"""By type: fields that stand under another key."""

ABSENT: Mapping[str, frozenset[str]] = {
    "SetPlan": frozenset({"forecast_kg", "aim_low", "aim_high"}),
    "Block": frozenset({"coach_policy"}),
    "Reason": frozenset({"policy"}),
}
"""Fields left out of a document while they have their default."""

LATER: Mapping[str, frozenset[str]] = {"Week": frozenset({"ease"})}
"""Fields that documents of an older version lack; written always, never asked for."""

NAMED: Mapping[str, str] = {
    "Reason": "reason", "Caution": "caution", "SetPlan": "set", "Entry": "entry",
    "Session": "session", "Week": "week", "BlockDecision": "decision",
}  # fmt: skip
"""Types a schema defines once, by their name in `$defs`."""

_COUNT, _AMOUNT = {"minimum": 1}, {"minimum": 0}
BOUNDS: Mapping[str, Mapping[str, Schema]] = {
    "Block": {"revision": _COUNT, "weeks": {"minItems": 1}, "coach_policy": {
        "additionalProperties": {"type": ["number", "string", "boolean"]},
        "description": "The coach's policy values the block was made under; absent without a "
        "coach's file."}},
    "SolverReport": {"gap": _AMOUNT},
    "Week": {"week": _COUNT, "rir": _AMOUNT},
    "MuscleSets": dict.fromkeys(("direct", "indirect", "fractional", "floor", "ceiling"), _AMOUNT),
    "Session": {"session": _COUNT, "start_time": {"pattern": "^[0-2][0-9]:[0-5][0-9]$"},
              "minutes_available": _AMOUNT, "minutes_planned": _AMOUNT},
    "Entry": {"order": _COUNT, "rest_s": _AMOUNT, "sets": {"minItems": 1},
              "method": {"enum": ["straight", "rest-pause", "drop", "superset"]}},
    "SetPlan": {"load_kg": {"minimum": 0, "maximum": 2500},
              "reps_low": {"minimum": 1, "maximum": 1000},
              "reps_high": {"minimum": 1, "maximum": 1000, "description": "Not below reps_low."},
              "rir": {"minimum": 0, "maximum": 10}, "counts_as": _AMOUNT,
              "forecast_kg": {"items": {"type": "number", "minimum": 0}}},
}  # fmt: skip
"""What a field may be, beyond its type."""

LIFTER: Schema = {
    "type": "object",
    "required": ["name", "units", "gym"],
    "description": "The whole lifter file, normalised; keys as in the lifter file.",
}


def key_of(owner: type, name: str) -> str:
    """The key a field stands under."""
    return KEYS.get(owner.__name__, {}).get(name, name)


# -------------------------------------------------------------------------------------- to JSON


def to_json(value: Any) -> Any:
    """A value as JSON types; dates and floats as `json_text.plain` will write them."""
    return _WRITERS[type(value)](value)


class _Writers(dict[type, Callable[[Any], Any]]):
    """By type, how its values are written; found at first use."""

    def __missing__(self, kind: type) -> Callable[[Any], Any]:
        self[kind] = found = _writer(kind)
        return found


_WRITERS = _Writers()


def _writer(kind: type) -> Callable[[Any], Any]:
    if issubclass(kind, str | int | float) or kind is type(None):
        return _as_is
    if issubclass(kind, tuple | list):
        return lambda value: [_WRITERS[type(item)](item) for item in value]
    if issubclass(kind, Mapping):
        return lambda value: {key: _WRITERS[type(item)](item) for key, item in value.items()}
    if issubclass(kind, date):
        return lambda value: value.isoformat()
    if kind is Reason:
        return reason_json
    return caution_json if kind is Caution else object_json


def object_json(value: Any, without: Container[str] = ()) -> dict[str, Any]:
    """A dataclass as an object, some of its fields left to the caller."""
    found = {}
    for name, key, absent in _plan(type(value)):  # type: ignore[arg-type]
        item = getattr(value, name)
        if name not in without and (absent is MISSING or item != absent):
            found[key] = _WRITERS[type(item)](item)
    return found


@cache
def _plan(owner: Any) -> tuple[tuple[str, str, Any], ...]:
    """Each field, its key, and the value with which it is left out."""
    may_be_absent = ABSENT.get(owner.__name__, frozenset())
    return tuple(
        (f.name, key_of(owner, f.name), _default(f) if f.name in may_be_absent else MISSING)
        for f in fields(owner)
    )


def _default(each: "Field[Any]") -> Any:
    return each.default if each.default_factory is MISSING else each.default_factory()


# ------------------------------------------------------------------------------------ from JSON


def from_json(kind: Any, item: Any) -> Any:
    """The value of a checked document, or of a part of it; `kind` is its type."""
    return _reader(kind)(item)


@cache
def _reader(kind: Any) -> Callable[[Any], Any]:
    if is_dataclass(kind) and isinstance(kind, type):
        return _object_reader(kind)
    if kind is date:
        return date.fromisoformat
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType) and type(None) in inner:
        (known, *others) = [_reader(one) for one in inner if one is not type(None)]
        plainly = others or known is _as_is
        return _as_is if plainly else lambda item: None if item is None else known(item)
    if origin is tuple:
        each = _reader(inner[0])
        return tuple if each is _as_is else lambda item: tuple(map(each, item))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        value = _reader(inner[1])
        if value is _as_is:
            return _as_is
        return lambda item: {key: value(one) for key, one in item.items()}
    return _as_is


def _as_is(item: Any) -> Any:
    return item


def _object_reader(kind: type) -> Callable[[Any], Any]:
    hints = get_type_hints(kind)
    wanted = [(f.name, key_of(kind, f.name), _reader(hints[f.name])) for f in fields(kind)]

    def read(item: Mapping[str, Any]) -> Any:
        return kind(**{name: convert(item[key]) for name, key, convert in wanted if key in item})

    return read


# --------------------------------------------------------------------------------------- schema


def block_schema() -> Schema:
    """The JSON Schema of a `blockwright/block/1` document."""
    defined: dict[str, Schema] = {}
    body = _object_schema(Block, defined)
    body["properties"]["lifter"] = LIFTER
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A planned block: one revision, standing alone",
        **body,
        "required": ["format", *body["required"]],
        "properties": {"format": {"const": "blockwright/block/1"}, **body["properties"]},
        "$defs": defined,
    }


def _object_schema(kind: type, defined: dict[str, Schema]) -> Schema:
    hints, bounds = get_type_hints(kind), BOUNDS.get(kind.__name__, {})
    absent = ABSENT.get(kind.__name__, frozenset())
    properties = {
        key_of(kind, f.name): _schema(hints[f.name], defined, bare=f.name in absent)
        | bounds.get(f.name, {})
        for f in fields(kind)
        if f.name != "lifter"
    }
    unasked = absent | LATER.get(kind.__name__, frozenset())
    required = [key_of(kind, f.name) for f in fields(kind) if f.name not in unasked]
    if kind in (Reason, Caution):
        properties["says"] = {"type": "string"}
        required.append("says")
    return {
        "type": "object",
        "required": required,
        "properties": properties,
        "additionalProperties": False,
    }


_PLAIN: Mapping[Any, str] = {
    str: "string", int: "integer", float: "number", bool: "boolean", type(None): "null",
}  # fmt: skip


def _schema(kind: Any, defined: dict[str, Schema], *, bare: bool = False) -> Schema:
    """A type's schema; `bare`: without null, since an absent field says that."""
    if kind in _PLAIN:
        return {"type": _PLAIN[kind]}
    if kind is date:
        return {"type": "string", "format": "date"}
    if name := NAMED.get(getattr(kind, "__name__", "")):
        if name not in defined:
            defined[name] = {}
            defined[name] = _object_schema(kind, defined)
        return {"$ref": f"#/$defs/{name}"}
    if is_dataclass(kind) and isinstance(kind, type):
        return _object_schema(kind, defined)
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Literal:
        return {"enum": list(inner)}
    if origin in (Union, types.UnionType):
        known = [one for one in inner if not (bare and one is type(None))]
        if len(known) == 1:
            return _schema(known[0], defined)
        words = [word for one in known for word in get_args(one)]
        if words:
            return {"enum": [*words, None]}
        return {"type": [_PLAIN[one] for one in known]}
    if origin is tuple:
        found: Schema = {"type": "array", "items": _schema(inner[0], defined)}
        return found if inner[1:] == (...,) else found | _exactly(len(inner))
    items = _schema(inner[1], defined) if is_dataclass(inner[1]) else None
    return {"type": "object"} | ({} if items is None else {"additionalProperties": items})


def _exactly(count: int) -> Schema:
    return {"minItems": count, "maxItems": count}
