"""The week about to change as constraints: the composer's hard rules, its musts as far as the
week has them, and below those points instead of aims.

What the planned week breaks already (a week a coach insisted on, a log that bore more) is no worse
for breaking it, so such a bound is widened to what the plan or the naive answer has.
"""

import itertools
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.planning.aims import BASIC, state_kept_musts
from blockwright.engine.planning.constraints import Place, WeekVariables
from blockwright.engine.planning.hard_rules import quarters, state_hard_rules
from blockwright.engine.planning.problem import WeekPlan, week_plan
from blockwright.engine.planning.replan_week import WeekAtHand
from blockwright.engine.planning.solver import CompiledWeek, sets_of
from blockwright.engine.training import MUSCLES

_CUT_LATER = 1000
"""Points for a set that a later day loses: worth it for a pattern or a muscle, not for more of the
same (judgement)."""
_SOLVE_S = 0.5
"""Deterministic seconds."""


@dataclass(frozen=True, slots=True)
class Free:
    """(slot, option) to the least and most sets it may have; what stays as it is; and options that
    may come in, with points against each."""

    sets: Mapping[tuple[int, int], tuple[int, int]]
    fixed: WeekPlan
    swaps: Mapping[int, int]


def solved_week(
    hand: WeekAtHand,
    free: Free,
    naive: WeekPlan,
    budget_s: Sequence[int],
    sore: Collection[str],
) -> WeekPlan | None:
    """The week with most points; None when none is found in time."""
    gone = {(i.slot, i.option): (0, 0) for i in hand.plan}
    bounds = gone | {(i.slot, i.option): (i.sets, i.sets) for i in free.fixed} | dict(free.sets)
    places = [Place(slot, option) for slot, option in sorted(bounds)]
    eased = replace(hand.problem, pins=(), gentle=False)
    week = WeekVariables(eased, places, one_week=True)
    state_hard_rules(week, budget_s)
    _widen(week, naive, hand)
    for i, place in enumerate(places):
        least, most = bounds[place.slot, place.option]
        used, sets = week.used[i], week.last[i]
        low = max(least, min(eased.limits.sets_least, most))
        week.add("sets_least", [(sets, 1), (used, -low)], low=0)
        week.add("sets_most", [(sets, 1), (used, -most)], high=0)
        if not most:
            week.add("gone", [(used, 1)], high=0)
        if least:
            week.add("kept", [(used, 1)], low=1)
    state_kept_musts(week, hand.plan)
    _points(week, hand)
    _prices(week, hand, free.swaps)
    _never_more(week, hand, sore)
    solution = CompiledWeek(week).solve(limit_s=_SOLVE_S, hint=_hint(week, naive))
    if solution is None:
        return None
    return week_plan({
        (places[i].slot, places[i].option): last
        for i, (_, last) in sets_of(week, solution.values).items()
    })  # fmt: skip


def _sets_by_place(week: WeekVariables, plan: WeekPlan) -> dict[int, tuple[int, int]]:
    at = {(place.slot, place.option): i for i, place in enumerate(week.places)}
    return {at[i.slot, i.option]: (i.sets, i.sets) for i in plan if (i.slot, i.option) in at}


def _hint(week: WeekVariables, plan: WeekPlan) -> list[int]:
    return week.values(_sets_by_place(week, plan))


def _widen(week: WeekVariables, naive: WeekPlan, hand: WeekAtHand) -> None:
    kept, planned = _hint(week, naive), _hint(week, hand.plan)
    for at, rule in enumerate(week.constraints):
        today = rule.code in ("minutes", "lifts") and rule.facts.get("slot") == hand.slot
        for values in (kept,) if today else (kept, planned):
            rule = week.constraints[at]
            if not rule.outside(values):
                continue
            total = sum(c * values[v] for v, c in rule.terms)
            low = None if rule.low is None else min(rule.low, total)
            high = None if rule.high is None else max(rule.high, total)
            week.constraints[at] = replace(rule, low=low, high=high)


def musts_missed(hand: WeekAtHand, plan: WeekPlan) -> int:
    """What a plan loses of the composer's musts that the week had."""
    places = [Place(*pair) for pair in sorted({(i.slot, i.option) for i in (*hand.plan, *plan)})]
    week = WeekVariables(hand.problem, places, one_week=True)
    state_kept_musts(week, hand.plan)
    return week.cost(_hint(week, plan))


def _points(week: WeekVariables, hand: WeekAtHand) -> None:
    """The concave points of each muscle: a price for every quarter set below each knot."""
    for muscle in MUSCLES:
        table = hand.points[muscle]
        slopes = [b - a for a, b in itertools.pairwise(table)]
        for q in range(len(slopes)):
            following = slopes[q + 1] if q + 1 < len(slopes) else 0
            if slopes[q] > following:
                week.add("points", quarters(week, muscle, week.last), low=q + 1, tier=BASIC,
                         price=slopes[q] - following, muscle=muscle)  # fmt: skip


def _prices(week: WeekVariables, hand: WeekAtHand, swaps: Mapping[int, int]) -> None:
    """A price on every set that differs from the plan, on every lift put in anew, and on sets of
    main lifts that are not there."""
    policy = hand.policy
    changed = round(policy.number("replan.price.changed"))
    swapped = round(policy.number("replan.price.swapped"))
    pinned = round(policy.number("replan.price.pinned"))
    main = [(week.last[i], 1) for i in week.where(lambda o: o.is_main)]
    price = round(policy.number("replan.price.main"))
    most = sum(week.bounds(var)[1] for var, _ in main)
    week.add("main_sets", main, low=most, tier=BASIC, price=price)
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    for i, place in enumerate(week.places):
        was = planned.get((place.slot, place.option), 0)
        week.add("changed", [(week.last[i], 1)], low=was, high=was, tier=BASIC, price=changed)
        if not was:
            price = swapped + swaps.get(place.option, 0)
            week.add("swapped", [(week.used[i], 1)], high=0, tier=BASIC, price=price)
        elif place.slot == hand.slot and place.option in hand.pinned:
            week.add("pinned", [(week.used[i], 1)], low=1, tier=BASIC, price=pinned)
        elif place.slot in hand.later:
            week.add("cut", [(week.last[i], 1)], low=was, tier=BASIC, price=_CUT_LATER)


def _never_more(week: WeekVariables, hand: WeekAtHand, sore: Collection[str]) -> None:
    """No muscle gets more than planned in the week; a sore one its share today."""
    options = hand.problem.options
    for muscle in MUSCLES:
        planned = sum(i.sets * options[i.option].quarters.get(muscle, 0) for i in hand.plan)
        week.add("planned", quarters(week, muscle, week.last), high=planned, muscle=muscle)
    for muscle in sore:
        today = week.where(lambda o: muscle in o.direct, [hand.slot])  # noqa: B023
        terms = [(week.last[i], 1) for i in today]
        week.add("sore", terms, high=hand.sore_most(muscle), muscle=muscle)
