"""Which column of a scale's or a watch's export is which measure: named, or guessed by heading."""

import re
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import cast, get_args

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import GIRTHS, Measure
from blockwright.files.near import did_you_mean
from .days import Day, day_of_value, read_day, serial_day
from .grids import Cell, Grid
from .headings import role_of
from .words import UNIT, one_of, without_accents

DATE = "date"
MEASURES: tuple[Measure, ...] = tuple(
    measure for measure in get_args(Measure) if measure not in ("sore", "pain", "machines")
)
"""What a column can hold; the others need a place or a lift, which a column does not name."""
_MOST_ROWS_ABOVE = 20  # Rows of titles an export may have above its headings (judgement)
_UNIT = re.compile(
    rf"{UNIT.pattern}|\b(?:(?P<min>mins?|minutes|minuten)|"
    r"(?P<h>h|hrs?|hours?|std|stunden|ore|horas|heures))\b"
)
_IN_BRACKETS = re.compile(rf"[(\[](?:in )?(?:{_UNIT.pattern})[)\]]")
_LENGTH = re.compile(
    r"[(\[,]? ?(?:in )?\b(?P<unit>cms?|in|inch(?:es)?|centimet(?:er|re)s?)\.?[)\]]?$"
)
"""The unit a girth's heading ends with."""
_FORMS: dict[Measure, re.Pattern[str]] = {
    measure: re.compile(one_of(measure, "measures"))
    for measure in ("bodyweight", "steps", "sleep_h")
}
_GIRTH = re.compile(r"(?P<part>[a-z]+?)s?(?: (?:girth|circumference|size|measurement))?")
_WAIST = re.compile(one_of("waist", "measures"))
_CLOCK_BEHIND = re.compile(r"(?<=\d)[ T,]+\d{1,2}:\d{2}.*$", re.S)
_PLAIN_SLEEP = re.compile(one_of("plain_sleep", "measures"))


@dataclass(frozen=True, slots=True)
class Taken:
    """A column that was taken, and as what."""

    key: str  # `date` or the measure
    heading: str
    at: int  # The column, counted from 0
    unit: str = ""  # kg, lb, h, min, cm or in, as the heading says; empty where it does not

    @property
    def measure(self) -> Measure:
        """The measure; of no use where `key` is `date`."""
        return cast("Measure", self.key)


def header_of(grid: Grid, named: Mapping[str, str]) -> tuple[int, tuple[Taken, ...]]:
    """The place of the headings among the grid's rows, and the columns taken, the date first."""
    first = range(min(len(grid.rows), _MOST_ROWS_ABOVE))
    if named:
        known = {at: _known(grid.rows[at], named.values()) for at in first}
        at = max(first, key=lambda at: (known[at], len(grid.rows[at]), -at))
        taken = _named(grid, at, named)
    else:
        guesses = {at: _guessed(grid.rows[at]) for at in first}
        at = max(first, key=lambda at: (len(guesses[at]), len(grid.rows[at]), -at))
        taken = guesses[at]
    if not any(one.key == DATE for one in taken):
        taken = [*taken, *_date_column(grid, at, {one.at for one in taken})]
    if not any(one.key == DATE for one in taken):
        raise _refused(grid, at, "no column of dates was found", "date=Date")
    if all(one.key == DATE for one in taken):
        says = "no column of bodyweight, steps, hours asleep or a girth was found by its heading"
        raise _refused(grid, at, says, 'bodyweight="Weight (kg)"')
    return at, tuple(sorted(taken, key=lambda one: (one.key != DATE, one.at)))


def _refused(grid: Grid, at: int, says: str, example: str) -> BadInput:
    mend = f"name it: --column {example}; the columns are: {_headings(grid.rows[at])}"
    return BadInput(Problem(file=grid.file, row=_row(grid, at), says=says, mend=mend))


def _headings(row: Iterable[Cell]) -> str:
    return ", ".join(cell.text[:40] for cell in row)


def _row(grid: Grid, at: int) -> int:
    return grid.rows[at][0].row + 1


def _known(row: Iterable[Cell], named: Iterable[str]) -> int:
    texts = {_folded(cell.text) for cell in row}
    return sum(_folded(name) in texts for name in named)


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def _named(grid: Grid, at: int, named: Mapping[str, str]) -> list[Taken]:
    """The columns with the names given; BadInput names every one that is not there."""
    row, taken, problems = grid.rows[at], [], []
    for key, name in named.items():
        found = [cell for cell in row if _folded(cell.text) == _folded(name)]
        if len(found) == 1:
            text = found[0].text
            unit = _length(_plain(text)) if key in GIRTHS else _unit(text)
            taken.append(Taken(key, text, found[0].column, unit))
            continue
        says = f'there is no column "{name}"'
        mend = did_you_mean(name, (cell.text for cell in row), f"the columns are: {_headings(row)}")
        if found:
            says, mend = f'"{name}" stands over {len(found)} columns', "rename all but one of them"
        problems.append(Problem(file=grid.file, row=_row(grid, at), says=says, mend=mend))
    if problems:
        raise BadInput(problems)
    return taken


def _date_column(grid: Grid, at: int, others: Container[int]) -> list[Taken]:
    """The column most of whose cells below the headings are dates: one called so, or the first."""
    below = grid.rows[at + 1 : at + 101]
    found = []
    for head in grid.rows[at]:
        cells = [cell for row in below for cell in row if cell.column == head.column]
        dates = sum(read_date(cell) is not None for cell in cells)
        if head.column not in others and dates * 2 > len(below):
            found.append(Taken(DATE, head.text, head.column))
    called = [one for one in found if role_of(one.heading) == DATE]
    return (called or found)[:1]


def read_date(cell: Cell | None) -> Day | None:
    """The written day of a date column's cell, without its time of day."""
    if cell is None:
        return None
    text = _CLOCK_BEHIND.sub("", cell.text)
    return day_of_value(cell.value) or serial_day(cell.value) or read_day(text)


def _guessed(row: Sequence[Cell]) -> list[Taken]:
    """The measures that headings name beyond doubt, each once; none beside a column of lifts,
    where a weight is a load."""
    found: dict[str, Taken] = {}
    if any(role_of(cell.text) == "lift" for cell in row):
        return []
    for cell in row:
        said = _plain(cell.text)
        bare = " ".join(_IN_BRACKETS.sub(" ", said).split())
        unit = _unit(cell.text)
        for measure, forms in _FORMS.items():
            if forms.fullmatch(bare):
                found.setdefault(measure, Taken(measure, cell.text, cell.column, unit))
        if _PLAIN_SLEEP.fullmatch(bare) and unit in ("h", "min"):
            # "Sleep" alone may as well be a score, or an answer of 1 to 7.
            found.setdefault("sleep_h", Taken("sleep_h", cell.text, cell.column, unit))
        if girth := _girth(said):
            found.setdefault(girth, Taken(girth, cell.text, cell.column, _length(said)))
    return list(found.values())


def _girth(heading: str) -> Measure | None:
    """The girth a plain heading names beyond doubt: a waist, or a part with a unit of length or a
    word for girth; "chest" alone may be a muscle."""
    bare = _LENGTH.sub("", heading).strip()
    if bare == "waist" or _WAIST.fullmatch(bare):
        return "waist"
    match = _GIRTH.fullmatch(bare)
    if match is None or (bare == heading and " " not in bare):
        return None
    part = match["part"]
    return next(
        (one for one in GIRTHS if part == one.rstrip("s")), "calf" if part == "calve" else None
    )


def _plain(text: str) -> str:
    """A heading in plain small letters: "TotalMinutesAsleep" is "total minutes asleep"."""
    apart = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text).replace("_", " ")
    return " ".join(without_accents(apart.lower()).split()).strip(" :.*")


def _length(heading: str) -> str:
    match = _LENGTH.search(heading)
    return "" if match is None else "in" if match["unit"].startswith("in") else "cm"


def _unit(heading: str) -> str:
    match = _UNIT.search(_plain(heading))
    return (match.lastgroup or "") if match else ""
