"""The week as a linear model: every rule of `rules.py` as rows, the objective of `board.py`.

Variables per (slot, option) pair: used 0/1 and sets in {0} or [2, 5]. The rest counts.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

import numpy as np

from blockwright.engine.planning.board import BROKEN_POINTS
from blockwright.engine.planning.linear import Linear
from blockwright.engine.planning.request import Request, WeekPlan, week_plan
from blockwright.engine.training import MUSCLES

Pair = tuple[int, int]


@dataclass
class WeekModel:
    """A linear model of the week and where its variables stand."""

    request: Request
    budget_s: tuple[int, ...]
    priced: bool
    """Whether "at least" rules of the house may be broken for `BROKEN_POINTS` a unit."""
    linear: Linear = field(default_factory=Linear)
    used: dict[Pair, int] = field(default_factory=dict)
    sets: dict[Pair, int] = field(default_factory=dict)
    session: list[int] = field(default_factory=list)
    volume: dict[Pair, int] = field(default_factory=dict)
    by_slot: dict[int, list[Pair]] = field(default_factory=dict)
    by_lift: dict[int, list[Pair]] = field(default_factory=dict)

    def decode(self, values: tuple[int, ...]) -> WeekPlan:
        """The plan in a solution."""
        return week_plan({pair: values[index] for pair, index in self.sets.items()})


def week_model(
    request: Request,
    pairs: Iterable[Pair],
    *,
    budget_s: tuple[int, ...] | None = None,
    fixed: WeekPlan = (),
    priced: bool = True,
) -> WeekModel:
    """The model over `pairs` (free) and the items of `fixed` (kept as they are)."""
    model = WeekModel(
        request=request, budget_s=request.budget_s if budget_s is None else budget_s, priced=priced
    )
    fixed_sets = {(item.slot, item.option): item.sets for item in fixed}
    _place_variables(model, sorted(set(pairs) | set(fixed_sets)), fixed_sets)
    _session_rows(model)
    _lift_rows(model)
    _volume_rows(model)
    _hard_session_rows(model)
    _axial_rows(model)
    _share_rows(model)
    _lead_rows(model)
    _pin_rows(model)
    if request.gentle:
        _first_week_rows(model)
    return model


def possible_model(request: Request, pairs: Iterable[Pair]) -> WeekModel:
    """Only the rules that can make a week impossible, and no objective: minutes, kit, pins,
    exposures of lead muscles, caps, spacing. Has a solution when a week can be made at all."""
    model = WeekModel(request=request, budget_s=request.budget_s, priced=False)
    _place_variables(model, sorted(set(pairs)), {})
    _session_rows(model, least=False)
    _lift_rows(model)
    _volume_rows(model)
    _hard_session_rows(model)
    _axial_rows(model)
    _exposure_rows(model)
    _pin_rows(model)
    if request.gentle:
        _first_week_rows(model)
    model.linear.row([(session, 1) for session in model.session], low=1)
    model.linear.points = [0] * model.linear.size
    return model


def all_pairs(request: Request) -> list[Pair]:
    """Every allowed (slot, option)."""
    slots, options = np.nonzero(request.allowed)
    return list(zip(slots.tolist(), options.tolist(), strict=True))


_FILLERS = 12
"""Quick lifts a slot is offered beside those the lifter's rules are about."""


def telling_pairs(request: Request) -> list[Pair]:
    """The pairs a lifter's rules are about: pinned lifts, lifts for lead muscles; and fillers."""
    pinned = {option for pin in request.pins for option in pin.options}
    telling = {
        option
        for option in range(len(request.options))
        if option in pinned or any(request.direct[option, m] for m in request.leads)
    }
    seconds = request.fixed_s + request.numbers.sets_least * request.per_set_s
    quick = sorted(range(len(request.options)), key=lambda o: (int(seconds[o]), o))[:_FILLERS]
    return [pair for pair in all_pairs(request) if pair[1] in telling or pair[1] in quick]


def _place_variables(model: WeekModel, pairs: list[Pair], fixed: dict[Pair, int]) -> None:
    request, linear = model.request, model.linear
    least = request.numbers.sets_least
    for pair in pairs:
        slot, option = pair
        most = int(request.most_sets[option])
        held = fixed.get(pair)
        used = linear.var(0 if held is None else 1, 1, -int(request.item_points[option]))
        sets = linear.var(
            0 if held is None else held,
            most if held is None else held,
            -int(request.set_points[option]),
        )
        if held is None:
            linear.row([(sets, 1), (used, -least)], low=0)
            linear.row([(sets, 1), (used, -most)], high=0)
        model.used[pair], model.sets[pair] = used, sets
        model.by_slot.setdefault(slot, []).append(pair)
        model.by_lift.setdefault(int(request.lift_of[option]), []).append(pair)


def _priced(model: WeekModel, terms: list[Pair], *, low: int, unit: int = 1) -> None:
    """A row "terms >= low" that may be broken for a price by the unit, when `priced`."""
    if model.priced:
        missing = model.linear.var(0, 10_000, -max(1, BROKEN_POINTS // unit))
        terms = [*terms, (missing, 1)]
    model.linear.row(terms, low=low)


def _session_rows(model: WeekModel, *, least: bool = True) -> None:
    request, linear, numbers = model.request, model.linear, model.request.numbers
    for slot in range(len(request.slots)):
        session = linear.var(0, 1)
        model.session.append(session)
        pairs = model.by_slot.get(slot, [])
        used = [(model.used[p], 1) for p in pairs]
        linear.row([*used, (session, -request.most_lifts)], high=0)
        linear.row([*used, (session, -1)], low=0)
        if least:
            _priced(model, [*used, (session, -request.least_lifts[slot])], low=0)
        seconds = [(model.sets[p], int(request.per_set_s[p[1]])) for p in pairs]
        seconds += [(model.used[p], int(request.fixed_s[p[1]])) for p in pairs]
        linear.row([*seconds, (session, -model.budget_s[slot])], high=0)
        _main_and_family_rows(model, slot, pairs)
    used_slots = [(session, 1) for session in model.session]
    beyond = linear.var(0, len(request.slots), -numbers.price.session)
    linear.row([*used_slots, (beyond, -1)], high=request.sessions_wanted)
    if least:
        _priced(model, used_slots, low=request.sessions_wanted)


def _main_and_family_rows(model: WeekModel, slot: int, pairs: list[Pair]) -> None:
    request = model.request
    mains: dict[int, list[Pair]] = {}
    families: dict[int, list[Pair]] = {}
    for pair in pairs:
        mains.setdefault(int(request.main_of[pair[1]]), []).append(pair)
        families.setdefault(int(request.family_of[pair[1]]), []).append(pair)
    for group in mains.values():
        if len(group) > request.numbers.lifts_per_muscle:
            most = request.numbers.lifts_per_muscle
            model.linear.row([(model.used[p], 1) for p in group], high=most)
    for family, group in families.items():
        most = int(request.family_session_most[slot, family])
        if len(group) > most:
            model.linear.row([(model.used[p], 1) for p in group], high=most)


def _lift_rows(model: WeekModel) -> None:
    request, linear = model.request, model.linear
    families: dict[int, list[Pair]] = {}
    for lift, pairs in model.by_lift.items():
        points = int(request.lift_points[lift])
        in_week = linear.var(0, 1, points)
        if points > 0:
            linear.row([(in_week, 1), *((model.used[p], -1) for p in pairs)], high=0)
        for pair in pairs:
            families.setdefault(int(request.family_of[pair[1]]), []).append(pair)
        for group in request.windows(float(request.lift_gap_h[lift])):
            # at most one of them, and none without the lift being in the week at all
            inside = [(model.used[p], 1) for p in pairs if p[0] in group]
            linear.row([*inside, (in_week, -1)], high=0)
        if request.zone_limited[lift]:
            for low in (True, False):
                same = [(model.used[p], 1) for p in pairs if (request.zone[p[1]] == 0) == low]
                if len(same) > 1:
                    linear.row(same, high=1)
    for family, same_family in families.items():
        most = int(request.family_most[family])
        if len(same_family) > most:
            linear.row([(model.used[p], 1) for p in same_family], high=most)


def _volume_rows(model: WeekModel) -> None:
    request, linear, numbers = model.request, model.linear, model.request.numbers
    knee = numbers.knee_q
    for muscle in range(len(MUSCLES)):
        week: list[Pair] = []
        effective: list[Pair] = []
        for slot, pairs in sorted(model.by_slot.items()):
            terms = [
                (model.sets[p], int(request.share_q[p[1], muscle]))
                for p in pairs
                if request.share_q[p[1], muscle]
            ]
            if not terms:
                continue
            volume = linear.var(0, numbers.session_q)
            linear.row([*terms, (volume, -1)], low=0, high=0)
            model.volume[slot, muscle] = volume
            week.append((volume, 1))
            effective.append((volume, 2))
            if request.weight[muscle] > 0:
                over = linear.var(0, numbers.session_q - knee)
                linear.row([(volume, 1), (over, -1)], high=knee)
                effective.append((over, -1))
        _weekly_rows(model, muscle, week, effective)
    for groups, most in (
        (request.day_groups, numbers.session_q),
        (request.two_days, numbers.two_day_q),
    ):
        for group in groups:
            for muscle in range(len(MUSCLES)):
                terms = [(model.volume[s, muscle], 1) for s in group if (s, muscle) in model.volume]
                if len(terms) > 1:
                    linear.row(terms, high=most)


def _weekly_rows(model: WeekModel, muscle: int, week: list[Pair], effective: list[Pair]) -> None:
    request, linear = model.request, model.linear
    linear.row(week, high=int(request.cap_q[muscle]))
    if request.weight[muscle] <= 0:
        return
    parts = [(linear.var(0, width, slope), -1) for width, slope in request.slopes[muscle]]
    linear.row([*effective, *parts], low=0)
    floor, target = int(request.floor_q[muscle]), int(request.target_q[muscle])
    missing = linear.var(0, floor, -int(request.floor_points[muscle]))
    linear.row([*week, (missing, 1)], low=floor)
    beyond = linear.var(0, 400, -int(request.excess_points[muscle]))
    linear.row([*week, (beyond, -1)], high=target)
    smallest = [
        (used, request.numbers.sets_least * int(request.share_q[pair[1], muscle]))
        for pair, used in sorted(model.used.items())
    ]
    early = linear.var(0, 400, -int(request.start_points[muscle]))
    linear.row([*smallest, (early, -1)], high=int(request.start_q[muscle]))


def _hard_session_rows(model: WeekModel) -> None:
    request, linear = model.request, model.linear
    hard_from = request.numbers.hard_direct
    most = request.numbers.session_q // 4
    for muscle in range(len(MUSCLES)):
        close = np.argwhere(np.triu(request.too_close[muscle]))
        if not len(close):
            continue
        hard: dict[int, int] = {}
        for slot in sorted({int(s) for s in close.ravel()}):
            direct = [
                (model.sets[p], 1)
                for p in model.by_slot.get(slot, [])
                if request.direct[p[1], muscle]
            ]
            hard[slot] = linear.var(0, 1)
            linear.row([*direct, (hard[slot], -(most - hard_from + 1))], high=hard_from - 1)
        for first, second in close.tolist():
            linear.row([(hard[first], 1), (hard[second], 1)], high=1)


def _axial_rows(model: WeekModel) -> None:
    request, numbers = model.request, model.request.numbers
    groups: list[tuple[Collection[int], int]] = [
        ((slot,), numbers.axial_session) for slot in range(len(request.slots))
    ]
    groups += [(group, numbers.axial_two_days) for group in request.adjacent_days]
    groups.append((range(len(request.slots)), numbers.axial_week))
    for group, most in groups:
        terms = [
            (model.sets[p], int(request.axial[p[1]]))
            for slot in group
            for p in model.by_slot.get(slot, [])
            if request.axial[p[1]]
        ]
        if terms:
            model.linear.row(terms, high=most)


def _share_rows(model: WeekModel) -> None:
    """Heavy and long shares, of sets and (for the smallest week) of lifts placed."""
    request = model.request
    for variables in (model.sets, model.used):
        terms = [(index, int(request.zone[p[1]])) for p, index in sorted(variables.items())]
        high = round(100 * request.numbers.high_share_most)
        _priced(model, [(i, high - 100 * (z == 2)) for i, z in terms], low=0, unit=100)
        if request.low_share is None:
            continue
        least, most = (round(100 * share) for share in request.low_share)
        _priced(model, [(i, 100 * (z == 0) - least) for i, z in terms], low=0, unit=100)
        _priced(model, [(i, most - 100 * (z == 0)) for i, z in terms], low=0, unit=100)


def _lead_rows(model: WeekModel) -> None:
    """At least half of a lead muscle's sets come from lifts aimed at it."""
    request = model.request
    percent = round(100 * request.numbers.lead_direct_share)
    for muscle in request.leads:
        for variables in (model.sets, model.used):
            terms = [
                (
                    index,
                    400 * int(request.direct[p[1], muscle])
                    - percent * int(request.share_q[p[1], muscle]),
                )
                for p, index in sorted(variables.items())
            ]
            _priced(model, terms, low=0, unit=400)
    _exposure_rows(model)


def _exposure_rows(model: WeekModel) -> None:
    """Two exposures of every lead muscle, far enough apart."""
    request, linear = model.request, model.linear
    for muscle in request.leads:
        exposed: dict[int, int] = {}
        for slot, pairs in sorted(model.by_slot.items()):
            direct = [(model.used[p], -1) for p in pairs if request.direct[p[1], muscle]]
            if direct:
                exposed[slot] = linear.var(0, 1)
                linear.row([(exposed[slot], 1), *direct], high=0)
        both = []
        for first in exposed:
            for second in exposed:
                if first < second and request.gap_h[first, second] >= request.numbers.hours_between:
                    pair = linear.var(0, 1)
                    linear.row([(pair, 1), (exposed[first], -1)], high=0)
                    linear.row([(pair, 1), (exposed[second], -1)], high=0)
                    both.append((pair, 1))
        _priced(model, both, low=1)


def _pin_rows(model: WeekModel) -> None:
    for pin in model.request.pins:
        for group in pin.wanted:
            terms = [
                (model.used[s, o], 1) for s in group for o in pin.options if (s, o) in model.used
            ]
            model.linear.row(terms, low=1)


def _first_week_rows(model: WeekModel) -> None:
    """The smallest week has room under a first week's limit."""
    request, numbers = model.request, model.request.numbers
    for pairs in model.by_slot.values():
        for muscle in range(len(MUSCLES)):
            terms = [
                (model.used[p], numbers.sets_least * int(request.share_q[p[1], muscle]))
                for p in pairs
                if request.share_q[p[1], muscle]
            ]
            if terms:
                model.linear.row(terms, high=numbers.first_week_q)
