"""The kinds of field, and how what is typed becomes a value of the file and back."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from blockwright.engine.units import number_text
from blockwright.files.lifter_fields import Field, Kind

Typed = Mapping[str, Sequence[str]]
"""What stands in a form: field name to what was typed or ticked."""

_NUMBER = re.compile(r"[+-]?\d{1,12}([.,]\d{1,12})?")
_PLACES = 6
"""As `files.json_text` rounds."""
_BETWEEN = re.compile(r";\s*|,?\s+")


class NotThat(ValueError):
    """What was typed has no value of the field's kind; `args` are `says` and `mend`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """A part of the file that may stand there many times. A row without a word is no row."""

    key: str
    one: str
    """What one is called."""
    fields: tuple[Field, ...]
    spare: int = 1
    """Empty rows to write in."""
    hint: str = ""
    many: str = ""
    """What several are called, where it is not `one` with an s."""

    @property
    def several(self) -> str:
        return self.many or f"{self.one}s"

    def called(self, count: int) -> str:
        """ "1 bar", "2 runs of dumbbells"."""
        return f"{count} {self.one if count == 1 else self.several}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the form that a coach reads as one."""

    key: str
    title: str
    says: tuple[str, ...] = ()
    fields: tuple[Field, ...] = ()
    rows: tuple[Rows, ...] = ()
    folds: bool = False
    """Whether it stays shut until somebody wants it."""


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
