"""Usual slips of the pen, a point too far or the other unit: what a set was meant to be."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from math import inf, log
from typing import Literal

from blockwright.engine.training import Lift
from blockwright.engine.units import KG_PER_LB

Slip = Literal["ten_times", "a_tenth", "pounds_as_kg", "kg_as_pounds"]
SuspicionKind = Literal[
    "ten_times", "a_tenth", "pounds_as_kg", "kg_as_pounds", "far_above", "many_reps",
    "unit_switch", "session_again", "beyond_anyone", "one_of_two", "unlikely",
    "few_reps",
]  # fmt: skip

SLIPS: Mapping[Slip, float] = {
    "ten_times": 0.1,
    "a_tenth": 10.0,
    "pounds_as_kg": KG_PER_LB,
    "kg_as_pounds": 1 / KG_PER_LB,
}
"""What a load must be multiplied by to undo the mistake."""
_OF_THE_WAY = 1 / 3
"""A slip explains a set when it leaves no more of its distance unexplained (judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspicion:
    """One question about one set. Loads in kg as written on the sheet."""

    kind: SuspicionKind
    usual_kg: float | None = None  # A usual load of this lift at these repetitions
    meant_kg: float | None = None  # What the load would be if the guess is right
    like_row: int | None = None
    """The row an equal, earlier session begins at; the row of the other one of two."""
    is_heavier: bool = False  # Of two sets ten times apart, whether this one is the heavier


def written_of(lift: Lift | None, load_kg: float, moved_kg: float, wanted_kg: float) -> float:
    """What to write to move `wanted_kg` where `load_kg` written moves `moved_kg`; not below 0."""
    change = wanted_kg - moved_kg
    helps = lift is not None and lift.load_kind == "assisted"
    return max(load_kg - change if helps else load_kg + change, 0.0)


def likeliest_slip(
    lift: Lift | None,
    load_kg: float,
    moved_kg: float,
    away: float,
    near: Mapping[Slip, float],
    but: Collection[Slip] = (),
) -> tuple[Slip, float] | None:
    """The slip that explains a set best and the load in kg as it is written without it, or None.

    `moved_kg`: the effective load that `load_kg` makes, bodyweight included, which no slip changes.
    `away`: ln of how far the set is above the usual. `near`: how near to the usual the load must
    come, in ln."""
    helps = lift is not None and lift.load_kind == "assisted"
    best: tuple[float, Slip, float] | None = None
    for slip, factor in SLIPS.items():
        change = load_kg * (factor - 1)
        moved = moved_kg - change if helps else moved_kg + change
        miss = inf if moved <= 0 else abs(away + log(moved / moved_kg))
        if miss <= min(near[slip], abs(away) * _OF_THE_WAY) and (best is None or miss < best[0]):
            best = miss, slip, load_kg * factor
    return None if best is None or best[1] in but else (best[1], best[2])


def lacks_digit(reps: int, rir: float | None, pain: float | None, others: Sequence[int]) -> bool:
    """Whether a set's repetitions are the first digit of what `others` at its load or more have
    ("1" for 10). Who fails that early says so: nothing left, or that it hurts."""
    if rir == 0 or pain or not 0 < 2 * reps < min(others, default=0):
        return False
    return 10 * reps <= max(others) + 2 and 10 * reps + 9 >= min(others)
