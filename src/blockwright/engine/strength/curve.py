"""Repetitions to failure against load, and the noise of a counted set.

    ln(load) = ln(1RM) + day - phi * fatigue - kappa * psi(m),   psi(m) = sign(m-1) |m-1|^power

m is the number of repetitions to failure, kappa the lifter's own endurance on the lift (small
kappa: many repetitions). All functions work elementwise on arrays."""

import numpy as np
from numpy.typing import NDArray

from .law import NoiseLaw

Floats = NDArray[np.float64]

NEAREST_TO_ONE = 0.25
"""The slope of psi has no bound at m = 1; it is taken no nearer than this many repetitions."""


def psi(reps_to_failure: Floats, power: float) -> Floats:
    """The curve's shape: 0 at one repetition, nearly straight above it."""
    beyond = reps_to_failure - 1.0
    return np.copysign(np.abs(beyond) ** power, beyond)


def psi_with_slope(reps_to_failure: Floats, power: float) -> tuple[Floats, Floats]:
    """`psi`, and d psi / d m, bounded near one repetition."""
    beyond = reps_to_failure - 1.0
    far = np.abs(beyond)
    size = far**power
    slope: Floats = np.maximum(size, NEAREST_TO_ONE**power)
    slope *= power
    slope /= np.maximum(far, NEAREST_TO_ONE)
    return np.copysign(size, beyond), slope


def reps_at(psi_value: Floats, power: float) -> Floats:
    """The inverse of `psi`: repetitions to failure (may fall below zero: the load is too much)."""
    return 1.0 + np.copysign(np.abs(psi_value) ** (1.0 / power), psi_value)


def count_variance(
    reps_to_failure: Floats, reps: Floats, rir: Floats, to_failure: Floats, noise: NoiseLaw
) -> Floats:
    """Variance, in repetitions squared, of reps + (1+b) RIR about the true m.

    Grows with the length of the set and, unless it ended in failure (`to_failure` 1.0, else 0.0),
    with the distance from failure (Hackett 2017, Zourdos 2021)."""
    length = noise.reps + noise.reps_slope * np.maximum(reps_to_failure, 0.0)
    said = noise.rir + noise.rir_slope * rir + noise.rir_long_slope * np.maximum(reps - 8.0, 0.0)
    rounding = (2.0 - to_failure) / 12.0
    variance: Floats = length * length + (1.0 - to_failure) * said * said + rounding
    return variance
