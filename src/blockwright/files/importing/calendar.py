"""Written days to dates, over a whole file: which number is the day, which year, which Monday.

Evidence for the order of day and month: a number above twelve, a weekday, the running order of the
rows, the mark between them, the unit of the loads. Evidence for a year: any day that has one, the
file's own, the weekday. What stays open becomes a question with the likelier answer taken."""

import datetime as dt
import itertools
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from blockwright.engine.errors import BadInput, Problem
from .days import Day, When

_BLOCK_WEEKS = 10
"""From this on the first week of a log is the calendar's, as blocks are shorter (judgement)."""
_ORDERS = {"day first": "dm", "month first": "md"}
_SPREAD = {1: (0,), 2: (0, 3), 3: (0, 2, 4), 4: (0, 1, 3, 4), 5: (0, 1, 2, 3, 4),
           6: (0, 1, 2, 3, 4, 5)}  # fmt: skip
"""The usual weekdays of so many sessions a week (common practice, no source)."""


@dataclass(frozen=True)
class Hints:
    """What is known from outside the cells: the years in names, a given year, the loads' unit."""

    years: tuple[int, ...] = ()
    given_year: int | None = None
    fallback_year: int = 2026
    in_pounds: bool = False


class Calendar:
    """The days of one file in the order of its rows."""

    def __init__(
        self, whens: Sequence[When], hints: Hints, order: str | None, monday: dt.date | None
    ) -> None:
        self._whens = whens
        self._hints = hints
        self._answer = order
        self._monday = monday

    @cached_property
    def days(self) -> list[Day]:
        return [day for when in self._whens for day in (when.day, when.start) if day is not None]

    @property
    def order_is_open(self) -> bool:
        """Whether nothing in the file says which number is the day."""
        return (
            self._answer is None
            and self._evident_order is None
            and any(day.is_open for day in self.days)
        )

    @cached_property
    def order(self) -> str:
        """`dm` or `md`."""
        return self._answer or self._evident_order or ("md" if self._hints.in_pounds else "dm")

    @cached_property
    def _evident_order(self) -> str | None:
        told = {day.order for day in self.days if day.order}
        if len(told) == 1:
            return told.pop()
        either = [day for day in self.days if day.is_open]
        dm, md = (
            (-self._weekdays_kept(either, (order,), self.year), *self._faults(order))
            for order in ("dm", "md")
        )
        if dm != md:
            return "dm" if dm < md else "md"
        marks = {day.mark for day in either}
        return "dm" if marks == {"."} else None

    def _weekdays_kept(self, days: Iterable[Day], orders: Sequence[str], year: int) -> int:
        """How many days fall on their written weekday in a year, in one of the orders."""
        return sum(
            any(self._date(day, order, year).weekday() == day.weekday for order in orders)
            for day in days
        )

    def _faults(self, order: str) -> tuple[int, int]:
        """Steps back in time and long gaps of the days as they follow each other."""
        dates = [self._date(day, order, self.year) for day in dict.fromkeys(self.days)]
        steps = [(later - earlier).days for earlier, later in itertools.pairwise(dates)]
        forward = sum(step > 0 for step in steps) >= sum(step < 0 for step in steps)
        back = sum(step < 0 if forward else step > 0 for step in steps)
        return (back, sum(abs(step) > 25 for step in steps))

    @cached_property
    def year(self) -> int:
        """The year of days without one, at the first of them."""
        if self._hints.given_year is not None:
            return self._hints.given_year
        written = [reading[0] for day in self.days for reading in day.readings[:1] if reading[0]]
        for years in (written, self._hints.years):
            likely: list[int] = sorted(set(years))
            if likely:
                return max(likely, key=self._weekdays_fit)
        return self._by_weekday or self._hints.fallback_year

    def _weekdays_fit(self, year: int) -> int:
        """How many days without a year fall on their weekday in it, in either order."""
        bare = [day for day in self.days if day.readings[0][0] is None]
        return self._weekdays_kept(bare, ("dm", "md"), year)

    @cached_property
    def _by_weekday(self) -> int | None:
        named = [day for day in self.days if day.weekday is not None and not day.is_open]
        if not named:
            return None
        latest = self._hints.fallback_year + 1
        kept = partial(self._weekdays_kept, named, ("dm",))
        best = max(range(latest, latest - 8, -1), key=kept)
        return best if kept(best) * 2 > len(named) else None

    @property
    def year_is_open(self) -> bool:
        """Whether days lack a year and nothing tells it."""
        lacks = any(reading[0] is None for day in self.days for reading in day.readings[:1])
        told = self._hints.given_year or self._hints.years or self._by_weekday
        return lacks and not told and not any(day.readings[0][0] for day in self.days)

    def _date(self, day: Day, order: str, year: int) -> dt.date:
        reading = day.readings[-1] if order == "md" and day.is_open else day.readings[0]
        try:
            return dt.date(reading[0] or year, reading[1], reading[2])
        except ValueError:  # 29 February of another year
            return dt.date(reading[0] or year, 3, 1)

    @cached_property
    def _dates(self) -> dict[Day, dt.date]:
        """Every written day's date; the year moves on where a log runs past December."""
        found: dict[Day, dt.date] = {}
        year, last = self.year, None
        for day in self.days:
            date = self._date(day, self.order, year)
            if day.readings[0][0] is None and day not in found and last is not None:
                if (last - date).days > 180:
                    year += 1
                elif (date - last).days > 300:
                    year -= 1
                date = self._date(day, self.order, year)
            found.setdefault(day, date)
            last = found[day]
        return found

    # Weeks

    @cached_property
    def monday(self) -> dt.date | None:
        """The Monday of week 1, where any week's label has its date."""
        if self._monday is not None:
            return self._monday - dt.timedelta(weeks=self.first_week - 1)
        if self.first_week >= _BLOCK_WEEKS:
            # No block's week is so late: it is the year's.
            return dt.date.fromisocalendar(self.year, 1, 1)
        for when in self._whens:
            start = when.start
            if when.week is not None and start is not None:
                return _monday_of(self._dates[start]) - dt.timedelta(weeks=when.week - 1)
        return None

    @cached_property
    def first_week(self) -> int:
        """The first of the weeks that are named."""
        return min((when.week for when in self._whens if when.week is not None), default=1)

    @property
    def monday_is_open(self) -> bool:
        return self.monday is None and any(
            when.day is None and when.start is None and when and not self._is_of_no_week(when)
            for when in self._whens
        )

    def _is_of_no_week(self, when: When) -> bool:
        return self._weeks_are_unsaid and when.week is None and when.start is None

    @cached_property
    def _sessions(self) -> int:
        return max((when.session or 1 for when in self._whens), default=1)

    @cached_property
    def _weeks_are_unsaid(self) -> bool:
        """Whether weekdays come back with nothing that tells one week from the next."""
        bare = [
            when.weekday
            for when in self._whens
            if when.weekday is not None and when.day is None is when.week and when.start is None
        ]
        runs = [weekday for weekday, _ in itertools.groupby(bare)]
        return len(runs) > len(set(runs))

    def _is_only_session(self, when: When) -> bool:
        """Whether "Session 2" is the only one below its day, which then is its own."""
        return when.weekday is None and len(self._sessions_below[when.start]) == 1

    @cached_property
    def _sessions_below(self) -> dict[Day | None, set[int | None]]:
        below: dict[Day | None, set[int | None]] = defaultdict(set)
        for when in self._whens:
            below[when.start] |= {when.session}
        return below

    def date_of(self, when: When) -> dt.date | None:
        """The date of a session; None when nothing says its day, or the Monday of week 1."""
        if not when:
            return None
        if when.day is not None:
            return self._dates[when.day] + dt.timedelta(weeks=when.weeks_on)
        within = when.weekday is not None or when.session is not None
        if self._is_of_no_week(when):
            return None
        if when.start is not None and not within:
            return self._dates[when.start] + dt.timedelta(weeks=when.weeks_on)
        if when.start is not None and when.week is None and self._is_only_session(when):
            return self._dates[when.start] + dt.timedelta(weeks=when.weeks_on)
        if when.start is not None:
            base = _monday_of(self._dates[when.start])
        elif self.monday is not None:
            base = self.monday + dt.timedelta(weeks=(when.week or 1) - 1)
        else:
            return None
        base += dt.timedelta(weeks=when.weeks_on)
        if when.weekday is not None:
            return base + dt.timedelta(days=when.weekday)
        spread = _SPREAD.get(self._sessions, tuple(range(7)))
        return base + dt.timedelta(days=spread[min((when.session or 1) - 1, len(spread) - 1)])


def _monday_of(day: dt.date) -> dt.date:
    return day - dt.timedelta(days=day.weekday())


def years_in(texts: Iterable[str]) -> tuple[int, ...]:
    """Years named in file names, tabs and titles."""
    return tuple(
        int(found) for text in texts for found in re.findall(r"(?<!\d)(20\d{2})(?!\d)", text)
    )


@dataclass(frozen=True, slots=True)
class Question:
    """What the file does not say. `chosen` is what was taken: empty where nothing is likely, and
    what hangs on it waits. Without choices any day answers."""

    id: str
    asks: str
    choices: tuple[str, ...]
    chosen: str
    about: str = ""  # The lift's name as typed, where that is what is asked


def question_of(
    id: str,
    asks: str,
    choices: Sequence[str],
    default: str,
    answers: Mapping[str, str],
    about: str = "",
) -> Question:
    """The question with the answer given, else the default; BadInput where it is no choice."""
    answer = answers.get(id)
    if answer is not None and choices and answer not in choices:
        says = f'"{answer}" is no answer to this question'
        mend = "write one of: " + ", ".join(choices)
        raise BadInput(Problem(key=id, says=says, mend=mend))
    return Question(id, asks, tuple(choices), answer or default, about)


def order_in(answers: Mapping[str, str]) -> str | None:
    """`dm` or `md` where the coach said which number of a date is the day."""
    return _ORDERS.get(answers.get("date-order", ""))


def questions_of_days(calendar: Calendar, answers: Mapping[str, str]) -> Iterator[Question]:
    """What the written days leave open: which number is the day, and which year."""
    if calendar.order_is_open or order_in(answers):
        likely = "month first" if calendar.order == "md" else "day first"
        asks = "In dates such as 03/04, which number is the day?"
        yield question_of("date-order", asks, tuple(_ORDERS), likely, answers)
    if calendar.year_is_open:
        year = calendar.year
        asks = "Which year are these dates of? (or give --year)"
        choices = (str(year - 1), str(year), str(year + 1))
        yield question_of("year", asks, choices, str(year), answers)


def day_answered(text: str | None) -> dt.date | None:
    """The day of an answer; BadInput where it is none."""
    if not text:
        return None
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise BadInput(
            Problem(key="week-1", says=f'"{text}" is not a date', mend="write year-month-day")
        ) from None
