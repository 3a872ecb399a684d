"""Body weight beside the block's energy phase, as the desk shows it."""

from dataclasses import dataclass
from datetime import date

from blockwright.accounts.models import User
from blockwright.engine.report import weight_finding, weight_trend
from blockwright.files.words import reason_says
from blockwright.sheets.report_plots import DESK, weight_svg
from blockwright.store.access import Right
from blockwright.store.blocks import block_on
from blockwright.store.models import Lifter
from blockwright.verbs.block_value import block_value
from blockwright.verbs.load_lifter import load_lifter
from blockwright.verbs.shown_unit import shown_unit
from blockwright.verbs.stored_case import stored_case


@dataclass(frozen=True, slots=True)
class WeightPage:
    """The finding, and the plot that carries it as its title."""

    finding: str
    svg: str


def weight_page(
    person: User, row: Lifter, rights: frozenset[Right], today: date
) -> WeightPage | None:
    """None where too few weigh-ins tell a trend, and for a training partner: weigh-ins are
    check-ins, for those who may have the lifter's file."""
    if "export" not in rights:
        return None
    unit = shown_unit(person, load_lifter(row).value)
    said = stored_case(row).checkins
    weigh_ins = [(one.moment.day, one.value) for one in said if one.measure == "bodyweight"]
    trend = weight_trend(weigh_ins, today)
    if trend is None:
        return None
    block = block_on(row, today)
    lifter = load_lifter(row).value if block is None else block_value(block).lifter
    finding = reason_says(weight_finding(trend, lifter.energy, unit))
    return WeightPage(finding, weight_svg(trend, unit, DESK, finding))
