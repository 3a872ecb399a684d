"""Days told by their number alone ("Tue 6") in a sheet whose title or heading names the month."""

import datetime as dt
import re
from dataclasses import replace

from .days import MONTH, MONTHS, WEEKDAY, WEEKDAYS, is_month
from .grids import Grid
from .headings import role_of
from .words import without_accents

_NUMBERED = re.compile(
    rf"(?P<weekday>{WEEKDAY})\b\.?,?\s*(?:the )?(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?", re.I
)
_MONTH = re.compile(
    rf"(?<![^\W\d_])(?P<month>{MONTH})(?![^\W\d_])\.?(?:\s+(?:de\s+)?|\s*[,/'-]\s*)?(?P<year>20\d\d)?",
    re.I,
)
_BARE_DAY = re.compile(r"(?P<weekday>)(?P<day>[1-9]|[12]\d|3[01])")
_YEAR_AND_MONTH = re.compile(
    r"(?P<y>20\d\d)[-./](?P<m>0?[1-9]|1[0-2])|(?P<n>0?[1-9]|1[0-2])[-./](?P<z>20\d\d)"
)
_MOST_SESSIONS = 7  # A higher number than the days of a week counts no sessions of one
_SURE_MONTH = 4  # A month of fewer letters may be another word where no year stands behind it
_TOP_ROWS = 4
_MOST_MONTHS_ON = 3


def with_days_of_months(grid: Grid) -> Grid:
    """The sheet with each day that is told by its number ("Tue 6", or 6 below "Day") as that of
    the month named above it, in the tab or in the file's name. A number that is not on its weekday
    stays as it stands."""
    begun = (text for text in grid.texts if text[0].isalpha())
    columns = _columns_of_days(grid)
    if not columns and not any(_NUMBERED.fullmatch(without_accents(text)) for text in begun):
        return grid
    month, rows = _named(grid.title) or _named(grid.file.rpartition(".")[0].replace("_", " ")), []
    last: dt.date | None = None
    for at, row in enumerate(grid.rows):
        if at < _TOP_ROWS or len(row) == 1:
            named = next((found for cell in row if (found := _named(cell.text))), None)
            month, last = (named, None) if named else (month, last)
        told = []
        for cell in row:
            match = _NUMBERED.fullmatch(without_accents(cell.text))
            if not match and cell.column in columns and cell.text.isdecimal():
                match = _BARE_DAY.fullmatch(cell.text)
            if match and month:
                weekday = WEEKDAYS.get(match["weekday"].lower()) if month[1] else None
                first = last or dt.date(month[1] or 2024, month[0], 1)
                if day := next_day(first, int(match["day"]), weekday):
                    text = f"{match['weekday'] or ''} {day.day}.{day.month}.".strip()
                    last, cell = day, cell.saying(day.isoformat() if month[1] else text)
            told.append(cell)
        rows.append(tuple(told))
    return replace(grid, rows=tuple(rows))


def _columns_of_days(grid: Grid) -> set[int]:
    """Columns called a day over rising numbers of which some are no session's of a week."""
    cells = [cell for row in grid.rows[: 2 * _TOP_ROWS] for cell in row if cell.text.isalpha()]
    heads = [cell for cell in cells if role_of(cell.text) in ("day", "date")]
    found = set()
    for head in heads:
        below = (c for row in grid.rows[head.row + 1 :] for c in row if c.column == head.column)
        numbers = [int(cell.text) for cell in below if _BARE_DAY.fullmatch(cell.text)]
        # Sessions begin with the first; the tab of a month may hold one day.
        days = numbers[-1:] > [_MOST_SESSIONS] or (is_month(grid.title) and numbers[:1] > [1])
        if days and sorted(numbers) == numbers:
            found.add(head.column)
    return found


def _named(text: str) -> tuple[int, int | None] | None:
    """The month and the year that a title names; of several the first."""
    if _NUMBERED.fullmatch(text):
        return None
    if match := _YEAR_AND_MONTH.fullmatch(text.strip()):
        return int(match["m"] or match["n"]), int(match["y"] or match["z"])
    for match in _MONTH.finditer(without_accents(text)):
        if match["year"] or len(match["month"]) >= _SURE_MONTH or match[0].strip() == text.strip():
            return MONTHS[match["month"].lower()], int(match["year"]) if match["year"] else None
    return None


def next_day(first: dt.date, number: int, weekday: int | None = None) -> dt.date | None:
    """The first day of that number, from one on, that is on its weekday."""
    for on in range(_MOST_MONTHS_ON):
        years, at = divmod(first.month - 1 + on, 12)
        try:
            day = dt.date(first.year + years, at + 1, number)
        except ValueError:
            continue
        if day >= first and weekday in (None, day.weekday()):
            return day
    return None
