"""What the Strength page of a lifter shows: the lifts, body weight beside the block's energy phase,
and girths. The estimate is remembered until a fact comes or the lifter's file changes: a log of ten
years (31,000 sets) takes about four seconds of a processor the first time (docs/site.md)."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from blockwright.accounts.models import User
from blockwright.engine import report
from blockwright.engine.training import GIRTHS, CheckIn, Measure
from blockwright.engine.training import Lifter as LifterValue
from blockwright.engine.units import CM_PER_IN, Unit, kg_from
from blockwright.files.json_text import plain
from blockwright.files.words import reason_says
from blockwright.sheets.report_plots import trend_svg
from blockwright.sheets.strength_words import StrengthWords, strength_words
from blockwright.store.access import Right
from blockwright.store.blocks import block_on
from blockwright.store.facts import last_seq
from blockwright.store.models import Lifter
from blockwright.verbs.estimate_strength import estimate_strength, histories
from blockwright.verbs.remembered import remembered
from blockwright.verbs.stored_case import stored_case
from blockwright.verbs.stored_values import block_value, load_lifter

_REMEMBERED = 32  # Estimates kept in memory, about 2 MB each for ten years of four sessions a week.


@dataclass(frozen=True, slots=True)
class LifterEstimate:
    """The `blockwright/estimate/1` document of one lifter, and the history of each lift."""

    document: dict[str, Any]
    history: dict[str, dict[str, Any]]  # As `histories` gives it.
    unit: Unit


@remembered(
    _REMEMBERED, lambda row, unit=None: (row.key, row.reader, row.version, last_seq(row), unit)
)
def estimate_lifter(row: Lifter, unit: Unit | None = None) -> LifterEstimate:
    """The estimate as of each lift's last set; `unit` (the lifter's if None) rounds its loads.
    BadInput if the lifter's row was written by a newer version."""
    shown = unit or load_lifter(row).value.units
    case = stored_case(row)
    document = estimate_strength([case], shown).document
    return LifterEstimate(plain(document), histories(case), shown)


PERIODS = {"half-year": 183, "two-years": 731, "all": None}
"""Days the plots go back from the last session, by the word in the address."""


@dataclass(frozen=True, slots=True)
class StrengthPage:
    finding: str
    words: StrengthWords


def strength_page(person: User, row: Lifter, period: str, today: date) -> StrengthPage:
    """The page for `person`, in the unit they read; `period` is a key of `PERIODS`."""
    unit = shown_unit(person, load_lifter(row).value)
    found = estimate_lifter(row, unit)
    last = max((one["points"][-1]["date"] for one in found.history.values()), default=None)
    days = PERIODS[period]
    since = None if last is None or days is None else date.fromisoformat(last) - timedelta(days)
    block = block_on(row, today)
    start = None if block is None else block.start
    words = strength_words(found.document, found.history, unit, since, start)
    headings = [one["heading"] for one in found.history.values()]
    finding = reason_says(report.strength_finding(headings)) if headings else ""
    return StrengthPage(finding, words)


@dataclass(frozen=True, slots=True)
class MeasuredPage:
    finding: str
    svg: str


def weight_page(
    person: User, row: Lifter, rights: frozenset[Right], today: date
) -> MeasuredPage | None:
    """None where too few weigh-ins tell a trend, and for a training partner: weigh-ins are
    check-ins, for those who may have the lifter's file."""
    if "export" not in rights:
        return None
    unit = shown_unit(person, load_lifter(row).value)
    trend = report.trend_of(_measured(stored_case(row).checkins, "bodyweight"), today)
    if trend is None:
        return None
    block = block_on(row, today)
    lifter = load_lifter(row).value if block is None else block_value(block).lifter
    finding = reason_says(report.weight_finding(trend, lifter.energy, unit))
    return MeasuredPage(finding, trend_svg(trend, kg_from(1, unit), finding))


def girth_pages(
    person: User, row: Lifter, rights: frozenset[Right], today: date
) -> Iterator[MeasuredPage]:
    """One for each girth that was measured often enough; for whom as `weight_page`."""
    if "export" not in rights:
        return
    unit: Unit = shown_unit(person, load_lifter(row).value)
    checkins = stored_case(row).checkins
    for girth in GIRTHS:
        trend = report.trend_of(_measured(checkins, girth), today, report.GIRTH_DAYS)
        if trend is not None:
            says = reason_says(report.girth_finding(girth, trend, unit))
            finding = says[:1].upper() + says[1:]
            size = CM_PER_IN if unit == "lb" else 1.0
            yield MeasuredPage(finding, trend_svg(trend, size, finding))


def _measured(checkins: tuple[CheckIn, ...], measure: Measure) -> list[tuple[date, float]]:
    return [(one.moment.day, one.value) for one in checkins if one.measure == measure]


def shown_unit(person: User, lifter: LifterValue) -> Unit:
    """Pounds for a person who chose them, else the lifter's own (kg is what an account starts
    with, so it says nothing of a choice)."""
    return "lb" if person.units == "lb" else lifter.units
