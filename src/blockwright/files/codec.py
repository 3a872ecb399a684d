"""Engine values to JSON documents and back, and the documents' schemas, by the values' types. A
dataclass is an object with its fields in order; what differs from that stands in the tables of
`data/codec.toml`. Reading trusts its document: it was checked against the schema, which the same
types and tables write."""

import types
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import MISSING, Field, dataclass, fields, is_dataclass, replace
from datetime import date
from functools import cache
from operator import attrgetter
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from blockwright.engine.reasons import Caution, Reason
from .json_text import plain
from .reading import shipped
from .words import reason_says, why_json

Wider = TypeVar("Wider")
Schema = dict[str, Any]
_TABLES = shipped("codec.toml")
KEYS: Mapping[str, Mapping[str, str]] = _TABLES["keys"]
FLAT: Mapping[str, Mapping[str, Mapping[str, str] | None]] = {
    owner: {name: None if parts == "all" else parts for name, parts in fields.items()}
    for owner, fields in _TABLES["flat"].items()
}
ALSO: Mapping[str, Collection[str]] = _TABLES["also"]
SAID: Mapping[str, Collection[str]] = _TABLES["said"]
CODED: Mapping[str, Collection[str]] = _TABLES["coded"]
ABSENT: Mapping[str, Collection[str]] = _TABLES["absent"]
LATER: Mapping[str, Collection[str]] = _TABLES["later"]
NAMED: Mapping[str, str] = _TABLES["named"]


@cache
def bounds() -> Mapping[str, Mapping[str, Schema]]:
    """What a field may be, beyond its type."""
    found: Mapping[str, Mapping[str, Schema]] = shipped("documents.toml")
    return found


def key_of(owner: type, name: str) -> str:
    return KEYS.get(owner.__name__, {}).get(name, name)


# -------------------------------------------------------------------------------------- to JSON


def to_json(value: Any) -> Any:
    """A value as JSON types as it is stored and sent; dates and floats as `json_text.plain` has
    them."""
    return _WRITERS[type(value)](value)


class _Writers(dict[type, Callable[[Any], Any]]):
    """By type, how its values are written; found at first use."""

    def __missing__(self, kind: type) -> Callable[[Any], Any]:
        self[kind] = found = _writer(kind)
        return found


_WRITERS = _Writers()


def _writer(kind: type) -> Callable[[Any], Any]:
    if issubclass(kind, float | date):
        return plain
    if issubclass(kind, str | int) or kind is type(None):
        return _as_is
    if issubclass(kind, tuple | list):
        return lambda value: [_WRITERS[type(item)](item) for item in value]
    if issubclass(kind, Mapping):
        return lambda value: {str(key): _WRITERS[type(item)](item) for key, item in value.items()}
    return why_json if kind in (Reason, Caution) else object_json


def document(name: str, body: Any) -> dict[str, Any]:
    """The `blockwright/NAME/1` document of a body."""
    return {"format": f"blockwright/{name}/1", **to_json(body)}


def object_json(value: Any) -> dict[str, Any]:
    found = {}
    kind: Any = type(value)
    for part in parts_of(kind):
        item = part.get(value)
        if part.absent is ALWAYS or item != part.absent:
            found[part.key] = _WRITERS[type(item)](item)
    return found


def special(
    kind: type,
    write: Callable[[Any], Any],
    schema: Schema,
    read: Callable[[Any], Any] | None = None,
) -> None:
    """Says how values of a type are written (and read) that no table describes, their schema."""
    _WRITERS[kind], _SCHEMAS[kind] = lambda value: plain(write(value)), schema
    if read is not None:
        _READERS[kind] = read


_SCHEMAS: dict[type, Schema] = {}
_READERS: dict[type, Callable[[Any], Any]] = {}
ALWAYS: Any = object()  # Of a part that is never left out


def wider(value: Any, kind: Callable[..., Wider], **more: Any) -> Wider:
    """The value as a type that has some fields more."""
    return kind(**{each.name: getattr(value, each.name) for each in fields(value)}, **more)


# ---------------------------------------------------------------------------- parts of an object


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    key: str
    get: Callable[[Any], Any]  # The part of a value
    kind: Any
    bounds: Schema
    absent: Any = ALWAYS  # The value with which it is left out
    asked: bool = True  # Whether a document must have it


@cache
def parts_of(owner: Any) -> tuple[Part, ...]:
    found: list[Part] = []
    flat = FLAT.get(owner.__name__, {})
    for each in fields(owner):
        if each.name in flat:
            found += _flat_parts(owner, each.name, flat[each.name])
        else:
            found.append(_part(owner, each.name, key_of(owner, each.name)))
    coded = (_code_part(owner, name) for name in CODED.get(owner.__name__, ()))
    return (*found, *coded, *(_part(owner, name, name) for name in ALSO.get(owner.__name__, ())))


def _code_part(owner: type, name: str) -> Part:
    """The code beside a reason's sentence; documents of an older version lack it."""
    key, get = f"{key_of(owner, name)}_code", attrgetter(f"{name}.code")
    return Part(key=key, get=get, kind=str, bounds={}, asked=False)


def _part(owner: type, path: str, key: str) -> Part:
    """The part at a path of fields and properties."""
    *way, name = path.split(".")
    holder: Any = owner
    for step in way:
        holder = _kind_of(holder, step)
    kind, get = _kind_of(holder, name), attrgetter(path)
    if name in SAID.get(holder.__name__, ()):
        return Part(key=key, get=lambda value: reason_says(get(value)), kind=str, bounds={})
    each = next((one for one in fields(holder) if one.name == name), None)
    may_be_absent = each is not None and name in ABSENT.get(holder.__name__, ())
    return Part(
        key=key,
        get=get,
        kind=kind,
        bounds=bounds().get(holder.__name__, {}).get(name, {}),
        absent=_default(each) if each is not None and may_be_absent else ALWAYS,
        asked=not may_be_absent and name not in LATER.get(holder.__name__, ()),
    )


def _flat_parts(owner: type, name: str, picked: Mapping[str, str] | None) -> Iterator[Part]:
    """The parts of a field's object that stand in its owner; null where there is no object."""
    outer, kind = attrgetter(name), _kind_of(owner, name)
    some = [one for one in get_args(kind) if one is not type(None)]
    known = some[0] if get_origin(kind) in (Union, types.UnionType) and len(some) == 1 else kind
    inner = (
        parts_of(known)
        if picked is None
        else tuple(_part(known, path, key) for path, key in picked.items())
    )
    for part in inner:

        def get(value: Any, inner: Callable[[Any], Any] = part.get) -> Any:
            return None if (held := outer(value)) is None else inner(held)

        yield replace(part, get=get, kind=part.kind if known is kind else part.kind | None)


def _kind_of(owner: type, name: str) -> Any:
    found = getattr(owner, name, None)
    if isinstance(found, property):
        return get_type_hints(found.fget)["return"]
    return get_type_hints(owner)[name]


def _default(each: "Field[Any]") -> Any:
    return each.default if each.default_factory is MISSING else each.default_factory()


# ------------------------------------------------------------------------------------ from JSON


def from_json(kind: Any, item: Any) -> Any:
    """The value of a checked document, or of a part of it; `kind` is its type."""
    return _reader(kind)(item)


@cache
def _reader(kind: Any) -> Callable[[Any], Any]:
    if kind in _READERS:
        return _READERS[kind]
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


def document_schema(kind: type, name: str, title: str) -> Schema:
    """The JSON Schema of a `blockwright/NAME/1` document, whose body is of that type."""
    defined: dict[str, Schema] = {}
    body = _object_schema(kind, defined)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        **body,
        "required": ["format", *body["required"]],
        "properties": {"format": {"const": f"blockwright/{name}/1"}, **body["properties"]},
        "$defs": defined,
    }


def _object_schema(kind: type, defined: dict[str, Schema]) -> Schema:
    properties = {part.key: _part_schema(part, defined) for part in parts_of(kind)}
    required = [part.key for part in parts_of(kind) if part.asked]
    if kind in (Reason, Caution):
        properties["says"] = {"type": "string"}
        required.append("says")
    return {
        "type": "object",
        "required": required,
        "properties": properties,
        "additionalProperties": False,
    }


def _part_schema(part: Part, defined: dict[str, Schema]) -> Schema:
    found = _schema(part.kind, defined, bare=part.absent is not ALWAYS) | part.bounds
    if "enum" in part.bounds and type(None) in get_args(part.kind):
        found["enum"] = [None, *found["enum"]]  # TOML has no null
    return found


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
            defined[name] = _SCHEMAS.get(kind) or _object_schema(kind, defined)
        return {"$ref": f"#/$defs/{name}"}
    if kind in _SCHEMAS:
        return _SCHEMAS[kind]
    if is_dataclass(kind) and isinstance(kind, type):
        return _object_schema(kind, defined)
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Literal:
        return {"enum": list(inner)}
    if origin in (Union, types.UnionType):
        return _union_schema(inner, defined, bare=bare)
    if origin is tuple:
        found: Schema = {"type": "array", "items": _schema(inner[0], defined)}
        exactly = {"minItems": len(inner), "maxItems": len(inner)}
        return found if inner[1:] == (...,) else found | exactly
    items = _schema(inner[1], defined) if is_dataclass(inner[1]) else None
    return {"type": "object"} | ({} if items is None else {"additionalProperties": items})


def _union_schema(kinds: tuple[Any, ...], defined: dict[str, Schema], *, bare: bool) -> Schema:
    known = [one for one in kinds if not (bare and one is type(None))]
    if len(known) == 1:
        return _schema(known[0], defined)
    if all(one in _PLAIN for one in known):
        return {"type": [_PLAIN[one] for one in known]}
    if words := [word for one in known for word in get_args(one) if get_origin(one) is Literal]:
        return {"enum": [*words, None]}
    if any(get_origin(one) is not None for one in known):
        return _schema(known[0], defined) | {"type": ["object", "null"]}
    return {"anyOf": [_schema(one, defined) for one in known]}
