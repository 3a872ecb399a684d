"""Masses as whole nanograms, so that kilogram and pound plates add up exactly side by side.

1 lb is 0.45359237 kg by definition, so a thousandth of a pound is 453,592,370 ng: whole."""

import math

from blockwright.engine.units import KG_PER_LB, Unit, in_unit, kg_from

NG_PER_KG = 10**12
_NG_PER_THOUSANDTH = {"kg": 10**9, "lb": round(KG_PER_LB * 10**9)}
EXACT_NG = 10**6  # How exactly the search over plates adds up: a milligram
SAME_LOAD_NG = 6 * 10**9
"""Two loads nearer than this (6 g) are the same load: a load is shown, and so typed, with two
decimals of a kilogram, and 50 lb typed as 22.68 kg is 50 lb."""


def mass_ng(value: float, unit: Unit) -> int:
    """A mass stamped on a thing, to a thousandth of its own unit, in ng."""
    return round(value * 1000) * _NG_PER_THOUSANDTH[unit]


def load_ng(load_kg: float) -> int:
    """A load asked for, kg, in ng. Raises ValueError when it is not a finite number."""
    if not math.isfinite(load_kg):
        raise ValueError(f"{load_kg} is not a load")
    return round(load_kg * NG_PER_KG)


def as_stamped(load_kg: float, unit: Unit) -> float:
    """The shortest number in `unit` that is the same load: 18.144 kg is a 40 lb dumbbell."""
    load = in_unit(load_kg, unit)
    nearest = (round(load, places) for places in range(3))
    return next((n for n in nearest if abs(kg_from(n, unit) - load_kg) < SAME_LOAD_KG), load)


def kg_of(ng: int) -> float:
    """ng in kg, correctly rounded: 45 lb gives 20.41165665."""
    return ng / NG_PER_KG


SAME_LOAD_KG = kg_of(SAME_LOAD_NG)
