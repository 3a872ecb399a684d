"""What more weekly sets are expected to bring, and how little is known about it.

Benefit is slope * sqrt(fractional weekly sets), level beyond `volume.benefit.level_after`: the
square-root form of Pelland et al. 2025. The slope is a mean with a wide SD, because a
meta-regression and the largest trial disagree by a factor of ten (see the policy's `why`)."""

import math
from dataclasses import dataclass

from blockwright.engine.policy import Policy


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """A difference of benefit, in standardised mean differences of muscle size."""

    mean: float
    sd: float


def benefit(sets: float, policy: Policy) -> float:
    """Expected growth from `sets` fractional weekly sets over a block or two: SMD, 0 at 0."""
    return policy.number("volume.benefit.slope") * _root(sets, policy)


def gain(before: float, after: float, policy: Policy) -> Gain:
    """What going from `before` to `after` weekly sets is expected to add (negative: to cost).

    The slope is one unknown, so the SD of a difference is the SD of the slope times it, not the
    root of two variances."""
    step = _root(after, policy) - _root(before, policy)
    return Gain(
        mean=policy.number("volume.benefit.slope") * step,
        sd=policy.number("volume.benefit.slope_sd") * abs(step),
    )


def _root(sets: float, policy: Policy) -> float:
    if sets < 0:
        raise ValueError(f"weekly sets cannot be negative: {sets}")
    return math.sqrt(min(sets, policy.number("volume.benefit.level_after")))
