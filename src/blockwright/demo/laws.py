"""The laws invented people obey, unlike the engine's: what a load allows, what a set costs.

The demo's people and the studies' simulated lifters obey these. All figures are inventions made
to stress the estimate (judgement), except where a source is named.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import copysign, exp, log

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
