"""Days as columns: dates in one row, or the days of a month by their numbers."""

import datetime as dt
import itertools
import re
from collections.abc import Sequence
from dataclasses import replace

from blockwright.files.importing.days import When, day_of_cell, day_of_month
from blockwright.files.importing.grids import Cell
from blockwright.files.importing.headings import Column

_DAY_NUMBER = re.compile(r"\d{1,2}")
_DAY_AND_PLAN = re.compile(r"(\d{1,2})\.?(?:\s*\(?(plan\w*|target|goal)\)?)?", re.I)


def with_day_numbers(cells: Sequence[Cell]) -> Sequence[Cell]:
    """Days of the month behind dates in one row ("28 Jan | 4 | 11"), as the dates they are."""
    days = [day_of_cell(cell) for cell in cells]
    if sum(day is not None for day in days) < 2 or None not in days:
        return cells
    found, last = [], None
    for cell, day in zip(cells, days, strict=True):
        match = _DAY_AND_PLAN.fullmatch(cell.text)
        if day is not None and day.readings[0][0]:
            last = dt.date(*(part or 1 for part in day.readings[0]))
        elif match and last is not None and (next_day := _next_day(last, int(match[1]))):
            last = next_day
            text = f"{'plan ' if match[2] else ''}{last.isoformat()}"
            cell = replace(cell, value=text, text=text)
        found.append(cell)
    return found


def days_across(cells: Sequence[Cell], month: str) -> dict[int, Column]:
    """Columns headed by the days of the month that the tab names."""
    numbers = [int(cell.text) for cell in cells if _DAY_NUMBER.fullmatch(cell.text)]
    rising = all(0 < a < b <= 31 for a, b in itertools.pairwise(numbers))
    if len(numbers) < 2 or len(numbers) < len(cells) - 1 or not rising:
        return {}
    return {
        cell.column: Column("cell", when=When(day_of_month(month, cell.text)))
        for cell in cells
        if _DAY_NUMBER.fullmatch(cell.text)
    }


def _next_day(last: dt.date, number: int) -> dt.date | None:
    """The next day of that number after a date."""
    month = last if number > last.day else last.replace(day=28) + dt.timedelta(days=4)
    try:
        return month.replace(day=number)
    except ValueError:
        return None
