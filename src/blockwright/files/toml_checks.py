"""Reads a TOML table field by field and collects what is wrong, each with its dotted key.

A reader asks a `Table` for every field it knows and calls `close()`; whatever was not asked for is
an unknown key. Nothing is raised until all was looked at, so a person sees every problem of a file
at once."""

import math
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from pathlib import Path
from typing import Any, TypeVar

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.units import number_text, plain_number
from .limits import MOST_TOML_BYTES, read_limited, refuse_deep_keys, require_storable
from .near import did_you_mean, listed

Word = TypeVar("Word", bound=str)

_KIND_WORDS = {
    bool: "true or false",
    int: "a number",
    float: "a number",
    str: "text in quotes",
    list: "a list",
    dict: "a table",
    date: "a date",
    datetime: "a date with a time",
    time: "a time of day",
}
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})")
_TOML_PLACE = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)$")


@dataclass
class Findings:
    file: str | None
    errors: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)

    def error(self, key: str | None, says: str, mend: str) -> None:
        self.errors.append(Problem(file=self.file, key=key or None, says=says, mend=mend))

    def warning(self, key: str | None, says: str, mend: str) -> None:
        self.warnings.append(Problem(file=self.file, key=key or None, says=says, mend=mend))


# Control characters but line ends and tabs, and halves of a pair: no database keeps them all.
_UNPRINTABLE = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")


class Table:
    """One table of a TOML (or JSON) file; `place` is its dotted key, "" for the file itself."""

    def __init__(self, values: Mapping[str, Any], place: str, findings: Findings) -> None:
        self.values = values
        self.place = place
        self.findings = findings
        self._asked: dict[str, None] = {}

    def key(self, name: str) -> str:
        return f"{self.place}.{name}" if self.place else name

    def raw(self, name: str) -> Any:
        """The value under `name` unchecked, or None; marks the key as known."""
        self._asked[name] = None
        return self.values.get(name)

    def has(self, name: str) -> bool:
        return self.raw(name) is not None

    def error(self, name: str, says: str, mend: str) -> None:
        self.findings.error(self.key(name), says, mend)

    def warning(self, name: str, says: str, mend: str) -> None:
        self.findings.warning(self.key(name), says, mend)

    def text(self, name: str) -> str | None:
        """A text that says something, without outer spaces; None when absent or wrong."""
        value = self._of_kind(name, str, f'write text in quotes: {name} = "..."')
        if value is None:
            return None
        if not value.strip():
            self.error(name, "is empty", "write something between the quotes or leave the key out")
            return None
        if _UNPRINTABLE.search(value):
            self.error(name, "holds a character that cannot be printed", "type it anew")
            return None
        return str(value.strip())

    def word(self, name: str, choices: Sequence[Word]) -> Word | None:
        """One word of `choices`; capitals and what joins its parts do not matter."""
        value = self._of_kind(name, str, f"write {listed(f'{word!r}' for word in choices)}")
        return None if value is None else self._choice(name, value, choices)

    def words_of(self, name: str, choices: Sequence[Word]) -> tuple[Word, ...]:
        """The words of a list, each once; what is none of `choices` is an error of its place."""
        found = (
            self._choice(f"{name}.{place}", typed, choices)
            for place, typed in enumerate(self.words(name), 1)
        )
        return tuple(dict.fromkeys(word for word in found if word is not None))

    def by_word(self, known: Sequence[str], what: str) -> "Table":
        """The same table with its keys as `known` writes them; a key that is no such word, or that
        stands twice, is an error."""
        found: dict[str, Any] = {}
        for typed, value in self.values.items():
            word = "_".join(typed.lower().split())
            if word not in known:
                mend = did_you_mean(word, known, f"write {listed(known)}", 2)
                self.error(typed, f'"{typed}" is not {what}', mend)
            elif word in found:
                self.error(typed, f'"{word}" stands twice', "keep one")
            else:
                found[word] = value
        return Table(found, self.place, self.findings)

    def number(self, name: str, low: float, high: float, unit: str = "") -> float | None:
        """A finite number from `low` to `high`."""
        value = self._of_kind(name, float, f"write {name} = and a plain number, without quotes")
        if value is None or self._is_outside(name, value, low, high, unit):
            return None
        return float(value)

    def whole(self, name: str, low: int, high: int, unit: str = "") -> int | None:
        """A whole number from `low` to `high`."""
        value = self._of_kind(name, float, f"write a whole number without quotes: {name} = {low}")
        if value is None or self._is_outside(name, value, low, high, unit):
            return None
        if value != int(value):
            self.error(
                name, f"{value} is not a whole number", f"write {int(value)} or {int(value) + 1}"
            )
            return None
        return int(value)

    def switch(self, name: str) -> bool | None:
        mend = f"write {name} = true or {name} = false, without quotes"
        found: bool | None = self._of_kind(name, bool, mend)
        return found

    def day(self, name: str) -> date | None:
        """A date: bare in TOML, ISO text in JSON."""
        value = self.raw(name)
        if value is None:
            return None
        mend = f"write the date as year-month-day: {name} = 2027-01-04"
        if isinstance(value, str):
            try:
                value = date.fromisoformat(value.strip())
            except ValueError:
                self.error(name, f'"{value}" is not a date of the calendar', mend)
                return None
        if isinstance(value, datetime) or not isinstance(value, date):
            self._wrong_kind(name, value, mend)
            return None
        if not 1990 <= value.year <= 2100:
            self.error(name, f"{value} is not in a year we can believe", mend)
            return None
        return value

    def minute_of_day(self, name: str) -> int | None:
        """A time HH:MM as minutes after midnight."""
        value = self.raw(name)
        if value is None:
            return None
        if isinstance(value, time):
            return value.hour * 60 + value.minute
        match = _CLOCK.fullmatch(value.strip()) if isinstance(value, str) else None
        if match and int(match[1]) < 24 and int(match[2]) < 60:
            return int(match[1]) * 60 + int(match[2])
        said = f'"{value}"' if isinstance(value, str) else str(value)
        self.error(name, f"{said} is not a time of day", f'write hours:minutes: {name} = "06:30"')
        return None

    def words(self, name: str) -> tuple[str, ...]:
        """A list of texts; a single text counts as a list of one."""
        value = self.raw(name)
        if value is None:
            return ()
        if isinstance(value, str):
            value = [value]
        if not isinstance(value, list):
            self._wrong_kind(name, value, f'write a list of texts: {name} = ["...", "..."]')
            return ()
        return tuple(
            item.strip()
            for place, item in enumerate(value, 1)
            if self._is_text_item(f"{name}.{place}", item)
        )

    def numbers(self, name: str, low: float, high: float, unit: str = "") -> tuple[float, ...]:
        """A list of finite numbers from `low` to `high`; a single number is a list of one."""
        value = self.raw(name)
        if value is None:
            return ()
        items = value if isinstance(value, list) else [value]
        inner = Table({str(place): item for place, item in enumerate(items, 1)}, self.key(name),
                      self.findings)  # fmt: skip
        read = [inner.number(place, low, high, unit) for place in inner.values]
        return tuple(number for number in read if number is not None)

    def table(self, name: str) -> "Table":
        """The table under `name`; an empty one when absent or wrong."""
        value = self._of_kind(name, dict, f"write it as a table: [{self.key(name)}]")
        return Table(value or {}, self.key(name), self.findings)

    def tables(self, name: str) -> list["Table"]:
        """The tables under `name`, counted from 1; a single table is a list of one."""
        value = self.raw(name)
        if value is None:
            return []
        mend = f"write one [[{self.key(name)}]] heading for each"
        items = [value] if isinstance(value, dict) else value
        if not isinstance(items, list):
            self._wrong_kind(name, value, mend)
            return []
        found: list[Table] = []
        for place, item in enumerate(items, 1):
            if isinstance(item, dict):
                found.append(Table(item, self.key(f"{name}.{place}"), self.findings))
            else:
                self._wrong_kind(f"{name}.{place}", item, mend)
        return found

    def need(self, name: str, mend: str) -> None:
        if self.raw(name) is None:
            self.error(name, "is missing", mend)

    def close(self) -> None:
        """Records every key that nobody asked for, with the nearest known name."""
        for name in self.values:
            if name not in self._asked:
                self.error(
                    name,
                    "is not a key of this place" if self.place else "is not a key of this file",
                    did_you_mean(name, self._asked, f"known here: {', '.join(self._asked)}"),
                )

    def _choice(self, name: str, typed: str, choices: Sequence[Word]) -> Word | None:
        said = _joined(typed)
        for choice in choices:
            if _joined(choice) == said:
                return choice
        mend = did_you_mean(typed, choices, f"write {listed(choices)}")
        self.error(name, f'"{typed}" is not a word that {name.partition(".")[0]} takes', mend)
        return None

    def _is_text_item(self, name: str, item: object) -> bool:
        if isinstance(item, str) and item.strip():
            return True
        self.error(name, f"{item!r} is not a text", 'write each as text in quotes: "..."')
        return False

    def _of_kind(self, name: str, kind: type, mend: str) -> Any:
        """The value where it is of that kind; a whole number may stand for a float. None where it
        is absent or of another, which is then an error."""
        value = self.raw(name)
        if value is None or type(value) is kind or (kind is float and type(value) is int):
            return value
        self._wrong_kind(name, value, mend)
        return None

    def _wrong_kind(self, name: str, value: object, mend: str) -> None:
        is_kind = next((said for kind, said in _KIND_WORDS.items() if type(value) is kind), "this")
        self.error(name, f"{is_kind} cannot stand here", mend)

    def _is_outside(self, name: str, value: float, low: float, high: float, unit: str) -> bool:
        if isinstance(value, float) and not math.isfinite(value):
            self.error(name, f"{value} is not a number one can use", "write a plain number")
            return True
        if low <= value <= high:
            return False
        said = f" {unit}" if unit else ""
        shown = plain_number(value) if abs(value) < 1e9 else "this number"
        self.error(
            name,
            f"{shown}{said} is outside {number_text(low)} to {number_text(high)}{said}",
            "check the number and its unit" if unit else "check the number",
        )
        return True


def _joined(word: str) -> str:
    return " ".join(word.lower().replace("_", " ").split())


def load_toml(path: Path) -> dict[str, Any]:
    """The tables of a TOML file; BadInput with line and mend when it cannot be read."""
    data = read_limited(path, MOST_TOML_BYTES)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data[: error.start].count(b"\n") + 1
        says = "holds a character that is not UTF-8"
        mend = "save the file as UTF-8 (in the editor's save dialogue)"
        raise BadInput.of(says, mend, file=path.name, row=row) from error
    if not text.strip():
        raise BadInput.of("is empty", "write the file, or name the right one", file=path.name)
    refuse_deep_keys(text, path.name)
    try:
        table = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise BadInput(_toml_problem(path.name, text, error)) from error
    require_storable(table, path.name)
    return table


def _toml_problem(file: str, text: str, error: Exception) -> Problem:
    """What is wrong with a file that is not TOML, at its line, in a person's words."""
    message = str(error)
    place = _TOML_PLACE.search(message)
    row = int(place[1]) if place and place[1] else None
    line = text.splitlines()[row - 1].strip() if row and row <= len(text.splitlines()) else ""
    return Problem(
        file=file,
        row=row or (None if place is None else len(text.splitlines())),
        says=f"this line cannot be read: {line[:60]}" if line else "the file ends too early",
        mend=_toml_mend(message, line),
    )


def _toml_mend(message: str, line: str) -> str:
    value = line.partition("=")[2].strip()
    if "overwrite" in message or "twice" in message:
        return "this key or table stands twice: keep one"
    if re.fullmatch(r"-?\d+,\d+", value):
        return "write decimals with a point: 81.5"
    if "Invalid date" in message:
        return "write a date of the calendar: 2027-01-04"
    if re.match(r"[A-Za-z]", value) and value not in {"true", "false"}:
        return 'put text in quotes: name = "Ana"; write true and false without them'
    if line and "=" not in line and not line.startswith("["):
        return "every line is key = value, a [table] heading or a # comment"
    return "check that quotes and brackets are closed and that each line is key = value"
