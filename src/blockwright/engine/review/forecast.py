"""Loads of later build weeks after a decision: forecasts, recomputed from the decided load.

    ln L(later) = ln L(decided) + kappa (psi(m decided) - psi(m later)) + growth * weeks
    m = bottom of the range + (1 + RIR bias) * RIR

with the endurance usual for the lift (no facts are at hand when a block is revised). Each step
keeps the limits of a raise; where the kit's step is too large the load stays.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.rack import Rack, hardest_moving
from blockwright.engine.review.loads import most_effective, step_limit_kg
from blockwright.engine.strength.curve import psi
from blockwright.engine.strength.law import lift_prior, strength_law
from blockwright.engine.training import (
    Entry,
    Lift,
    Lifter,
    SetPlan,
    effective_load_kg,
)


def later_loads(
    lift: Lift,
    lifter: Lifter,
    rack: Rack,
    policy: Policy,
    decided: SetPlan,
    later: Sequence[Entry],
) -> list[Entry]:
    """The entries of the build weeks after the decided one, with their loads recomputed."""
    made: list[Entry] = []
    before = decided
    for number, entry in enumerate(later, start=1):
        first = entry.sets[0]
        load = _next_load(lift, lifter, rack, policy, decided, before, first, number)
        made.append(with_load(entry, load, rack))
        before = made[-1].sets[0]
    return made


def with_load(entry: Entry, load_kg: float | None, rack: Rack, *, decided: bool = False) -> Entry:
    """The entry at another load; the range of a forecast moves with it, a decided load has none."""
    return replace(
        entry,
        sets=tuple(
            replace(
                planned,
                load_kg=load_kg,
                aim_low=None,
                aim_high=None,
                forecast_kg=None if decided else _moved(planned, load_kg, rack),
            )
            for planned in entry.sets
        ),
    )


def _moved(planned: SetPlan, load_kg: float | None, rack: Rack) -> tuple[float, float] | None:
    if planned.forecast_kg is None or not planned.load_kg or load_kg is None:
        return None
    ends = []
    for end in planned.forecast_kg:
        setting = rack.not_harder_than(max(load_kg * end / planned.load_kg, 0.0)) or rack.easiest
        ends.append(setting.load_kg)
    return min(*ends, load_kg), max(*ends, load_kg)


def _next_load(
    lift: Lift,
    lifter: Lifter,
    rack: Rack,
    policy: Policy,
    decided: SetPlan,
    before: SetPlan,
    asked: SetPlan,
    weeks: int,
) -> float | None:
    """The load of one later week: never below the week before, never past the limits."""
    if decided.load_kg is None or before.load_kg is None:
        return asked.load_kg
    start = effective_load_kg(lift, decided.load_kg, lifter.bodyweight_kg)
    last = effective_load_kg(lift, before.load_kg, lifter.bodyweight_kg)
    if start is None or last is None or start <= 0 or last <= 0:
        return before.load_kg
    wanted = start * math.exp(_ln_ease(lift, policy, decided, asked))
    wanted *= (1 + policy.number("load.growth_per_week")) ** weeks
    limit = min(most_effective(last, policy), last + step_limit_kg(lift, lifter, policy))
    setting = hardest_moving(rack, lift, min(wanted, limit), lifter.bodyweight_kg)
    made_kg = before.load_kg if setting is None else setting.load_kg
    effective = effective_load_kg(lift, made_kg, lifter.bodyweight_kg) or 0.0
    return made_kg if effective > last else before.load_kg


def _ln_ease(lift: Lift, policy: Policy, decided: SetPlan, asked: SetPlan) -> float:
    """How much more ln(load) the later set allows: fewer repetitions, less in reserve."""
    law = strength_law(policy)
    kappa = law.kappa * math.exp(lift_prior(lift, policy).endurance_mean)
    reps = np.array([decided.reps_low, asked.reps_low], dtype=float)
    rirs = np.array([decided.rir, asked.rir])
    m = reps + (1.0 + law.bias_mean) * rirs
    now, then = psi(m, law.curve_power).tolist()
    return kappa * float(now - then)
