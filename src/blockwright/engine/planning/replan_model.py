"""The week about to change as constraints: the composer's hard rules, its musts as far as the
week has them, and below those points instead of aims.

What the planned week breaks already (a week a coach insisted on, a log that bore more) is no worse
for breaking it, so such a bound is widened to what the plan or the naive answer has.
"""

import itertools
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.planning.aims import state_kept_musts
from blockwright.engine.planning.constraints import BASIC, TIERS, Place, Terms, WeekVariables
from blockwright.engine.planning.hard_rules import quarters, state_hard_rules
from blockwright.engine.planning.limits import QUARTERS
from blockwright.engine.planning.patterns import ALONG
from blockwright.engine.planning.problem import WeekPlan, week_plan
from blockwright.engine.planning.replan_week import WeekAtHand
from blockwright.engine.planning.solver import CompiledWeek, sets_of
from blockwright.engine.planning.stand_ins import StandIn
from blockwright.engine.training import MUSCLES

_SOLVE_S = 0.5
"""Deterministic seconds."""


@dataclass(frozen=True, slots=True)
class Free:
    """(slot, option) to the least and most sets it may have; what stays as it is; and options that
    may come in."""

    sets: Mapping[tuple[int, int], tuple[int, int]]
    fixed: WeekPlan
    swaps: Mapping[int, StandIn]
    gone: int
    """How many lifts of the session they may stand in for."""


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
    new = [i for i, p in enumerate(places) if p.slot == hand.slot and p.option in free.swaps]
    week.add("stand_ins", week.uses(new), high=free.gone)
    _state_losses(week, hand, free.swaps)
    _never_more(week, hand, free.swaps, sore)
    solution = CompiledWeek(week).solve(limit_s=_SOLVE_S, hint=_hint(week, naive))
    if solution is None:
        return None
    return week_plan({
        (places[i].slot, places[i].option): last
        for i, (_, last) in sets_of(week, solution.values).items()
    })  # fmt: skip


def _hint(week: WeekVariables, plan: WeekPlan) -> list[int]:
    sets = {(i.slot, i.option): (i.sets, i.sets) for i in plan}
    here = ((i, sets.get((place.slot, place.option))) for i, place in enumerate(week.places))
    return week.values({i: both for i, both in here if both is not None})


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


def lost(
    hand: WeekAtHand,
    plan: WeekPlan,
    swaps: Mapping[int, StandIn],
    tiers: Collection[int] = TIERS,
) -> int:
    """Points that a plan loses: of the composer's musts that the week had, of sets, by changes."""
    places = [Place(*pair) for pair in sorted({(i.slot, i.option) for i in (*hand.plan, *plan)})]
    week = WeekVariables(hand.problem, places, one_week=True)
    _state_losses(week, hand, swaps)
    return week.cost(_hint(week, plan), tiers)


def _state_losses(week: WeekVariables, hand: WeekAtHand, swaps: Mapping[int, StandIn]) -> None:
    state_kept_musts(week, hand.plan, hand.missed)
    _points(week, hand, swaps)
    _prices(week, hand, swaps)


def _points(week: WeekVariables, hand: WeekAtHand, swaps: Mapping[int, StandIn]) -> None:
    """The concave points of each muscle: a price for every quarter set below each knot."""
    for muscle in MUSCLES:
        table = hand.points[muscle]
        slopes = [b - a for a, b in itertools.pairwise(table)]
        given = _given(week, hand, swaps, muscle)
        for q in range(len(slopes)):
            following = slopes[q + 1] if q + 1 < len(slopes) else 0
            if slopes[q] > following:
                week.add("points", given, low=q + 1, tier=BASIC, price=slopes[q] - following,
                         muscle=muscle)  # fmt: skip


def _given(
    week: WeekVariables, hand: WeekAtHand, swaps: Mapping[int, StandIn], muscle: str
) -> Terms:
    """Quarter sets of a muscle, those of a stand-in as far as they replace what is gone."""
    terms = []
    for i, place in enumerate(week.places):
        new = place.option in swaps and place.slot == hand.slot
        gives = swaps[place.option].counts if new else week.options[i].quarters
        terms.append((week.last[i], gives.get(muscle, 0)))
    return terms


def _prices(week: WeekVariables, hand: WeekAtHand, swaps: Mapping[int, StandIn]) -> None:
    """A price on every set that differs from the plan, on every lift put in anew, and on sets of
    main lifts that are not there: in the week, and on their day, where time is short most of all,
    and then on the one that opens."""

    def price(key: str) -> int:
        return round(hand.policy.number(f"replan.price.{key}"))

    options = hand.problem.options
    mains = [item for item in hand.plan if options[item.option].is_main]
    today = "today" if swaps else "short"
    for code, slots in (("main", week.slots), (today, (hand.slot,))):
        terms = [(week.last[i], 1) for i in week.where(lambda o: o.is_main, slots)]
        low = sum(item.sets for item in mains if item.slot in slots)
        more = price("short") if hand.missed and code == "main" else 0
        week.add(f"{code}_sets", terms, low=low, tier=BASIC, price=price(code) + more)
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    for option in sorted(hand.pinned):
        here = [i for i, p in enumerate(week.places)
                if p.option == option and p.slot in (hand.slot, *hand.later)]  # fmt: skip
        week.add("pinned", week.uses(here), low=1, tier=BASIC, price=price("pinned"))
    if hand.largest is not None and not swaps:
        here = [i for i, p in enumerate(week.places)
                if p.option == hand.largest and p.slot in (hand.slot, *hand.later)]  # fmt: skip
        week.add("largest", week.uses(here), low=1, tier=BASIC, price=price("largest"))
    for i, place in enumerate(week.places):
        was = planned.get((place.slot, place.option), 0)
        sets, used = [(week.last[i], 1)], [(week.used[i], 1)]
        week.add("changed", sets, low=was, high=was, tier=BASIC, price=price("changed"))
        if not was:
            far = swaps[place.option].price if place.option in swaps else price("swapped")
            week.add("swapped", used, high=0, tier=BASIC, price=far)
        elif place.slot == hand.slot and place.option == hand.opener:
            week.add("opener", used, low=1, tier=BASIC, price=price("opener"))
        elif place.slot in hand.later:
            week.add("cut", sets, low=was, tier=BASIC, price=price("cut_later"))


def _never_more(
    week: WeekVariables, hand: WeekAtHand, swaps: Mapping[int, StandIn], sore: Collection[str]
) -> None:
    """No muscle gets more than planned in the week, a set aside that a stand-in gives along; a
    sore one its share today."""
    options = hand.problem.options
    for muscle in MUSCLES:
        planned = sum(i.sets * options[i.option].quarters.get(muscle, 0) for i in hand.plan)
        held = _given(week, hand, swaps, muscle)
        week.add("planned", held, high=planned, muscle=muscle)
        if swaps and muscle not in ALONG:
            most = planned + QUARTERS
            week.add("planned", quarters(week, muscle, week.last), high=most, muscle=muscle)
    for muscle in sore:
        today = week.where(lambda o: muscle in o.direct, [hand.slot])  # noqa: B023
        terms = [(week.last[i], 1) for i in today]
        week.add("sore", terms, high=hand.sore_most(muscle), muscle=muscle)
