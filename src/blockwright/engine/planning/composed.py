"""A finished block and what it was made from, as its reasons read it; and what keeps its week from
more sets of a muscle: the limits that bind, and what hurts."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from blockwright.engine.pain import MUCH
from blockwright.engine.reasons import Reason, and_listed
from blockwright.engine.training import Catalogue, Lift, Lifter, Week
from blockwright.engine.units import spoken
from .candidates import usable_lifts
from .constraints import HARD, Constraint
from .fill import Filled
from .given_frame import GivenFrame
from .limits import PlanningLimits
from .order import order_key
from .problem import Option, Problem
from .spared import is_stand_in_no_better


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


_BOUND = {
    "ceiling": "ceiling", "abs_most": "ceiling", "calves_most": "ceiling",
    "lifts": "lifts", "lifts_week": "lifts",
    "growth": "climb", "muscle_growth": "climb",
    "minutes": "time",
    "spacing": "hours", "day_sets": "hours", "two_day_sets": "hours", "session_sets": "hours",
    "repeat": "hours", "small_neighbours": "hours",
    "axial_session": "spine", "axial_two_days": "spine", "axial_week": "spine",
    "axial_lifts": "spine", "hinges": "spine",
}  # fmt: skip
"""By a hard rule's code the end of the reason's; all others are about the single lift."""
_SAYS = {
    "time": "the minutes", "lifts": "the number of lifts", "ceiling": "its ceiling",
    "climb": "how fast sets may grow", "hours": "the hours between sessions",
    "spine": "the load on the spine", "along": "what other muscles may have",
    "lift": "the sets and days of one lift", "days": "the days that have its pattern",
}  # fmt: skip


def what_binds(made: Composed, muscle: str) -> tuple[str, str]:
    """What forbids one more set of the muscle in the last week."""
    week = made.filled.week
    places = week.where(lambda o: muscle in o.direct) or week.where(lambda o: muscle in o.quarters)
    return binding(made, places, muscle)


def binding(made: Composed, places: Sequence[int], muscle: str = "") -> tuple[str, str]:
    """What forbids one more set at each of some places: the limit that all of them meet, the
    minutes first; else `mixed`, and the fewest limits of which each meets one. `along` is a limit
    of another muscle than the one asked about, `choice` where nothing forbids it."""
    week, sets, limits = made.filled.week, made.filled.sets, made.limits
    rules = [rule for rule in week.constraints if rule.tier == HARD]
    found: list[frozenset[str]] = []
    for place in places:
        first, last = sets.get(place, (limits.sets_least, limits.sets_least))
        least = limits.count("main_sets_end") if week.options[place].is_main else 0
        last = last + 1 if place in sets else max(last, least)
        values = week.values({**sets, place: (first, last)})
        broken = [rule for rule in rules if rule.code != "pair_sets" and rule.outside(values)]
        if not broken:
            return "choice", ""
        found.append(frozenset(_bound(rule, muscle) for rule in broken))
    there = {option.lift.name for option in week.options}
    direct = {o.lift.name for o in week.problem.options if muscle in o.direct}
    if not places or direct - there:
        found.append(frozenset({"days"}))  # a lift that no day of the frame has a place for
    met: list[str] = []
    while left := [one for one in found if one.isdisjoint(met)]:
        count = Counter(bound for one in left for bound in one)
        met.append(min(count, key=lambda b: (-count[b], b != "time", b != "lifts", b)))
    return (met[0] if len(met) == 1 else "mixed"), and_listed([_SAYS[bound] for bound in met])


def _bound(rule: Constraint, muscle: str) -> str:
    bound = _BOUND.get(rule.code, "lift")
    other = bound in ("ceiling", "climb", "hours") and rule.facts.get("muscle", muscle) != muscle
    return "along" if other else bound


def kept_out_by_pain(made: Composed, test: Callable[[Lift], bool]) -> str:
    """What hurts and keeps every usable lift of a kind out; empty where it is not pain."""
    spared = made.problem.carried.spared
    out = [
        x for x in usable_lifts(made.lifter, made.catalogue)
        if test(x) and not is_stand_in_no_better(x, made.lifter, made.catalogue, made.problem.log)
    ]  # fmt: skip
    if not out or not all(map(made.problem.keeps_out, out)):
        return ""
    sore = [r for r in sorted(spared.regions) if any(x.regions.get(r, 0) >= MUCH for x in out)]
    return f"the {spoken(sore[0])}" if sore else out[0].name
