"""The laws invented people obey, unlike the engine's: what a load allows, what a set costs.

The demo's people and the studies' simulated lifters all do their sets here (`Today`); what they are
like, what they are asked and how they type it is theirs. All figures are inventions made to stress
the estimate (judgement), except where a source is named."""

from collections.abc import Callable
from dataclasses import dataclass
from math import exp
from typing import Protocol

import numpy as np

Curve = Callable[[float, float], float]
"""(load as a share of the day's 1RM, ln of the lifter's steepness) -> repetitions to failure."""


def hyperbolic_curve(share: float, steepness: float) -> float:
    """Epley's form made individual: 1RM = load (1 + (m - 1) / 30 steepness)."""
    return 1.0 + (1.0 / share - 1.0) * 29.0 * exp(-steepness)


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


class Fatigue(Protocol):
    """What earlier sets of the day cost the next one."""

    def rest(self, seconds: float) -> None: ...
    def share_left(self) -> float: ...
    def reps_share_left(self) -> float: ...
    def set_done(self, reps: float, to_failure: float) -> None: ...


@dataclass(frozen=True, slots=True)
class Today:
    """One lift of one person on one day: what its sets come to."""

    curve: Curve
    steepness: float
    ln_one_rm: float  # In effective kg, the day's own effect on it included
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
