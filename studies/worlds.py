"""The worlds simulated lifters live in: the model's own, and others it was not made for.

A world says how many repetitions a share of the day's 1RM allows, what earlier sets cost, how
people misjudge their reserve, and how logs go wrong. All figures here are inventions made to
stress the estimate (judgement), except where a source is named.
"""

from dataclasses import dataclass, replace

from blockwright.demo.laws import (
    Curve,
    DosedFatigue,
    ReserveFatigue,
    hyperbolic_curve,
    levelling_curve,
    model_curve,
    straight_curve,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """One law of nature for simulated lifters."""

    name: str
    curve: Curve = model_curve
    fatigue: type[DosedFatigue] | type[ReserveFatigue] = DosedFatigue
    steepness_mean: float = -0.10
    steepness_sd: float = 0.235
    phi: float = 0.265
    phi_ln_sd: float = 0.45
    rir_bias_mean: float = 0.25
    rir_bias_sd: float = 0.30
    day_sd: float = 0.018
    process_sd: float = 0.0035
    """ln per square root of a day."""
    drift_mean: float = 0.0004
    drift_sd: float = 0.0003
    tail_freedom: float | None = None
    """Degrees of freedom of the counting noise; None: normal."""
    noise: float = 1.0
    """Times the SD of a count, in blocks that are played (`simulate_block`)."""
    slip_share: float = 0.0
    """Share of sets typed wrong: tenfold, a tenth, pounds for kilograms, 20 kg off, a digit."""
    rir_missing_share: float = 0.0
    failure_share: float = 0.15
    """Share of sessions whose last set is taken to failure."""
    other_zone_share: float = 0.0
    """Share of sessions done lighter, for about six repetitions more."""


CLEAN = World(name="own law")
WORLDS = (
    CLEAN,
    World(name="own law, 1.1 % typing errors", slip_share=0.011),
    World(name="hyperbolic curve", curve=hyperbolic_curve, steepness_mean=0.0),
    World(name="levelling curve", curve=levelling_curve, steepness_mean=0.0),
    World(name="straight curve", curve=straight_curve, steepness_mean=0.0),
    World(name="reserve fatigue", fatigue=ReserveFatigue),
    World(name="large RIR bias", rir_bias_mean=0.80, rir_bias_sd=0.40),
    World(name="heavy tails", tail_freedom=4.0),
    World(name="two zones", other_zone_share=0.3),
    World(name="restless strength", process_sd=0.0075, drift_mean=0.0008, drift_sd=0.0005),
    World(
        name="foreign in everything",
        curve=hyperbolic_curve,
        steepness_mean=0.0,
        fatigue=ReserveFatigue,
        rir_bias_mean=0.5,
        rir_bias_sd=0.4,
        tail_freedom=4.0,
        slip_share=0.005,
        rir_missing_share=0.1,
        process_sd=0.0065,
        drift_mean=0.0006,
        other_zone_share=0.2,
    ),
)
NOISY = replace(
    next(world for world in WORLDS if world.name == "foreign in everything"),
    name="foreign and noisy",
    noise=1.6,
    process_sd=0.0075,
    drift_mean=0.001,
)
"""So noisy that even loads chosen by the true strength land in range in 55 % only."""
