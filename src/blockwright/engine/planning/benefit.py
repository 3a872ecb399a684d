"""What a week's sets are worth when some of them have to go: one concave table a muscle.

Square root of sets, 1000 points at one set, times the emphasis, linear between knots of two sets
and flat beyond what the block reaches for; a set missing to the floor costs the policy's price on
top. Muscles that are trained along are worth nothing by themselves. Whole points by the quarter
set."""

from collections.abc import Mapping

from blockwright.engine.training import MUSCLES, Lifter
from .baseline import MuscleAim
from .limits import QUARTERS, PlanningLimits
from .patterns import ALONG

_KNOT_Q = 2 * QUARTERS
_MOST_Q = 60 * QUARTERS


def muscle_points(
    lifter: Lifter, aims: Mapping[str, MuscleAim], limits: PlanningLimits
) -> dict[str, tuple[int, ...]]:
    """By muscle: points of 0, 1, 2, ... quarter sets a week."""
    return {muscle: _table(lifter, muscle, aims[muscle], limits) for muscle in MUSCLES}


def _table(lifter: Lifter, muscle: str, aim: MuscleAim, limits: PlanningLimits) -> tuple[int, ...]:
    weight = limits.weight[lifter.emphasis_of(muscle)] * limits.muscle_weight[muscle]
    if muscle in ALONG and lifter.emphasis_of(muscle) != "lead":
        weight = 0.0
    floor_points = round(limits.policy.number("planning.price.floor") / QUARTERS * weight)
    points, table, last = 0, [0], None
    for q in range(_MOST_Q):
        knot = q // _KNOT_Q * _KNOT_Q
        rise = 1000 * weight * (((knot + _KNOT_Q) / 4) ** 0.5 - (knot / 4) ** 0.5)
        slope = round(rise / _KNOT_Q)
        last = slope if last is None else min(slope, last)
        points += (last if q < aim.end else 0) + (floor_points if q < aim.floor else 0)
        table.append(points)
    return tuple(table)


def points_of(table: tuple[int, ...], quarters: int) -> int:
    """Points of so many quarter sets."""
    return table[min(max(quarters, 0), len(table) - 1)]
