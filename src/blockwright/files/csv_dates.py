"""Dates and times as people and spreadsheets write them, to a `Moment`.

ISO is read as it is. Excel serial numbers and dates with one possible reading are read and the
assumption said; a date with two readings (03/04/2027) is refused. The forms are an imported sheet's
(`importing.days`, looked at only where a date is not ISO), the year written out."""

import re
from datetime import date, datetime, time, timedelta

from blockwright.engine.training import Moment
from .csv_values import Assumptions, CellError
from .limits import FIRST_YEAR, LAST_YEAR

_EXCEL_DAY_ZERO = date(1899, 12, 30)
_MEND = "write year-month-day: 2027-01-31 or 2027-01-31 18:30"

_CLOCK = re.compile(
    r"(\d{1,2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?\s*([ap]\.?m\.?)?\s*(z|utc|[+-]\d{2}:?\d{2})?", re.I
)
_DAY_AND_CLOCK = re.compile(r"(.+?)(?:[T\s,]\s*(\d{1,2}:.*))?", re.I | re.S)
_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_SERIAL = re.compile(r"(\d{5})(?:[.,](\d+))?")


def moment_of(text: str, assume: Assumptions) -> Moment:
    """The moment a cell names; raises CellError for nonsense and for two possible readings."""
    said = text.strip()
    if match := _SERIAL.fullmatch(said):
        return _from_serial(said, int(match[1]), match[2], assume)
    match = _DAY_AND_CLOCK.fullmatch(said)
    if match is None:
        raise CellError("the date is missing", _MEND)
    day = _iso(match[1]) or _in_another_form(said, match[1], assume)
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise CellError(f"{said[:40]} is not in a year we can believe", _MEND)
    at = match[2] and datetime.combine(day, _time_of(said, match[2], assume))
    return Moment(day=day, at=at or None)


def _iso(text: str) -> date | None:
    match = _ISO.fullmatch(text)
    try:
        return date(*map(int, match.groups())) if match else None
    except ValueError:
        raise CellError(f'"{text}" is not a date of the calendar', _MEND) from None


def _in_another_form(said: str, text: str, assume: Assumptions) -> date:
    """A date with one reading that is not written the ISO way: read, and said once a form."""
    from .importing.days import read_day

    found = read_day(text)
    if found is None or not re.search(r"\d{4}", text):
        says = "is not a date" if found is None else "has no year of four digits"
        raise CellError(f'"{said[:40]}" {says}', _MEND)
    days = [date(year or 0, month, day) for year, month, day in found.readings]
    if len(days) > 1:
        either = " or ".join(map(str, days))
        raise CellError(f'"{text}" can be {either}', f"write the one you mean: {days[0]}")
    form = re.sub(r"[a-z]+", "a", re.sub(r"\d", "0", said.lower()))[:12]
    assume.make("when", form, f'"{said}" is read as {days[0]}', "read so")
    return days[0]


def _from_serial(text: str, days: int, fraction: str | None, assume: Assumptions) -> Moment:
    day, at = _EXCEL_DAY_ZERO + timedelta(days=days), None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise CellError(f"{text} is not in a year we can believe", _MEND)
    if fraction is not None and fraction.strip("0"):
        seconds = round(float(f"0.{fraction}") * 86_400)
        at = datetime.combine(day, time()) + timedelta(seconds=seconds)
    says = f"{text} is read as the spreadsheet's number for {day}"
    assume.make("when", "serial", says, "read so")
    return Moment(day=day, at=at)


def _time_of(text: str, clock: str, assume: Assumptions) -> time:
    match = _CLOCK.fullmatch(clock.strip())
    if match is None:
        raise CellError(f'"{text[:40]}" does not end in a time of day', _MEND)
    hour, minute, second = int(match[1]), int(match[2]), int(match[3] or 0)
    if match[4]:
        if not 1 <= hour <= 12:
            raise CellError(f'"{clock.strip()}" is not a time of day', _MEND)
        hour = hour % 12 + (12 if match[4].lower().startswith("p") else 0)
    if match[5]:
        says = f'"{text}" names a time zone; the time is taken as written'
        assume.make("when", "zone", says, "read so")
    try:
        return time(hour, minute, second)
    except ValueError:
        raise CellError(f'"{clock.strip()}" is not a time of day', _MEND) from None
