"""Dates and times as people and spreadsheets write them, to a `Moment`.

ISO is read as it is. Excel serial numbers and dates with one possible reading are read and the
assumption said; a date with two readings (03/04/2027) is refused.
"""

import re
from datetime import date, datetime, time, timedelta

from blockwright.engine.training import Moment
from blockwright.files.csv_values import Assumptions, CellError

FIRST_YEAR, LAST_YEAR = 1990, 2100
"""Years outside are typing errors or a spreadsheet's empty date (judgement)."""

_EXCEL_DAY_ZERO = date(1899, 12, 30)
_MEND = "write year-month-day: 2027-01-31 or 2027-01-31 18:30"

_CLOCK = re.compile(
    r"(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?\s*([ap]\.?m\.?)?\s*(z|utc|[+-]\d{2}:?\d{2})?", re.I
)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})(?:[T\s,]\s*(.*))?", re.I)
_YEAR_FIRST = re.compile(r"(\d{4})([/.])(\d{1,2})\2(\d{1,2})(?:[T\s,]\s*(.*))?", re.I)
_COMPACT = re.compile(r"(\d{4})(\d{2})(\d{2})")
_YEAR_LAST = re.compile(r"(\d{1,2})([/.-])(\d{1,2})\2(\d{4})(?:,?\s+(.*))?")
_SHORT_YEAR = re.compile(r"\d{1,2}([/.-])\d{1,2}\1\d{2}(\s.*)?")
_SERIAL = re.compile(r"(\d{5})(?:[.,](\d+))?")
_DAY_MONTH = re.compile(r"(\d{1,2})\.?[\s-]+([a-z]{3,9})\.?,?[\s-]+(\d{4})(?:,?\s+(.*))?", re.I)
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.?\s+(\d{1,2}),?\s+(\d{4})(?:,?\s+(.*))?", re.I)
_MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september",
    "october", "november", "december",
)  # fmt: skip


def moment_of(text: str, assume: Assumptions) -> Moment:
    """The moment a cell names; raises CellError for nonsense and for two possible readings."""
    said = text.strip()
    if not said:
        raise CellError("the date is missing", _MEND)
    if match := _ISO.fullmatch(said):
        return _moment(text, (match[1], match[2], match[3]), match[4], assume)
    if match := _SERIAL.fullmatch(said):
        return _from_serial(text, int(match[1]), match[2], assume)
    if match := _YEAR_LAST.fullmatch(said):
        return _year_last(text, match, assume)
    if match := _YEAR_FIRST.fullmatch(said):
        return _other(text, (match[1], match[3], match[4]), match[5], assume)
    if match := _COMPACT.fullmatch(said):
        return _other(text, (match[1], match[2], match[3]), None, assume)
    if match := _DAY_MONTH.fullmatch(said):
        return _other(text, (match[3], _month(text, match[2]), match[1]), match[4], assume)
    if match := _MONTH_DAY.fullmatch(said):
        return _other(text, (match[3], _month(text, match[1]), match[2]), match[4], assume)
    if _SHORT_YEAR.fullmatch(said):
        raise CellError(f'"{said}" has a year of two digits', _MEND)
    raise CellError(f'"{said[:40]}" is not a date', _MEND)


def _year_last(text: str, match: re.Match[str], assume: Assumptions) -> Moment:
    """31/01/2027 or 01/31/2027; refused where day and month could be either."""
    first, second = int(match[1]), int(match[3])
    if first <= 12 and second <= 12 and first != second:
        one = f"{match[4]}-{second:02d}-{first:02d}"
        other = f"{match[4]}-{first:02d}-{second:02d}"
        raise CellError(f'"{match[0]}" can be {one} or {other}', f"write the one you mean: {one}")
    day, month = (match[1], match[3]) if second <= 12 else (match[3], match[1])
    return _other(text, (match[4], month, day), match[5], assume)


def _other(
    text: str, parts: tuple[str, str, str], clock: str | None, assume: Assumptions
) -> Moment:
    """A date with one reading that is not written the ISO way: read, and said once a form."""
    moment = _moment(text, parts, clock, assume)
    form = re.sub(r"[a-z]+", "a", re.sub(r"\d", "0", text.strip().lower()))[:12]
    assume.make("when", form, f'"{text.strip()}" is read as {moment.day}', "read so")
    return moment


def _from_serial(text: str, days: int, fraction: str | None, assume: Assumptions) -> Moment:
    day = _checked(_EXCEL_DAY_ZERO + timedelta(days=days), text)
    at = None
    if fraction is not None and fraction.strip("0"):
        seconds = round(float(f"0.{fraction}") * 86_400)
        at = datetime.combine(day, time()) + timedelta(seconds=seconds)
    says = f"{text.strip()} is read as the spreadsheet's number for {day}"
    assume.make("when", "serial", says, "read so")
    return Moment(day=day, at=at)


def _moment(
    text: str, parts: tuple[str, str, str], clock: str | None, assume: Assumptions
) -> Moment:
    year, month, day = (int(part) for part in parts)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise CellError(f"{text.strip()[:40]} is not in a year we can believe", _MEND)
    try:
        found = date(year, month, day)
    except ValueError:
        raise CellError(f'"{text.strip()[:40]}" is not a date of the calendar', _MEND) from None
    if clock is None or not clock.strip():
        return Moment(day=found)
    return Moment(day=found, at=datetime.combine(found, _time_of(text, clock, assume)))


def _time_of(text: str, clock: str, assume: Assumptions) -> time:
    match = _CLOCK.fullmatch(clock.strip())
    if match is None:
        raise CellError(f'"{text.strip()[:40]}" does not end in a time of day', _MEND)
    hour, minute, second = int(match[1]), int(match[2]), int(match[3] or 0)
    if match[4]:
        if not 1 <= hour <= 12:
            raise CellError(f'"{clock.strip()}" is not a time of day', _MEND)
        hour = hour % 12 + (12 if match[4].lower().startswith("p") else 0)
    if match[5]:
        says = f'"{text.strip()}" names a time zone; the time is taken as written'
        assume.make("when", "zone", says, "read so")
    try:
        return time(hour, minute, second)
    except ValueError:
        raise CellError(f'"{clock.strip()}" is not a time of day', _MEND) from None


def _checked(day: date, text: str) -> date:
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise CellError(f"{text.strip()[:40]} is not in a year we can believe", _MEND)
    return day


def _month(text: str, word: str) -> str:
    """The number of a month named by word or by its first letters."""
    for number, month in enumerate(_MONTHS, 1):
        if month.startswith(word.lower()) or word.lower() == "sept" == month[:4]:
            return str(number)
    raise CellError(f'"{text.strip()[:40]}" is not a date', _MEND)
