"""Body weight beside the block's energy phase, and girths, as the desk shows them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from blockwright.accounts.models import User
from blockwright.engine.report import (
    GIRTH_DAYS,
    girth_finding,
    trend_of,
    weight_finding,
)
from blockwright.engine.training import GIRTHS, CheckIn, Measure
from blockwright.engine.units import CM_PER_IN, Unit, kg_from
from blockwright.files.words import reason_says
from blockwright.sheets.report_plots import DESK, trend_svg
from blockwright.store.access import Right
from blockwright.store.blocks import block_on
from blockwright.store.models import Lifter
from blockwright.verbs.block_value import block_value
from blockwright.verbs.load_lifter import load_lifter
from blockwright.verbs.shown_unit import shown_unit
from blockwright.verbs.stored_case import stored_case


@dataclass(frozen=True, slots=True)
class MeasuredPage:
    """The finding, and the plot that carries it as its title."""

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
    trend = trend_of(_measured(stored_case(row).checkins, "bodyweight"), today)
    if trend is None:
        return None
    block = block_on(row, today)
    lifter = load_lifter(row).value if block is None else block_value(block).lifter
    finding = reason_says(weight_finding(trend, lifter.energy, unit))
    return MeasuredPage(finding, trend_svg(trend, kg_from(1, unit), DESK, finding))


def girth_pages(
    person: User, row: Lifter, rights: frozenset[Right], today: date
) -> Iterator[MeasuredPage]:
    """One for each girth that was measured often enough; for whom as `weight_page`."""
    if "export" not in rights:
        return
    unit: Unit = shown_unit(person, load_lifter(row).value)
    checkins = stored_case(row).checkins
    for girth in GIRTHS:
        trend = trend_of(_measured(checkins, girth), today, GIRTH_DAYS)
        if trend is not None:
            says = reason_says(girth_finding(girth, trend, unit))
            finding = says[:1].upper() + says[1:]
            size = CM_PER_IN if unit == "lb" else 1.0
            yield MeasuredPage(finding, trend_svg(trend, size, DESK, finding))


def _measured(checkins: tuple[CheckIn, ...], measure: Measure) -> list[tuple[date, float]]:
    return [(one.moment.day, one.value) for one in checkins if one.measure == measure]
