"""The week about to change as constraints: the composer's hard rules, its musts as far as the
week has them, and below those points instead of aims.

What the planned week breaks already (a week a coach insisted on, a log that bore more) is no worse
for breaking it, so such a bound is widened to what the plan or the naive answer has."""

import itertools
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from blockwright.engine.training import MUSCLES
from .aims import state_kept_musts
from .constraints import BASIC, TIERS, Terms, WeekVariables
from .hard_rules import quarters, state_hard_rules
from .limits import QUARTERS
from .patterns import ALONG
from .problem import Place, Plan
from .replan_week import WeekAtHand
from .solver import CompiledWeek, sets_of

_SOLVE_S = 0.5  # Deterministic seconds


Bounds = Mapping[Place, tuple[int, int]]  # The least and most sets that places may have


def solved_week(
    hand: WeekAtHand, bounds: Bounds, naive: Plan, budget_s: Sequence[int]
) -> Plan | None:
    """The week with most points; None when none is found in time."""
    places = sorted(bounds)
    eased = replace(hand.problem, pins=(), gentle=False)
    week = WeekVariables(eased, places, one_week=True)
    state_hard_rules(week, budget_s)
    _widen(week, naive, hand)
    for i, place in enumerate(places):
        least, most = bounds[place]
        used, sets = week.used[i], week.last[i]
        low = max(least, min(eased.limits.sets_least, most))
        week.add("sets_least", [(sets, 1), (used, -low)], low=0)
        week.add("sets_most", [(sets, 1), (used, -most)], high=0)
        if not most:
            week.add("gone", [(used, 1)], high=0)
        if least:
            week.add("kept", [(used, 1)], low=1)
    new = [i for i, place in enumerate(places) if _comes_in(hand, place)]
    gone = sum(hand.is_gone(place) for place in hand.today)
    week.add("stand_ins", week.uses(new), high=gone)
    _state_losses(week, hand)
    _never_more(week, hand)
    solution = CompiledWeek(week).solve(limit_s=_SOLVE_S, hint=_hint(week, naive))
    if solution is None:
        return None
    return {places[i]: last for i, (_, last) in sets_of(week, solution.values).items()}


def _comes_in(hand: WeekAtHand, place: Place) -> bool:
    return place.slot == hand.slot and place.option in hand.swaps


def _hint(week: WeekVariables, plan: Plan) -> list[int]:
    sets = ((i, plan.get(place, 0)) for i, place in enumerate(week.places))
    return week.values({i: (count, count) for i, count in sets})


def _widen(week: WeekVariables, naive: Plan, hand: WeekAtHand) -> None:
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


def lost(hand: WeekAtHand, plan: Plan, tiers: Collection[int] = TIERS) -> int:
    """Points that a plan loses: of the composer's musts that the week had, of sets, by changes."""
    week = WeekVariables(hand.problem, sorted({*hand.plan, *plan}), one_week=True)
    _state_losses(week, hand)
    return week.cost(_hint(week, plan), tiers)


def _state_losses(week: WeekVariables, hand: WeekAtHand) -> None:
    state_kept_musts(week, hand.plan, hand.trouble.missed)
    _points(week, hand)
    _prices(week, hand)


def _points(week: WeekVariables, hand: WeekAtHand) -> None:
    """The concave points of each muscle: a price for every quarter set below each knot."""
    for muscle in MUSCLES:
        table = hand.points[muscle]
        slopes = [b - a for a, b in itertools.pairwise(table)]
        given = _given(week, hand, muscle)
        for q in range(len(slopes)):
            following = slopes[q + 1] if q + 1 < len(slopes) else 0
            if slopes[q] > following:
                week.add("points", given, low=q + 1, tier=BASIC, price=slopes[q] - following,
                         muscle=muscle)  # fmt: skip


def _given(week: WeekVariables, hand: WeekAtHand, muscle: str) -> Terms:
    """Quarter sets of a muscle, those of a stand-in as far as they replace what is gone."""
    terms = []
    for i, place in enumerate(week.places):
        new = _comes_in(hand, place)
        gives = hand.swaps[place.option].counts if new else week.options[i].quarters
        terms.append((week.last[i], gives.get(muscle, 0)))
    return terms


def _prices(week: WeekVariables, hand: WeekAtHand) -> None:
    """A price on every set that differs from the plan, on every lift put in anew, and on sets of
    main lifts that are not there: in the week, and on their day, where time is short most of all,
    and then on the one that opens."""

    def price(key: str) -> int:
        return round(hand.policy.number(f"replan.price.{key}"))

    mains = {place: sets for place, sets in hand.plan.items() if hand.option(place).is_main}
    today = "today" if hand.swaps else "short"
    for code, slots in (("main", week.slots), (today, (hand.slot,))):
        terms = [(week.last[i], 1) for i in week.where(lambda o: o.is_main, slots)]
        low = sum(sets for place, sets in mains.items() if place.slot in slots)
        more = price("short") if hand.trouble.missed and code == "main" else 0
        week.add(f"{code}_sets", terms, low=low, tier=BASIC, price=price(code) + more)
    wanted = [("pinned", option) for option in sorted(hand.pinned)]
    if hand.largest is not None and not hand.swaps:
        wanted.append(("largest", hand.largest))
    for code, option in wanted:
        here = [i for i, p in enumerate(week.places)
                if p.option == option and p.slot in (hand.slot, *hand.later)]  # fmt: skip
        week.add(code, week.uses(here), low=1, tier=BASIC, price=price(code))
    for i, place in enumerate(week.places):
        was = hand.plan.get(place, 0)
        sets, used = [(week.last[i], 1)], [(week.used[i], 1)]
        week.add("changed", sets, low=was, high=was, tier=BASIC, price=price("changed"))
        if not was:
            new = hand.swaps.get(place.option)
            far = price("swapped") if new is None else new.price
            week.add("swapped", used, high=0, tier=BASIC, price=far)
        elif place.slot == hand.slot and place.option == hand.opener:
            week.add("opener", used, low=1, tier=BASIC, price=price("opener"))
        elif place.slot in hand.later:
            week.add("cut", sets, low=was, tier=BASIC, price=price("cut_later"))


def _never_more(week: WeekVariables, hand: WeekAtHand) -> None:
    """No muscle gets more than planned in the week, a set aside that a stand-in gives along; a
    sore one its share today."""
    for muscle in MUSCLES:
        gives = ((sets, hand.option(p).quarters.get(muscle, 0)) for p, sets in hand.plan.items())
        planned = sum(sets * quarters for sets, quarters in gives)
        held = _given(week, hand, muscle)
        week.add("planned", held, high=planned, muscle=muscle)
        if hand.swaps and muscle not in ALONG:
            most = planned + QUARTERS
            week.add("planned", quarters(week, muscle, week.last), high=most, muscle=muscle)
    for muscle in hand.trouble.sore:
        today = week.where(lambda o: muscle in o.direct, [hand.slot])  # noqa: B023
        terms = [(week.last[i], 1) for i in today]
        week.add("sore", terms, high=hand.sore_most(muscle), muscle=muscle)
