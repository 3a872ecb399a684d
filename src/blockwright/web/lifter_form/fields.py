"""The kinds of field, how what is typed becomes a value of the file and back; and what the form
asks, part by part, in a coach's words. The fields are the lifter file's."""

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Any

from blockwright.engine.units import number_text
from blockwright.files.lifter_fields import FIELDS, PARTS, Field, Kind, of_row
from blockwright.files.vocabulary import vocabulary

Typed = Mapping[str, Sequence[str]]  # What stands in a form: field name to what was typed or ticked

_NUMBER = re.compile(r"[+-]?\d{1,12}([.,]\d{1,12})?")
_PLACES = 6  # As `files.json_text` rounds
_BETWEEN = re.compile(r";\s*|,?\s+")


class NotThat(ValueError):
    """What was typed has no value of the field's kind; `args` are `says` and `mend`."""


@dataclass(frozen=True, slots=True)
class Rows:
    """A part of the file that may stand there many times. A row without a word is no row."""

    key: str
    one: str  # What one is called
    fields: tuple[Field, ...]
    spare: int = 1  # Empty rows to write in
    hint: str = ""
    many: str = ""  # What several are called, where it is not `one` with an s

    @property
    def several(self) -> str:
        return self.many or f"{self.one}s"

    def called(self, count: int) -> str:
        """ "1 bar", "2 runs of dumbbells"."""
        return f"{count} {self.one if count == 1 else self.several}"


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the form that a coach reads as one."""

    key: str
    title: str
    says: tuple[str, ...] = ()
    fields: tuple[Field, ...] = ()
    rows: tuple[Rows, ...] = ()
    folds: bool = False  # Whether it stays shut until somebody wants it


def number(text: str) -> float | int:
    """A number as people write it, comma or point. Raises NotThat."""
    if _NUMBER.fullmatch(text) is None:
        raise NotThat(f'"{text[:40]}" is not a number', "write a plain number, such as 81.5")
    value = float(text.replace(",", "."))
    return int(value) if value == int(value) else value


def _answer(text: str) -> bool:
    return text == "yes"


def _numbers(text: str) -> list[float | int]:
    """Numbers with spaces between; a comma before a space, or a semicolon, parts them too."""
    return [number(part) for part in _BETWEEN.split(text) if part]


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


_VALUES: dict[Kind, Callable[[str], Any]] = {
    "number": number,
    "answer": _answer,
    "lines": _lines,
    "numbers": _numbers,
}


def value_of(field: Field, typed: Sequence[str]) -> Any:
    """The value in the file; None where nothing was said. Raises NotThat."""
    if field.kind == "checks":
        return list(typed)
    if field.kind == "switch":
        return bool(typed)
    text = typed[0].strip() if typed else ""
    if field.kind == "lines":
        return _lines(text)
    if not text:
        return None
    return _VALUES.get(field.kind, str)(text)


def typed_of(field: Field, value: Any) -> list[str]:
    """What stands in the form for a value of the file: the inverse of `value_of`."""
    if field.kind == "switch":
        return ["yes"] if value else []
    if field.kind == "checks":
        return [str(one) for one in value or ()]
    if value is None:
        return [field.usual]
    return [_text(field, value)]


def _text(field: Field, value: Any) -> str:
    if field.kind == "answer":
        return "yes" if value else "no"
    if field.kind == "lines":
        return "\n".join(value)
    if field.kind == "numbers":
        return " ".join(number_text(one, _PLACES) for one in value)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return number_text(value, _PLACES)
    return str(value)


def _asked(*keys: str) -> tuple[Field, ...]:
    return tuple(_open(FIELDS[key]) for key in keys)


def _open(field: Field) -> Field:
    """The field as the form asks it: what may stay open has an empty choice, and a count of a
    few is a choice too."""
    if field.empty:
        return replace(field, choices=(("", field.empty), *field.choices))
    if field.key == "weeks" and field.low is not None and field.high is not None:
        counts = range(int(field.low), int(field.high) + 1)
        return replace(field, choices=tuple((str(n), str(n)) for n in counts))
    return field


def _row(key: str) -> tuple[Field, ...]:
    return tuple(map(_open, of_row(key)))


def _kit(key: str, label: str, words: Iterable[str]) -> Field:
    choices = tuple((word, word) for word in words)
    return Field(key=key, label=label, kind="checks", choices=choices)


_ROWS = {
    "policy": (
        Field(key="key", label="Which", suggest="policy_keys"),
        Field(key="value", label="Value", hint="a number, a word, yes or no"),
    ),
    "gym.plates": (
        Field(key="mass", label="One plate", hint="20, or 45 lb"),
        Field(key="pairs", label="Pairs", kind="number"),
    ),
}
"""Rows the lifter file writes as pairs: their two cells are the form's own."""
_KIT = (
    *_asked("gym.assumed"),
    _kit("gym.kit", "Free kit", vocabulary().free_kit),
    _kit("gym.kit_machines", "Machines", vocabulary().machines),
    Field(key="gym.kit_other", label="Other kit, one a line", kind="lines",
          hint="A machine of an own lift bears the name of that lift."),
)  # fmt: skip
"""One list of the file, asked in three."""


@cache
def sections() -> tuple[Section, ...]:
    """Every part of the form, in the order of the page: form.toml says which."""
    form = tomllib.loads(resources.files(__package__).joinpath("form.toml").read_text("utf-8"))
    rows = {
        key: Rows(key, fields=_ROWS.get(key) or _row(key), **said)
        for key, said in form["rows"].items()
    }
    parts = {**PARTS, "kit": _KIT}
    return tuple(
        Section(
            part["key"],
            part["title"],
            tuple(part.get("says", ())),
            parts[part["part"]] if "part" in part else _asked(*part.get("asks", ())),
            tuple(rows[key] for key in part.get("rows", ())),
            folds=part.get("folds", False),
        )
        for part in form["section"]
    )


@cache
def fields() -> tuple[Field, ...]:
    return tuple(field for section in sections() for field in section.fields)


@cache
def rows() -> tuple[Rows, ...]:
    return tuple(one for section in sections() for one in section.rows)
