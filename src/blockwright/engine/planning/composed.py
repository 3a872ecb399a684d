"""A finished block and what it was made from, as its reasons read it."""

from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.engine.planning.fill import Filled
from blockwright.engine.planning.given_frame import GivenFrame
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.planning.order import order_key
from blockwright.engine.planning.problem import Option, Problem
from blockwright.engine.reasons import Reason, and_listed
from blockwright.engine.training import Catalogue, Lifter, Week


@dataclass(frozen=True, slots=True, kw_only=True)
class Composed:
    """A finished block and what it was made from."""

    catalogue: Catalogue
    filled: Filled
    given: GivenFrame | None
    weeks: tuple[Week, ...]
    deload_left_out: tuple[str, ...]
    load_reasons: tuple[Reason, ...]

    @property
    def builds(self) -> tuple[Week, ...]:
        return tuple(week for week in self.weeks if week.kind == "build")

    @property
    def problem(self) -> Problem:
        return self.filled.week.problem

    @property
    def lifter(self) -> Lifter:
        return self.problem.lifter

    @property
    def limits(self) -> PlanningLimits:
        return self.problem.limits

    def placed(self) -> list[tuple[int, Option]]:
        """(slot, option) of everything in the week, in the order of the sheets."""
        week, leads = self.filled.week, frozenset(self.problem.leads)
        places = [(week.places[i].slot, week.options[i]) for i in self.filled.sets]
        return sorted(places, key=lambda p: (p[0], order_key(p[1], leads)))

    def days_of(self, names: Sequence[str]) -> str:
        """The days on which any of the lifts stands."""
        days = [self.problem.slots[s].day for s, o in self.placed() if o.lift.name in names]
        return and_listed(list(dict.fromkeys(days)))


def said(muscle: str) -> str:
    """A muscle as a sentence names it."""
    return muscle.replace("_", " ")
