"""Dates as people write them in a log's cells, headings and tab names.

A written day may be complete, lack its year, or have two readings (03/04). `read_day` keeps all
readings; `draft` settles them over the whole file by order, weekday and the rest of the cells."""

import datetime as dt
import re
from functools import lru_cache
from typing import NamedTuple

from blockwright.files.limits import FIRST_YEAR, LAST_YEAR
from .grids import Cell, Value
from .words import numbered, one_of, without_accents

_EXCEL_DAY_ZERO = dt.date(1899, 12, 30)
MONTHS = numbered("months")
_BARE_WEEKDAYS = numbered("weekdays")
WEEKDAYS = numbered("weekdays_before_dates") | _BARE_WEEKDAYS
WEEKDAY = "|".join(sorted(WEEKDAYS, key=len, reverse=True))
_BARE = "|".join(sorted(_BARE_WEEKDAYS, key=len, reverse=True))
MONTH = "|".join(sorted(MONTHS, key=len, reverse=True))
_BEFORE = rf"(?:(?P<weekday>{WEEKDAY})\b\.?,?\s*)?"
_CLOCK = r"(?:[ T,]+\d{1,2}:\d{2}(?::\d{2})?(?:\.\d+)?\s*(?:am|pm)?)?"
_BEHIND = rf"(?:\s*[(\[,]\s*(?P<behind>{_BARE})\b\.?[)\]]?)?"
_YEAR = r"(?P<y>\d{4}|\d{2})"
_DAY = r"(?P<d>\d{1,2})"
_NAMED = rf"(?P<month>{MONTH})\b\.?"
_FORMS = tuple(
    re.compile(rf"(?<![\w.,/@-])(?<!@ ){_BEFORE}{form}{_CLOCK}{_BEHIND}(?![\w/]|[-.]\d)", re.I)
    for form in (
        rf"(?P<y>\d{{4}})[-./](?P<m>\d{{1,2}})[-./]{_DAY}",
        r"(?P<y>(?:19|20)\d\d)(?P<m>0[1-9]|1[0-2])(?P<d>[0-3]\d)",
        rf"(?P<a>\d{{1,2}})(?P<mark>[-./])(?P<b>\d{{1,2}})(?:(?P=mark){_YEAR})?\.?",
        rf"{_DAY}(?:st|nd|rd|th|\.)?[ -]*(?:of |d[eio] )?{_NAMED},?(?: de)?(?:[ -]*'?{_YEAR})?",
        rf"{_NAMED}[ -]*{_DAY}(?:st|nd|rd|th)?\b,?(?:[ /-]*'?{_YEAR}(?!:))?",
    )
)
_NAMED_BEHIND = re.compile(r"[.:,]*(?:\s+-)?\s+(?=[^\W\d])")
_WEEK = re.compile(rf"\b{one_of('week')}\s*[.#:]?\s*(?P<week>\d{{1,2}})\b", re.I)
_COMMENCING = re.compile(rf"\b{one_of('commencing')}\b", re.I)
_LETTERED = rf"{one_of('lettered')} +(?P<letter>[a-g])"
_SESSION = re.compile(
    rf"^(?:{one_of('session')}\s*[.#:]?\s*(?P<number>\d{{1,2}})|{_LETTERED})\b", re.I
)
_NO_DAY_BEHIND = re.compile(
    r"(?:\d\d|\b(?:energy|mood|sleep|slept|stress|motivation|fatigue|readiness|sore\w*|pain|effort|"
    r"rpe|feel\w*|felt|rating|score|recovery)\W*) $",
    re.I,
)
_DAY_NUMBER = re.compile(rf"(?:(?:{WEEKDAY})\b\.?,?\s*)?\d{{1,2}}(?:st|nd|rd|th|\.)?", re.I)
_BARE_WEEKDAY = re.compile(rf"(?:^|[(\[]\s*|\s-\s)(?P<weekday>{_BARE})\b\.?", re.I)
_WEEKDAY_BEHIND = re.compile(rf"[\s,:/-]*(?P<weekday>{_BARE})\b", re.I)
"""Of a week's number: "Week 1 Tue"."""


class Day(NamedTuple):
    """A written day. `readings` are (year, month, day), year None where it is not written;
    the first is day-month where both orders are possible."""

    readings: tuple[tuple[int | None, int, int], ...]
    weekday: int | None = None
    mark: str = ""
    order: str = ""  # `dm` or `md` where only one order of two numbers makes a day

    @property
    def is_open(self) -> bool:
        """Whether the order of day and month can be either."""
        return len(self.readings) > 1

    @property
    def day_of_week(self) -> int | None:
        """Its weekday, where it is written or its one reading has a year."""
        (year, month, day), *others = self.readings
        known = self.weekday is None and year is not None and not others
        return dt.date(year, month, day).weekday() if known and year else self.weekday

    def later(self, days: int, weekday: int) -> "Day":
        """The day so many days on, a weekday."""
        on = dt.timedelta(days=days)
        dates = [(y, dt.date(y or 2024, month, day) + on) for y, month, day in self.readings]
        readings = tuple((y and one.year, one.month, one.day) for y, one in dates)
        return Day(readings, weekday, self.mark, self.order)


class When(NamedTuple):
    """What headings, tabs and cells say of a session's day; empty fields are not said."""

    day: Day | None = None
    week: int | None = None
    weekday: int | None = None
    session: int | None = None
    start: Day | None = None
    """A day of the session's week: beside a week's label, or the last full day above."""
    weeks_on: int = 0  # Weeks after `day` or `start`: of a second week's column beside the first

    def over(self, outer: "When") -> "When":
        """This, with what it does not say taken from `outer`: a day within its week."""
        if self.day is not None or not outer:
            return self
        if not self:
            return outer
        inner_day = self.weekday is not None or self.session is not None
        if self.week is None and not inner_day and self.start is None:
            return outer
        new_week = self.week is not None and outer.week is not None and self.week != outer.week
        start = self.start or (None if new_week else outer.start or outer.day)
        if self.week is not None and outer.day is not None and not inner_day and self.start is None:
            # A week's column over a dated heading: that day, so many weeks on.
            return When(day=outer.day, week=self.week)
        return When(
            week=self.week if self.week is not None else outer.week,
            weekday=self.weekday if inner_day else outer.weekday,
            session=self.session if inner_day else outer.session,
            start=start,
        )

    def after(self, before: "When") -> "When":
        """This, in a sheet that runs on from `before`: a weekday below a day is its next one."""
        day = before.day
        if self.weekday is None or day is None or self != When(weekday=self.weekday):
            return self.over(before)
        on = (self.weekday - day.day_of_week) % 7 if day.day_of_week is not None else None
        return self.over(before) if on is None else When(day.later(on, self.weekday))

    def __bool__(self) -> bool:
        return self is not NO_DAY and self != NO_DAY


NO_DAY = When()


@lru_cache(maxsize=32768)
def read_day(text: str, inside: bool = False) -> Day | None:
    """The day a text names: all of it, or with `inside` anywhere in it ("Day 1 - 4 Jan")."""
    if inside and (whole := read_day(text)) is not None:
        return whole
    said = " ".join(without_accents(text).split()).strip("()[] ,:*=-")
    for form in _FORMS:
        match = form.search(said) if inside else form.fullmatch(said)
        if match and inside and _is_no_day(match, said):
            continue
        if match and (day := _day(match)) is not None:
            return day
    return None


def _is_no_day(match: re.Match[str], said: str) -> bool:
    """Whether numbers within a text are repetitions ("row 50 10/10/10", "row 50 8/8") or a
    rating ("energy 3/5")."""
    found = match.groupdict()
    other = _NO_DAY_BEHIND.search(said[: match.start()]) is not None
    return bool(found.get("a")) and (other or _year(found.get("y")) in range(2003, 2016))


def split_day(text: str) -> tuple[Day, str] | None:
    """A day at the beginning of a line, and what follows it: "13.1. Squat 60x5"."""
    for form in _FORMS:
        match = form.match(text)
        behind = _NAMED_BEHIND.match(text, match.end()) if match else None
        if match and behind and (day := _day(match)) is not None:
            return day, text[behind.end() :]
    return None


def day_of_value(value: Value) -> Day | None:
    """The day of a cell that the spreadsheet itself calls a date, or of 20230401."""
    if isinstance(value, dt.datetime):
        value = value.date()
    if isinstance(value, float | int) and 19_000_000 < value < 21_000_000:
        return read_day(f"{value:.0f}")
    if isinstance(value, dt.date) and FIRST_YEAR <= value.year <= LAST_YEAR:
        return Day(((value.year, value.month, value.day),))
    return None


def serial_day(value: Value) -> Day | None:
    """The day of a spreadsheet's number for it (45,000 is in 2023); for date columns only."""
    if isinstance(value, str):
        value = int(value) if re.fullmatch(r"\d{5}", value) else ""
    if isinstance(value, float | int) and 0 < value < 100_000:
        return day_of_value(_EXCEL_DAY_ZERO + dt.timedelta(days=int(value)))
    return None


def day_of_cell(cell: Cell, inside: bool = False) -> Day | None:
    if isinstance(cell.value, str):
        return read_day(cell.text, inside)
    return day_of_value(cell.value)


def reps_of_a_date(cell: Cell) -> list[tuple[int, ...]] | None:
    """Repetitions that a spreadsheet took for a date: "8-8" became the 8th of August.

    The higher number comes first, as repetitions fall from set to set; the year tells a third set
    where it is one that repetitions could be ("10-10-9" became 2009)."""
    day = day_of_value(cell.value)
    if day is None and isinstance(cell.value, str) and re.search(r"^\d{4}-|[a-z]", cell.text, re.I):
        day = read_day(cell.text)
    if day is None:
        return None
    year, *both = day.readings[0]
    low, high = sorted(both)
    third = (year or 0) - 2000
    return [(high,), (low,), (third,)] if 3 <= third <= 15 else [(high,), (low,)]


def weekday_alone(text: str) -> When:
    """The weekday that a cell of a column of days is, also the short ones ("lun", "mar")."""
    return When(weekday=WEEKDAYS.get(without_accents(text.lower()).strip(" .,")))


def read_when(cell: Cell) -> When:
    """What a heading or tab name says: a day, "Week 3", "Mon", "Day 2", or several of them."""
    if isinstance(cell.value, str):
        return _when_of(cell.text)
    return When(day_of_value(cell.value))


@lru_cache(maxsize=32768)
def _when_of(written: str) -> When:
    text = without_accents(written)
    day = read_day(text, inside=True)
    week = _WEEK.search(text)
    start = day if week or _COMMENCING.search(text) else None
    day = None if start else day
    session = _SESSION.match(text)
    weekday = _BARE_WEEKDAY.search(text) if len(text) <= 40 else None
    weekday = weekday or (_WEEKDAY_BEHIND.match(text, week.end()) if week else None)
    number = None
    if session:
        said = (session["number"] or session["letter"]).lower()
        number = int(said) if said.isdecimal() else ord(said) - 96
    return When(
        day,
        int(week["week"]) if week else None,
        WEEKDAYS[weekday["weekday"].lower()] if weekday else None,
        number,
        start,
    )


def is_day_number(text: str) -> bool:
    """Whether a text is a day's number in its month, perhaps with its weekday: "lun. 5", "7th"."""
    return _DAY_NUMBER.fullmatch(text) is not None


def is_year(text: str) -> bool:
    """Whether a text is a year's number; beside days it is theirs."""
    return text.isdecimal() and FIRST_YEAR <= int(text) <= LAST_YEAR


def is_month(text: str) -> bool:
    return (
        re.fullmatch(rf"(?:{MONTH})\.?(?:[ -]?'?\d{{2,4}})?", without_accents(text).strip(), re.I)
        is not None
    )


def _day(match: "re.Match[str]") -> Day | None:
    found = match.groupdict()
    year = _year(found.get("y"))
    named = found.get("weekday") or found.get("behind")
    weekday = WEEKDAYS[named.lower()] if named else None
    if found.get("a"):
        if found["mark"] == "-" and year is None and weekday is None:
            # "8-10" is a range of repetitions.
            return None
        a, b = int(found["a"]), int(found["b"])
        readings = [
            (year, month, day) for day, month in ((a, b), (b, a)) if _can_be(year, month, day)
        ]
        if weekday is not None and year is not None:
            fit = [reading for reading in readings if dt.date(*reading).weekday() == weekday]  # type: ignore[arg-type]
            readings = fit if len(fit) == 1 else readings
        # 03/03 is the same day in either order.
        order = ""
        if len(readings) == 1:
            order = "dm" if readings[0][1:] == (b, a) else "md"
        return (
            Day(tuple(dict.fromkeys(readings)), weekday, found["mark"], order) if readings else None
        )
    month = MONTHS[found["month"].lower()] if found.get("month") else int(found["m"])
    day = int(found["d"])
    return Day(((year, month, day),), weekday) if _can_be(year, month, day) else None


def _year(text: str | None) -> int | None:
    if not text:
        return None
    return int(text) if len(text) == 4 else 2000 + int(text)


def _can_be(year: int | None, month: int, day: int) -> bool:
    if year is not None and not FIRST_YEAR <= year <= LAST_YEAR:
        return False
    try:
        dt.date(year or 2024, month, day)
    except ValueError:
        return False
    return True
