"""From the most demanding week to all build weeks: one model over the weeks, lifts fixed.

Every lift stays where it is in every week; its sets climb from the least towards the composed
week's and never fall. Rules that say "at least" hold in every week on their own.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from blockwright.engine.planning.linear import Linear, solve
from blockwright.engine.planning.request import Ints, Request, WeekPlan
from blockwright.engine.planning.supersets import Pairing
from blockwright.engine.training import MUSCLES

_SHORT_POINTS = 300
"""A set missing from the composed week in the last build week."""


@dataclass(frozen=True, slots=True)
class Ramp:
    """Sets of every item in every build week, shape (weeks, items), and whether proven best."""

    sets: Ints
    proven: bool


def effort_path(weeks: int, first_rir: float, last_rir: float) -> tuple[float, ...]:
    """RIR by week: a straight line, halves rounded up, so six weeks read 3, 3, 2, 2, 1, 1."""
    if weeks == 1:
        return (float(first_rir),)
    steps = [first_rir + (last_rir - first_rir) * w / (weeks - 1) for w in range(weeks)]
    return tuple(float(int(step + 0.5 + 1e-9)) for step in steps)


def ramp_of(
    request: Request,
    plan: WeekPlan,
    pairs: Sequence[Pairing],
    weeks: int,
    *,
    deterministic_s: float,
) -> Ramp:
    """The build weeks for a composed week. Week 1 starts near the policy's start, the last one
    is as near to `plan` as the rules allow."""
    model, at = _model(request, plan, pairs, weeks)
    hint = _hint(request, plan, weeks, at)
    solved = solve(model, deterministic_s=deterministic_s, hint=hint)
    if solved.values is None:
        # the least sets in every week break no rule: the week was composed so
        return Ramp(np.full((weeks, len(plan)), request.numbers.sets_least, dtype=np.int64), False)
    values = np.array(solved.values, dtype=np.int64)
    return Ramp(values[at], solved.proven)


def _model(
    request: Request, plan: WeekPlan, pairs: Sequence[Pairing], weeks: int
) -> tuple[Linear, Ints]:
    linear = Linear()
    least = request.numbers.sets_least
    at = np.zeros((weeks, len(plan)), dtype=np.int64)
    for week in range(weeks):
        for index, item in enumerate(plan):
            most = item.sets
            if week == 0 and request.gentle:
                most = min(most, request.numbers.first_week_sets)
            last = week == weeks - 1
            at[week, index] = linear.var(min(least, most), most, _SHORT_POINTS if last else 0)
            if week:
                before = int(at[week - 1, index])
                linear.row([(int(at[week, index]), 1), (before, -1)], low=0)
    place = {item: index for index, item in enumerate(plan)}
    for pairing in pairs:
        first, second = place[pairing.first], place[pairing.second]
        for week in range(weeks):
            linear.row([(int(at[week, first]), 1), (int(at[week, second]), -1)], low=0, high=0)
    _climb_rows(linear, request, plan, at)
    _share_rows(linear, request, plan, at)
    _hold_rows(linear, request, plan, at)
    if request.gentle:
        _first_week_rows(linear, request, plan, at)
    return linear, at


def _line(request: Request, plan: WeekPlan, weeks: int) -> Ints:
    """(weeks, M): the straight line of quarter sets each muscle should follow."""
    share = request.share_q[[item.option for item in plan]]
    peak = np.array([item.sets for item in plan]) @ share
    least = np.full(len(plan), request.numbers.sets_least) @ share
    start = np.maximum(least, np.minimum(peak, request.start_q))
    steps = np.linspace(0.0, 1.0, weeks)[:, None] if weeks > 1 else np.ones((1, 1))
    return np.asarray(np.rint(start + (peak - start) * steps), dtype=np.int64)


def _climb_rows(linear: Linear, request: Request, plan: WeekPlan, at: Ints) -> None:
    line = _line(request, plan, len(at))
    for muscle in range(len(MUSCLES)):
        shares = [int(request.share_q[item.option, muscle]) for item in plan]
        if not any(shares):
            continue
        points = max(1, round(4 * float(request.weight[muscle])))
        for week in range(len(at)):
            terms = [(int(at[week, i]), share) for i, share in enumerate(shares)]
            off = linear.var(0, 1000, -points)
            linear.row([*terms, (off, 1)], low=int(line[week, muscle]))
            linear.row([*terms, (off, -1)], high=int(line[week, muscle]))
            if week:
                before = [(int(at[week - 1, i]), -share) for i, share in enumerate(shares)]
                linear.row([*terms, *before], high=request.numbers.ramp_q)


def _share_rows(linear: Linear, request: Request, plan: WeekPlan, at: Ints) -> None:
    """Heavy share, long share and direct share of lead muscles, in every week."""
    percents = [
        [round(100 * request.numbers.high_share_most) - 100 * (_zone(request, i.option) == 2)
         for i in plan]
    ]  # fmt: skip
    if request.low_share is not None:
        least, most = (round(100 * share) for share in request.low_share)
        low = [_zone(request, item.option) == 0 for item in plan]
        percents.append([100 * is_low - least for is_low in low])
        percents.append([most - 100 * is_low for is_low in low])
    direct = round(100 * request.numbers.lead_direct_share)
    for muscle in request.leads:
        percents.append(
            [
                400 * int(request.direct[i.option, muscle])
                - direct * int(request.share_q[i.option, muscle])
                for i in plan
            ]
        )
    for weights in percents:
        composed = sum(w * item.sets for w, item in zip(weights, plan, strict=True))
        smallest = request.numbers.sets_least * sum(weights)
        # where the composed week itself had to give way, no week can do better than it
        if min(composed, smallest) < 0:
            continue
        for week in range(len(at)):
            linear.row([(int(at[week, i]), w) for i, w in enumerate(weights)], low=0)


def _zone(request: Request, option: int) -> int:
    return int(request.zone[option])


def _hold_rows(linear: Linear, request: Request, plan: WeekPlan, at: Ints) -> None:
    for muscle in request.holds:
        items = [i for i, item in enumerate(plan) if request.direct[item.option, muscle]]
        if not items:
            continue
        least = linear.var(0, 200)
        for week in range(len(at)):
            terms = [(int(at[week, i]), 1) for i in items]
            linear.row([*terms, (least, -1)], low=0, high=request.numbers.hold_drift)


def _first_week_rows(linear: Linear, request: Request, plan: WeekPlan, at: Ints) -> None:
    for slot in range(len(request.slots)):
        items = [i for i, item in enumerate(plan) if item.slot == slot]
        for muscle in range(len(MUSCLES)):
            terms = [(int(at[0, i]), int(request.share_q[plan[i].option, muscle])) for i in items]
            linear.row(terms, high=request.numbers.first_week_q)


def _hint(request: Request, plan: WeekPlan, weeks: int, at: Ints) -> dict[int, int]:
    values: dict[int, int] = {}
    least = request.numbers.sets_least
    for week in range(weeks):
        done = week / max(weeks - 1, 1)
        for index, item in enumerate(plan):
            values[int(at[week, index])] = round(least + (item.sets - least) * done)
    return values
