"""Cells of a CSV file to values: numbers, ranges, parts, yes and no, and whose row it is. A cell
that cannot be used raises `CellError` with what is wrong and the mend; the reader adds the place.
What had to be assumed is told to `Assumptions`, once a kind."""

import re
import unicodedata
from collections.abc import Iterator
from typing import TypeVar

from blockwright.engine.errors import MOST_TOLD, BadInput, Problem, told
from blockwright.engine.units import Unit, number_text
from .csv_text import CsvFile

Value = TypeVar("Value")

_NUMBER = re.compile(r"([+-]?)(\d{1,12})(?:([.,])(\d{0,20}))?\s*(kgs?|kilos?|lbs?|pounds?)?", re.I)
_MONTH = re.compile(r"\b(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)", re.I)
_DASH = re.compile(r"\s*[-–—]\s*")
_YES = frozenset({"yes", "y", "true", "1", "x"})
_NO = frozenset({"no", "n", "false", "0"})
_UNITS: dict[str, Unit] = {
    "kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
}  # fmt: skip


class CellError(Exception):
    """A cell that cannot be used: what is wrong with it and the mend."""

    def __init__(self, says: str, mend: str) -> None:
        super().__init__(says)
        self.says = says
        self.mend = mend

    def at(self, file: str, row: int, column: str) -> Problem:
        return Problem(file=file, row=row, column=column, says=self.says, mend=self.mend)


class Assumptions:
    """What a reader assumed about a file, each kind once, with the row where it began."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.row = 0
        """The row being read."""
        self._made: dict[tuple[str, str], Problem] = {}

    def make(self, column: str, kind: str, says: str, mend: str) -> None:
        if (column, kind) not in self._made:
            self._made[column, kind] = Problem(
                file=self.file, row=self.row, column=column, says=says, mend=mend
            )

    @property
    def warnings(self) -> list[Problem]:
        return list(self._made.values())


def rows_of(
    csv_file: CsvFile, assume: Assumptions, problems: list[Problem]
) -> Iterator[tuple[int, list[str]]]:
    """Row number and cells, one after another, until the problems found fill the message; at the
    end BadInput with all of them, where there are any."""
    for place, (row, cells) in enumerate(csv_file.rows, 1):
        assume.row = row
        yield row, cells
        if len(problems) >= MOST_TOLD:
            if left := len(csv_file.rows) - place:
                says = f"the {left} rows after this one were not looked at"
                mend = "mend these first, then look again"
                problems.append(Problem(says, mend, csv_file.file, row, stands_for=left))
            break
    BadInput.raise_any(problems)


def number_of(
    text: str, column: str, assume: Assumptions, low: float, high: float, unit: str = ""
) -> float:
    """A plain number from `low` to `high`; a decimal comma is read and said."""
    number, typed_unit = number_and_unit(text, column, assume)
    if typed_unit is not None:
        raise CellError(f'"{text}" is not a number', "write the number alone")
    return within(number, text, low, high, unit)


def within(number: float, text: str, low: float, high: float, unit: str = "") -> float:
    if low <= number <= high:
        return number
    said = f" {unit}" if unit else ""
    mend = "check the number and its unit" if unit else "check the number"
    if number < 0 <= low:
        mend = "write it without a minus"
    raise CellError(f"{text} is outside {number_text(low)} to {number_text(high)}{said}", mend)


def number_and_unit(text: str, column: str, assume: Assumptions) -> tuple[float, Unit | None]:
    """A number such as "82.5", "82,5" or "185 lb", and the unit that stands behind it."""
    cleaned = text.replace("\u00a0", " ").replace("\u2212", "-").strip()
    match = _NUMBER.fullmatch(cleaned)
    if match is None:
        mend = "write a plain number, decimals with a point"
        raise CellError(f'"{text[:40]}" is not a number', mend)
    sign, whole, mark, decimals, unit = match.groups()
    if mark == ",":
        if len(decimals) == 3 and whole.strip("0"):
            says = f'"{text}" can be read as {whole}.{decimals} and as {whole}{decimals}'
            mend = "write decimals with a point and thousands without any mark"
            raise CellError(says, mend)
        assume.make(column, "comma", f'"{text}" is read with a decimal comma', "read so")
    number = float(f"{sign}{whole}.{decimals or 0}")
    return number, _UNITS[unit.lower()] if unit else None


def whole_of(
    text: str, column: str, assume: Assumptions, low: int, high: int, unit: str = ""
) -> int:
    """A whole number from `low` to `high`; "8.0" counts as 8."""
    number = number_of(text, column, assume, low, high, unit)
    if number != int(number):
        mend = f"write {int(number)} or {int(number) + 1}"
        raise CellError(f"{text} is not a whole number", mend)
    return int(number)


def unit_of(text: str) -> Unit | None:
    """kg or lb, None for an empty cell."""
    word = text.strip().lower().rstrip(".")
    if not word:
        return None
    unit = _UNITS.get(word)
    if unit is None:
        raise CellError(f'"{text[:40]}" is not a unit', "write kg or lb")
    return unit


def yes_or_no(text: str, default: bool) -> bool:
    word = text.strip().lower()
    if not word:
        return default
    if word in _YES:
        return True
    if word in _NO:
        return False
    raise CellError(f'"{text[:40]}" is neither yes nor no', "write yes or no")


def rir_of(text: str, assume: Assumptions) -> tuple[float, float] | None:
    """RIR as (low, high): a whole or half number, a range "1-2"; None for an empty cell."""
    said = text.strip()
    if not said:
        return None
    if _MONTH.search(said):
        says = f'a spreadsheet has turned a range such as 1-2 into the date "{said}"'
        raise CellError(says, "write the range anew, with the cells set to text")
    ends = _DASH.split(said) if said[0] not in "-\u2212–" else [said]
    if len(ends) > 2:
        raise CellError(f'"{text[:40]}" is not a range', 'write a number or a range such as "1-2"')
    numbers = sorted(_half_of(end, assume) for end in ends)
    return numbers[0], numbers[-1]


def _half_of(text: str, assume: Assumptions) -> float:
    number, typed_unit = number_and_unit(text, "rir", assume)
    if typed_unit is not None:
        raise CellError(f'"{text}" is not a number of repetitions', "write the number alone")
    if number < 0:
        raise CellError(f"{text} is below zero", "0 is failure; write 0 or more")
    if number * 2 != int(number * 2):
        raise CellError(f"{text} is finer than one can feel", "write whole or half repetitions")
    return number


def parts_of(text: str) -> list[str]:
    """The parts of a rest-pause or drop set: "15+4+4" is three; a plain cell is one."""
    parts = [part.strip() for part in text.split("+")]
    if len(parts) > 1 and not parts[0]:
        parts = parts[1:]
        parts[0] = f"+{parts[0]}"
    if any(not part.lstrip("+") for part in parts) and len(parts) > 1:
        raise CellError(f'"{text[:40]}" lacks a part', "write every part: 15+4+4+3")
    return parts


def rows_again(
    file: str, column: str | None, rows: list[tuple[int, int]], says: str, mend: str
) -> list[Problem]:
    """One warning for rows that stand again, at the first of them."""
    if not rows:
        return []
    row, first = rows[0]
    more = f" ({len(rows)} such rows)" if len(rows) > 1 else ""
    said = says.format(first=first) + more
    return [Problem(file=file, row=row, column=column, says=said, mend=mend)]


def name_key(name: str) -> str:
    """What two spellings of one person's name share: capitals and spaces do not matter."""
    return unicodedata.normalize("NFKC", " ".join(name.split())).casefold()


class LifterNames:
    """The people of one file. A column that is empty throughout is one person without a name; a
    name spelt in two ways is one person, called as in the lifter file or else as it came first."""

    def __init__(self, csv_file: CsvFile, asks: str, known_as: str | None = None) -> None:
        """`asks` is the question put where a name is missing."""
        at = csv_file.columns.index("lifter") if "lifter" in csv_file.columns else None
        typed = {cells[at] for _, cells in csv_file.rows if at is not None and at < len(cells)}
        self._file, self._asks = csv_file.file, asks
        self._keys = {key for text in typed if (key := name_key(text))}
        self._spelt = {name_key(known_as): known_as} if known_as else {}
        self._others: dict[str, tuple[str, int]] = {}

    @property
    def is_one(self) -> bool:
        return len(self._keys) <= 1

    def named(self, text: str, row: int) -> str | None:
        """The person of a row; CellError where others are named and this row is not."""
        name = " ".join(text.split())
        if not name:
            if self._keys:
                raise CellError(self._asks, "name the lifter in every row, or in none")
            return None
        taken = self._spelt.setdefault(name_key(name), name)
        if name != taken:
            self._others.setdefault(name, (taken, row))
        return taken

    def warnings(self) -> list[Problem]:
        """Spellings that were taken for another one."""
        mend = "write the name in one way, or tell two people apart"
        found = [
            Problem(f'"{n}" is taken for "{taken}", one person', mend, self._file, row, "lifter")
            for n, (taken, row) in self._others.items()
        ]
        return list(told(found))
