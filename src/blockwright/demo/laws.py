"""The laws invented people obey, unlike the engine's: what a load allows, what a set costs.

The demo's people and the studies' simulated lifters all do their sets here (`Today`); what they
are like, what they are asked and how they type it is theirs. All figures are inventions made to
stress the estimate (judgement), except where a source is named.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import copysign, exp, log

import numpy as np

Curve = Callable[[float, float], float]
"""(load as a share of the day's 1RM, ln of the lifter's steepness) -> repetitions to failure."""


def model_curve(share: float, steepness: float) -> float:
    """The engine's own law: -ln(share) = kappa psi(m)."""
    value = -log(share) / (0.0335 * exp(steepness))
    return 1.0 + float(copysign(abs(value) ** (1 / 0.92), value))


def hyperbolic_curve(share: float, steepness: float) -> float:
    """Epley's form made individual: 1RM = load (1 + (m - 1) / 30 steepness)."""
    return 1.0 + (1.0 / share - 1.0) * 29.0 * exp(-steepness)


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


@dataclass(slots=True)
class ReserveFatigue:
    """Another law: a reserve of repetitions that a set empties and one time constant refills."""

    phi: float
    spent: float = 0.0

    def rest(self, seconds: float) -> None:
        self.spent *= exp(-seconds / 160.0)

    def share_left(self) -> float:
        return 1.0

    def reps_share_left(self) -> float:
        return 1.0 - self.spent

    def set_done(self, reps: float, to_failure: float) -> None:
        nearness = reps / max(to_failure, reps, 1.0)
        self.spent += (1.0 - self.spent) * min(2.6 * self.phi * nearness, 0.8)


Fatigue = DosedFatigue | ReserveFatigue


@dataclass(frozen=True, slots=True)
class Today:
    """One lift of one person on one day: what its sets come to."""

    curve: Curve
    steepness: float
    ln_one_rm: float
    """In effective kg, the day's own effect on it included."""
    rir_bias: float
    tired: Fatigue

    def reps_to_failure(self, load_kg: float) -> float:
        """At an effective load, as tired as the earlier sets left the lift."""
        share = load_kg / (exp(self.ln_one_rm) * self.tired.share_left())
        fresh = self.curve(min(max(share, 0.05), 1.3), self.steepness)
        return fresh * self.tired.reps_share_left()

    def reps_wanted(self, to_failure: float, rir: float) -> float:
        """Before any noise, of somebody who ends a set when `rir` seem to be left."""
        return to_failure - (1.0 + self.rir_bias) * rir

    def load_for(self, reps: float, rir: float, lowest: float) -> float:
        """The effective load that allows so many, unless tired: `lowest` share of the 1RM or
        more."""
        shares = np.linspace(lowest, 1.0, round((1.0 - lowest) / 0.005) + 1)
        wanted = reps + (1.0 + self.rir_bias) * rir
        allowed = np.array([self.curve(float(share), self.steepness) for share in shares])
        return exp(self.ln_one_rm) * float(shares[int(np.argmin(np.abs(allowed - wanted)))])


def counting_noise(rng: np.random.Generator, sd: float, freedom: float | None) -> float:
    """Repetitions by which a count is off: normal, or with the heavy tails of Student's t."""
    return float(rng.normal(0.0, sd) if freedom is None else sd * rng.standard_t(freedom))
