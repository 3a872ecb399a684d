"""What a sheet tells: entries and skipped cells; and what is read off it besides its rows."""

import itertools
import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from blockwright.engine.units import Unit
from .cells import read_cell
from .column_rules import WHEN_ROLES
from .days import Day, When, day_of_cell, read_when, serial_day, weekday_alone
from .grids import Cell, Grid
from .headings import Column
from .names import is_no_lift
from .told import OneSet, last_so
from .words import one_of

_LONGEST_TITLE = 40
_ASIDE = re.compile(r"\s*\(.*\)|[\s:]+$")
_START = re.compile(one_of("start"), re.I)


class Entry(NamedTuple):
    """Sets of one lift as a sheet tells them, with what it says of day, person and unit."""

    lift: str
    when: When
    lifter: str
    sets: tuple[OneSet, ...]
    unit: Unit | None
    place: str
    text: str  # The cells that told the sets, as they stand
    order: tuple[int, ...]
    dumbbells: bool = False  # Whether the sheet says that all is done with dumbbells
    rest: str = ""
    note: str = ""
    method: str = ""
    pain: str = ""


class Skipped(NamedTuple):
    """A cell that told no set: where, its text, and why."""

    place: str
    text: str
    why: str


def title_of(cells: Sequence[Cell]) -> str:
    """The text of a row that may name a lift and holds nothing else."""
    cell = cells[0]
    if len(cells) > 1 or not isinstance(cell.value, str) or len(cell.text) > _LONGEST_TITLE:
        return ""
    plain = not read_when(cell) and not read_cell(cell.text) and not is_no_lift(cell.text)
    return cell.text if plain else ""


def anchor_of(grid: Grid, week: int) -> When | None:
    """The day on which the block began, where a cell says so: "Start date" beside a date."""
    days = (day for cells in grid.rows if (day := start_in(cells)))
    return next((When(week=week, start=day) for day in days), None)


def start_in(cells: Sequence[Cell]) -> Day | None:
    """The day that a row calls the block's first."""
    for label, beside in itertools.pairwise(cells):
        if _calls_a_start(label.text):
            return day_of_cell(beside)
    return None


@lru_cache(maxsize=32768)
def _calls_a_start(text: str) -> bool:
    return _START.fullmatch(_ASIDE.sub("", text)) is not None


def dated(cell: Cell, head: Column | None) -> When:
    """What a cell says of the day, read as its column asks."""
    if head is None or head.role not in WHEN_ROLES:
        return read_when(cell)
    is_week = head.role == "week" and day_of_cell(cell) is None
    if is_week and (number := re.search(r"\d{1,2}", cell.text)):
        return When(week=int(number[0]), start=day_of_cell(cell, inside=True))
    if day := day_of_cell(cell, inside=True):
        return When(day)
    if head.role == "date" and (serial := serial_day(cell.value)):
        return When(serial)
    if head.role == "day" and re.fullmatch(r"\d{1,2}", cell.text):
        return When(session=int(cell.text))
    return weekday_alone(cell.text) or read_when(cell)


def week_column(label: When, heading: When, first_week: int | None) -> When:
    """The day of a labelled column in a row below a heading.

    Under "Mon 7 June" the column of the first week is that Monday, the next one a week on."""
    if label.day is not None and heading.weekday is not None and label.day.weekday is None:
        # Under the day of each week's column the rows are grouped by weekday.
        label = label._replace(day=None, start=label.day)
    when = label.over(heading)
    dated = heading.day is not None or heading.start is not None
    if label.week is None or label.day is not None or label.start is not None or not dated:
        return when
    on = label.week - (first_week or label.week)
    if heading.day is not None:
        return When(day=heading.day, weeks_on=on)
    return heading._replace(week=None, weeks_on=on)


def with_drop(entries: Sequence[Entry], row: Entry) -> Entry | None:
    """The last entry with a row that is called a drop as the end of its last set; None where that
    is another lift's, day's or person's, or no heavier."""
    above = entries[-1] if entries else None
    same = above and (above.lift, above.when, above.lifter) == (row.lift, row.when, row.lifter)
    if above is None or not same or len(row.sets) > 1:
        return None
    first, then = above.sets[-1], row.sets[0]
    if not (first.weights and then.weights and then.weights[0].amount < first.weights[-1].amount):
        return None
    weights = first.weights if len(first.weights) > 1 else first.weights * len(first.reps)
    reps, weights = first.reps + then.reps, weights + then.weights
    return above._replace(sets=last_so(above.sets, reps=reps, weights=weights, rir=then.rir))
