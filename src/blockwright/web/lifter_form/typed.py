"""A lifter file to what stands in the form, and what was typed back to a file's table."""

import re
from collections.abc import Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from blockwright.engine.errors import Problem
from blockwright.files.lifter_fields import Field
from blockwright.web.lifter_form.fields import NotThat, Rows, Typed, typed_of, value_of
from blockwright.web.lifter_form.sections import fields, rows
from blockwright.web.lifter_form.spread import gather, spread

WAS = "was"
"""Of a row: its number in the file that was opened, so that keys the form does not know stay."""
_ROW = re.compile(r"(\d{1,4})\.(.+)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Filled:
    """The file's table as far as it could be made, and what was in the way."""

    table: dict[str, Any]
    places: Mapping[str, str]
    """The form's field by the reader's key, where they differ."""
    problems: tuple[Problem, ...]


def typed_from(file: Mapping[str, Any]) -> dict[str, list[str]]:
    """What stands in the form of a lifter file."""
    table = spread(file)
    typed = {field.key: typed_of(field, _at(table, field.key)) for field in fields()}
    for part in rows():
        for n, row in enumerate(_at(table, part.key) or [], 1):
            for field in part.fields:
                typed[f"{part.key}.{n}.{field.key}"] = typed_of(field, _at(row, field.key))
            typed[f"{part.key}.{n}.{WAS}"] = [str(n)]
    return typed


def filled(typed: Typed, base: Mapping[str, Any]) -> Filled:
    """The table of a form whose rows are `compacted`; `base` is the file it was made from, whose
    keys the form does not ask for stay as they are."""
    before = spread(base)
    table = spread(base)
    problems: list[Problem] = []
    for field in fields():
        _take(table, field, field.key, typed, problems)
    for part in rows():
        made = [_row(part, n, typed, before, problems) for n in row_numbers(typed, part)]
        _put(table, part.key, made or None)
    places, more = gather(table, base)
    return Filled(table, places, (*problems, *more))


def compacted(typed: Typed) -> dict[str, list[str]]:
    """The same without empty rows, the others numbered 1, 2, 3 as the file's reader counts."""
    kept = {field.key: list(typed.get(field.key, ())) for field in fields()}
    for part in rows():
        n = 0
        for old in row_numbers(typed, part):
            names = [*(field.key for field in part.fields), WAS]
            row = {name: list(typed.get(f"{part.key}.{old}.{name}", ())) for name in names}
            if any(text.strip() for name in names[:-1] for text in row[name]):
                n += 1
                kept |= {f"{part.key}.{n}.{name}": texts for name, texts in row.items()}
    return kept


def row_numbers(typed: Typed, part: Rows) -> list[int]:
    """The numbers of the rows of one part, rising."""
    known = {field.key for field in part.fields} | {WAS}
    before = f"{part.key}."
    found = set()
    for name in typed:
        match = _ROW.fullmatch(name[len(before) :]) if name.startswith(before) else None
        if match and match[2] in known:
            found.add(int(match[1]))
    return sorted(found)


def _row(
    part: Rows, n: int, typed: Typed, before: Mapping[str, Any], problems: list[Problem]
) -> dict[str, Any]:
    old = _row_before(typed.get(f"{part.key}.{n}.{WAS}", ()), _at(before, part.key) or [])
    row = dict(old)
    for field in part.fields:
        _take(row, field, f"{part.key}.{n}.{field.key}", typed, problems)
    return row


def _row_before(was: Sequence[str], rows_before: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """The row of the opened file that stands in this one; empty for a new row."""
    number = int(was[0]) if was and was[0].isdecimal() else 0
    return deepcopy(rows_before[number - 1]) if 1 <= number <= len(rows_before) else {}


def _take(
    table: dict[str, Any], field: Field, name: str, typed: Typed, problems: list[Problem]
) -> None:
    """Puts what was typed in place of what the opened file said."""
    before = _at(table, field.key)
    try:
        value = value_of(field, typed.get(name, ()))
    except NotThat as error:
        value = None
        problems.append(Problem(key=name, says=error.args[0], mend=error.args[1]))
    if field.kind == "checks" and isinstance(before, list):
        # Boxes have an order of their own: what was ticked before keeps the file's.
        value = sorted(value, key=lambda one: before.index(one) if one in before else len(before))
    _put(table, field.key, value)


def _at(table: Mapping[str, Any], key: str) -> Any:
    """The value under a dotted key, or None."""
    name, _, rest = key.partition(".")
    value = table.get(name)
    return value if not rest else _at(value, rest) if isinstance(value, dict) else None


def _put(table: dict[str, Any], key: str, value: Any) -> None:
    """Sets a dotted key; None takes it away. A table that stays empty is none."""
    name, _, rest = key.partition(".")
    if rest:
        inner = dict(table.get(name) or {})
        _put(inner, rest, value)
        value = inner or None
    if value is None:
        table.pop(name, None)
    else:
        table[name] = value
