"""The worlds simulated lifters live in: the model's own, and others it was not made for.

A world says how many repetitions a share of the day's 1RM allows, what earlier sets cost, how
people misjudge their reserve, and how logs go wrong. All figures here are inventions made to
stress the estimate (judgement), except where a source is named.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import copysign, exp, log

from blockwright.demo.laws import Curve, Fatigue, ReserveFatigue, hyperbolic_curve


def model_curve(share: float, steepness: float) -> float:
    """The engine's own law: -ln(share) = kappa psi(m)."""
    value = -log(share) / (0.0335 * exp(steepness))
    return 1.0 + float(copysign(abs(value) ** (1 / 0.92), value))


def levelling_curve(share: float, steepness: float) -> float:
    """A two-parameter exponential that levels off at 40 % of 1RM (form: Mitter et al. 2022)."""
    above = max(share - 0.40, 0.01) / 0.60
    return 1.0 - 18.0 * exp(-steepness) * log(above)


def straight_curve(share: float, steepness: float) -> float:
    """Brzycki's form made individual: each repetition costs the same share of 1RM."""
    return 1.0 + (1.0 - share) * 40.0 * exp(-steepness)


@dataclass(slots=True)
class DosedFatigue:
    """The engine's own law of fatigue: lowers ln(load) by phi times what is left of the doses."""

    phi: float
    fast: float = 0.0
    slow: float = 0.0

    def rest(self, seconds: float) -> None:
        self.fast *= exp(-seconds / 90.0)
        self.slow *= exp(-seconds / 3000.0)

    def share_left(self) -> float:
        return exp(-self.phi * (self.fast + self.slow))

    def reps_share_left(self) -> float:
        return 1.0

    def set_done(self, reps: float, to_failure: float) -> None:
        m = max(to_failure, reps, 1.0)
        added = (m / 10.0) ** 0.95 * (reps / m) ** 1.7
        self.fast += 0.85 * added
        self.slow += 0.15 * added


@dataclass(frozen=True, slots=True, kw_only=True)
class World:
    """One law of nature for simulated lifters."""

    name: str
    curve: Curve = model_curve
    fatigue: Callable[[float], Fatigue] = DosedFatigue
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
