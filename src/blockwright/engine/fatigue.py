"""Repetitions lost from set to set, and given back by rest.

A set leaves a dose, most of it fast to fade and some of it slow. The sum of what is left lowers
ln(load) by phi times itself on the next set (`strength` learns phi for each lifter and lift). Works
on single numbers and on numpy arrays alike. Imports policy only."""

from dataclasses import dataclass, fields
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from .policy import Policy

Floats = NDArray[np.float64]
Number = TypeVar("Number", float, Floats)


@dataclass(frozen=True, slots=True, kw_only=True)
class FatigueLaw:
    """The constants of the law; see `data/policy/strength.toml`, table `fatigue`."""

    dose_reps_power: float  # Power of m / 10, m = repetitions to failure
    dose_nearness_power: float  # Power of reps / m: a set far from failure costs little
    fast_share: float
    fast_tau_s: float
    slow_tau_s: float
    unknown_rest_s: float


def fatigue_law(policy: Policy) -> FatigueLaw:
    """The law's constants under this policy."""
    return FatigueLaw(**{f.name: policy.number(f"fatigue.{f.name}") for f in fields(FatigueLaw)})


def dose(reps: Number, reps_to_failure: Number, law: FatigueLaw) -> Number:
    """Fatigue one set adds: (m/10)^p (reps/m)^n, 1.0 for a set of ten to failure.

    `reps_to_failure` (m) is raised to `reps` where it lies below; zero repetitions add nothing."""
    done = np.maximum(reps, 0.0)
    to_failure = np.maximum(np.maximum(reps_to_failure, done), 1.0)
    power_of_m = law.dose_reps_power - law.dose_nearness_power
    added: Number = (
        done**law.dose_nearness_power * to_failure**power_of_m / 10.0**law.dose_reps_power
    )
    return added


@dataclass(frozen=True, slots=True)
class FatigueState:
    """What earlier sets of this lift have left in this session; zero when fresh."""

    fast: float = 0.0
    slow: float = 0.0

    @property
    def total(self) -> float:
        """The sum that lowers ln(load) by phi times itself."""
        return self.fast + self.slow

    def after_set(self, reps: float, reps_to_failure: float, policy: Policy) -> "FatigueState":
        """The state at the end of a set of `reps` that could have been `reps_to_failure`."""
        law = fatigue_law(policy)
        added = float(dose(float(reps), float(reps_to_failure), law))
        return FatigueState(
            fast=self.fast + law.fast_share * added, slow=self.slow + (1.0 - law.fast_share) * added
        )

    def rested(self, rest_s: float | None, policy: Policy) -> "FatigueState":
        """The state after `rest_s` seconds of rest (the policy's usual rest when None)."""
        law = fatigue_law(policy)
        seconds = law.unknown_rest_s if rest_s is None else max(rest_s, 0.0)
        return FatigueState(
            fast=float(self.fast * np.exp(-seconds / law.fast_tau_s)),
            slow=float(self.slow * np.exp(-seconds / law.slow_tau_s)),
        )
