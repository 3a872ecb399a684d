"""The load rule: where a set lands against its printed range, and the load that lands best.

    cost = load.short_cost P(short) + load.above_cost P(1-2 above) + load.far_cost P(further)

A load is right when the set falls IN its range at the stated reserve; the rule takes the load of
least expected cost by the belief. It picks the block's first loads, the review's and the advice
between sets. Loads are kg as written on the sheet unless called effective. Costs: judgement."""

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from itertools import takewhile
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.fatigue import FatigueState
from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, Setting, hardest_moving
from blockwright.engine.training import Lift, SetDone, SetPlan, effective_load_kg
from .belief import LiftBelief
from .observation_arrays import RIR_AT_LEAST

Chance = TypeVar("Chance", float, NDArray[np.float64])

MOST_LEFT = 10.0  # The most in reserve that a log holds: so many or more
FAR_REPS = 2  # More repetitions than this above the range are far above it
LEAST_REPS, MOST_REPS = 3, 30
"""No range is moved below or above these: the one is a test, the other says little of strength."""
BARRED = 10.0  # More than any landing costs
POLICY = ("load.short_cost", "load.above_cost", "load.far_cost")


def landing_cost(
    p_at_least: Callable[[int], Chance], reps_low: int, reps_high: int, policy: Policy
) -> Chance:
    """Expected cost of a set whose chance of at least so many repetitions is `p_at_least`."""
    over, far = p_at_least(reps_high + 1), p_at_least(reps_high + 1 + FAR_REPS)
    short_cost, above_cost, far_cost = (policy.number(key) for key in POLICY)
    return short_cost * (1.0 - p_at_least(reps_low)) + above_cost * (over - far) + far_cost * far


def most_effective(effective_kg: float, policy: Policy) -> float:
    """The largest effective load one change may lead to."""
    return effective_kg * (1 + policy.number("load.most_up")) * (1 + 1e-9)


def moved(asked: SetPlan, by: int) -> SetPlan:
    """The set with its range moved by so many repetitions."""
    return replace(asked, reps_low=asked.reps_low + by, reps_high=asked.reps_high + by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """Asks where a first, fresh set of one lift lands at each load of the kit."""

    belief: LiftBelief
    lift: Lift
    rack: Rack
    bodyweight_kg: float | None
    policy: Policy
    asked: SetPlan  # Its range and reserve; its load is not looked at
    on: date | None = None
    growth: float = 1.0  # Strength by then, as a multiple of what is believed
    fewest_reps: int = 0
    """Of somebody who does no heavy sets: no range moves below, no load goes for fewer."""

    @property
    def _fewest(self) -> int:
        return min(max(LEAST_REPS, self.fewest_reps), max(LEAST_REPS, self.asked.reps_low))

    def effective(self, load_kg: float) -> float:
        """Effective kg; 0 where nothing would be lifted or the bodyweight is not known."""
        return max(effective_load_kg(self.lift, load_kg, self.bodyweight_kg) or 0.0, 0.0)

    def p_at_least(self, load_kg: float, reps: int) -> float:
        """P(the set reaches `reps` at its reserve)."""
        return self._chance(load_kg)(reps)

    def _chance(self, load_kg: float) -> Callable[[int], float]:
        """P(at least so many repetitions at the reserve) at a load; 1 where nothing is lifted."""
        effective = self.effective(load_kg) / self.growth
        if effective <= 0:
            return lambda _: 1.0
        return self.belief.forecast(effective, self.asked.rir, on=self.on).p_at_least

    def p_reaches(self, load_kg: float) -> float:
        """P(the set reaches the bottom of its range)."""
        return self.p_at_least(load_kg, self.asked.reps_low)

    def cost(self, load_kg: float) -> float:
        """Expected cost at a load; more than any other's where it leaves too few repetitions."""
        low, high = self.asked.reps_low, self.asked.reps_high
        barred = self.fewest_reps and self.effective(load_kg) > 0
        barred = barred and self.median_reps(load_kg) < self._fewest - 1
        return landing_cost(self._chance(load_kg), low, high, self.policy) + barred * BARRED

    def median_reps(self, load_kg: float) -> float:
        """Expected repetitions at a load that lifts something."""
        effective = self.effective(load_kg) / self.growth
        return self.belief.forecast(effective, self.asked.rir, on=self.on).median

    def aim(
        self, load_kg: float, sets: int, rest_s: float, *, even: bool = False
    ) -> tuple[int, int] | None:
        """Where inside its range the first set of several should land, where fatigue will spread
        them by the policy's repetitions or more, or `even` where it does not; None where the range
        says it all, or where the load is not one for it."""
        low, high = self.asked.reps_low, self.asked.reps_high
        if (sets < 2 and not even) or high - low < 2 or self.effective(load_kg) <= 0:
            return None
        first, last = self._first_and_last(load_kg, sets, rest_s)
        is_far = not low - FAR_REPS <= first <= high + FAR_REPS
        if is_far or (not even and first - last < self.policy.number("load.aim_spread")):
            return None
        aim = min(max(round(first), low), high - 1)
        return aim, aim + 1

    def later_low(self, load_kg: float, sets: int, rest_s: float) -> int:
        """The bottom of the later sets' range: where fatigue takes the last of them to that of the
        first or under it, lower, by the policy's repetitions and a quarter of it at most."""
        low = self.asked.reps_low
        if sets < 2 or self.effective(load_kg) <= 0:
            return low
        last = self._first_and_last(load_kg, sets, rest_s)[1]
        most = min(self.policy.whole("load.later_lower"), low // 4)
        return low - max(min(math.ceil(low + 1 - last), most), 0)

    def _first_and_last(self, load_kg: float, sets: int, rest_s: float) -> tuple[float, float]:
        """Expected repetitions of the first set and of the last, which fatigue takes some from."""
        first, tired = self.median_reps(load_kg), FatigueState()
        for _ in range(sets - 1):
            tired = tired.after_set(first, first + self.asked.rir, self.policy)
            tired = tired.rested(rest_s, self.policy)
        effective = self.effective(load_kg) / self.growth
        last = self.belief.forecast(effective, self.asked.rir, on=self.on, fatigue=tired.total)
        return first, last.median

    def occurring(self, load_kg: float, sets: int, rest_s: float) -> int | None:
        """By how many repetitions the range of all sets moves to what will occur at a load whose
        neighbour on the other side of the range is more than the range away: up as far as the
        first and the later ones, which fatigue takes from, share, and no less than the first takes,
        but never past the lift's usable ones.
        None where the range asked will occur, or where the neighbour lands better: then the load is
        what has to move."""
        low, high = self.asked.reps_low, self.asked.reps_high
        if self.effective(load_kg) <= 0:
            return None
        middle = (low + high) / 2
        occurs, later = (
            round(reps - middle) for reps in self._first_and_last(load_kg, sets, rest_s)
        )
        first = min(max(occurs, self._fewest - low), MOST_REPS - high)
        outside = abs(occurs - first) > (high - low) / 2 + FAR_REPS
        if outside or abs(first) < self.policy.number("load.range_off"):
            return None
        beside = (self.rack.next_harder if first > 0 else self.rack.next_easier)(load_kg)
        if beside is not None and self.effective(beside.load_kg) > 0:
            other = self.median_reps(beside.load_kg)
            is_near = abs(middle + first - other) <= high - low + 1
            least = self.policy.number("load.reach_probability")
            may_move = first < 0 or self.p_reaches(beside.load_kg) >= least
            if is_near or (may_move and self.cost(beside.load_kg) < self.cost(load_kg)):
                return None
        if first <= 0:
            return first
        most = max(high, *(reps.high for reps in self.lift.reps.values()))
        return min(max(round((first + max(later, 0)) / 2), first - 1), most - high)

    def eased(self, load_kg: float) -> Setting | None:
        """The easier load that lands best, where a set with this one is expected to end further
        under its range than `FAR_REPS`; None where it is not, or nothing easier is made."""
        effective = self.effective(load_kg)
        if effective <= 0 or self.median_reps(load_kg) >= self.asked.reps_low - FAR_REPS:
            return None
        found = self.best(effective)
        is_easier = found is not None and self.effective(found.load_kg) < effective * (1 - 1e-9)
        return found if is_easier else None

    def leaving(self, load_kg: float) -> SetPlan:
        """The set asked for at a load, so that it leaves its reserve: repetitions come down
        to what does, to half the range's bottom at least; where that is too many still, the load
        comes down, as far as the kit goes."""
        low, high = self.asked.reps_low, self.asked.reps_high
        least = min(low, max(LEAST_REPS, math.ceil(low / 2)))
        reps = high if self.effective(load_kg) <= 0 else round(self.median_reps(load_kg))
        for made in self.rack.easier_than(load_kg):
            if reps >= least or self.effective(made.load_kg) <= 0:
                break
            load_kg, reps = made.load_kg, round(self.median_reps(made.load_kg))
        top = max(1, min(high, reps))
        return SetPlan(load_kg=load_kg, reps_low=min(low, top), reps_high=top, rir=self.asked.rir)

    def is_lost(self, done: Iterable[SetDone], next_kg: float | None) -> bool:
        """Whether the hardest load that was lifted is so far too light that `load.find_after`
        changes, each `load.most_up` or one step of the kit, leave the set far above its range; or
        whether on as many days it was lifted to the top with more left than anybody can tell, or
        on two with `finding.more_rir`, or on the last one in the range with so many in every set
        and `MOST_LEFT` in one; a day is told by the first set of its hardest load. Five left are
        few enough to count: then not where the load that lands best is one change at most above
        `next_kg`, the load asked for next."""
        name, top = self.lift.name, self.asked.reps_high
        mine = [s for s in done if s.lift == name and s.method != "warmup" and s.first_reps > 0]
        load_kg = max((one.load_kg for one in mine), key=self.effective, default=0.0)
        hardest: dict[date, SetDone] = {}
        for one in mine:
            before = hardest.setdefault(one.moment.day, one)
            if self.effective(one.load_kg) > self.effective(before.load_kg):
                hardest[one.moment.day] = one
        if self.rack.next_harder(load_kg) is None:
            return False
        changes = self.policy.whole("load.find_after")
        last, more = max(hardest, default=None), self.policy.number("finding.more_rir")
        here = [one for one in mine if (one.moment.day, one.load_kg) == (last, load_kg)]
        far = all((s.rir or 0) >= more and s.first_reps >= self.asked.reps_low for s in here)
        if far and len(here) > 1 and any((one.rir or 0) >= MOST_LEFT for one in here):
            return True
        for days, left in ((changes, RIR_AT_LEAST), (2, more)):
            lately = [hardest[day] for day in sorted(hardest)[-days:]]
            light = [(one.rir or 0) >= left and one.first_reps >= top for one in lately]
            is_near = left == RIR_AT_LEAST and self._is_near(next_kg)
            is_hardest = any(one.load_kg == load_kg for one in lately)
            if is_hardest and len(light) == days and all(light) and not is_near:
                return True
        for _ in range(changes):
            harder = self.rack.next_harder(load_kg)
            limit = most_effective(self.effective(load_kg), self.policy)
            if harder is None or not limit:
                return False
            load_kg = self.rack.harder_of(self._not_harder(limit), harder).load_kg
        return self.median_reps(load_kg) > top + FAR_REPS

    def _is_near(self, load_kg: float | None) -> bool:
        """Whether the load that lands best is at most one change above a load."""
        best = None if load_kg is None else self.best()
        if best is None or load_kg is None:
            return False
        limit = most_effective(self.effective(load_kg), self.policy)
        return self.effective(best.load_kg) <= limit

    def best(self, most_effective_kg: float | None = None) -> Setting | None:
        """The load of least cost, no harder than the limit; None where even the easiest is."""
        middle = (self.asked.reps_low + self.asked.reps_high) / 2
        centre = self.belief.load_kg_for(middle, self.asked.rir, on=self.on) * self.growth
        limit = float("inf") if most_effective_kg is None else most_effective_kg * (1 + 1e-9)
        start = self._not_harder(min(centre, limit))
        if start is None:
            start = self.rack.easiest
            if not 0 < self.effective(start.load_kg) <= limit:
                return None
        rack, load_kg = self.rack, start.load_kg
        allowed = takewhile(
            lambda made: self.effective(made.load_kg) <= limit, rack.harder_than(load_kg)
        )
        lifting = takewhile(
            lambda made: self.effective(made.load_kg) > 0, rack.easier_than(load_kg)
        )
        for steps in (allowed, lifting):
            found = self._walked(start, steps)
            if found is not start:
                return found
        return start

    def _not_harder(self, effective_kg: float) -> Setting | None:
        return hardest_moving(self.rack, self.lift, effective_kg, self.bodyweight_kg)

    def _walked(self, start: Setting, steps: Iterator[Setting]) -> Setting:
        """On from `start` while the cost falls: it has one lowest point along the kit."""
        best, least = start, self.cost(start.load_kg)
        for setting in steps:
            cost = self.cost(setting.load_kg)
            if cost >= least:
                break
            best, least = setting, cost
        return best
