"""Did a lift keep its level? Each session's capacity against a one-level reference before it.

The reference wanders as the watch's does and expects no growth: a plateau is matched.
Filter-state innovations soak up a fall and would see half of it (engine/change), so capacities
are compared, and what weeks usually do is weighed in (`UsualChanges`).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.engine.change.reference import Level, LevelLaw
from blockwright.engine.policy import Policy
from blockwright.engine.training import SessionCapacity


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Difference of ln capacity between a span of days and what came before; 0.01 is 1 %."""

    mean: float
    sd: float

    def p_above(self, difference: float, usual: "UsualChanges") -> float:
        """P(the true difference lies above `difference`), given what weeks usually do."""
        weighed = [
            (share * _density(self.mean, mean, math.hypot(sd, self.sd)), mean, sd)
            for share, mean, sd in usual.kinds
        ]
        total = sum(weight for weight, _, _ in weighed)
        if total <= 0:
            return float(self.mean > difference)
        above = 0.0
        for weight, mean, sd in weighed:
            gain = sd * sd / (sd * sd + self.sd * self.sd)
            middle = mean + gain * (self.mean - mean)
            above += weight * normal_cdf((middle - difference) / (sd * math.sqrt(1.0 - gain)))
        return above / total


@dataclass(frozen=True, slots=True)
class UsualChanges:
    """What is believed of a week's change before it is seen: (share, mean, SD) of the weeks that
    were recovered from and of those that were not. One measurement is noisy: without this, one
    unlucky session in ten would read as a fall."""

    kinds: tuple[tuple[float, float, float], ...]

    @staticmethod
    def of(policy: Policy) -> "UsualChanges":
        n = policy.number
        fallen = n("review.usual.fall_share")
        return UsualChanges(
            (
                (1.0 - fallen, n("review.usual.kept_mean"), n("review.usual.kept_sd")),
                (fallen, n("review.usual.fall_mean"), n("review.usual.fall_sd")),
            )
        )


def _density(value: float, mean: float, sd: float) -> float:
    z = (value - mean) / sd
    return math.exp(-0.5 * z * z) / sd


def normal_cdf(z: float) -> float:
    """P(Z <= z) of the standard normal."""
    return 0.5 * math.erfc(-z / math.sqrt(2.0))


def followed(level: Level | None, found: SessionCapacity, law: LevelLaw) -> Level:
    """The level after one more session; it starts anew after a long gap."""
    if level is None or (found.day - level.day).days > law.gap_days:
        return law.anew(found)
    return law.compared(level, found)[1]


def change_from(
    level: Level | None, inside: Sequence[SessionCapacity], law: LevelLaw
) -> Change | None:
    """What the sessions `inside` a span say against the level before them.

    Where nothing comes before within the gap, the span's own first session is the level. None
    when there is nothing to compare: a break is not a fall.
    """
    if not inside:
        return None
    if level is None or (inside[0].day - level.day).days > law.gap_days:
        level = followed(None, inside[0], law)
        inside = inside[1:]
        if not inside:
            return None
    precision = [1.0 / (found.variance + law.day_variance) for found in inside]
    mean = sum(p * f.ln_capacity for p, f in zip(precision, inside, strict=True)) / sum(precision)
    variance = 1.0 / sum(precision) + level.variance
    return Change(mean=mean - level.mean, sd=math.sqrt(variance))


def pooled(changes: Sequence[tuple[float, Change]], correlation: float) -> Change | None:
    """Several lifts' changes as one, by weight, their errors correlated; None without weight."""
    total = sum(weight for weight, _ in changes)
    if total <= 0:
        return None
    parts = [(weight / total, change) for weight, change in changes]
    own = sum((share * change.sd) ** 2 for share, change in parts)
    joint = sum(share * change.sd for share, change in parts) ** 2
    return Change(
        mean=sum(share * change.mean for share, change in parts),
        sd=math.sqrt((1.0 - correlation) * own + correlation * joint),
    )
