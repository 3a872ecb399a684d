"""Strength of each lift before the block and after it, with what stands between."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import NormalDist, fmean, variance
from typing import Literal

from blockwright.engine.strength import Beliefs, Interval, StrengthPoint

Heading = Literal["rising", "falling", "unsure"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftStrength:
    """One lift's belief, on the effective scale (kg)."""

    lift: str
    before_kg: Interval | None
    """On the eve of the block; None where the lift had never been logged."""
    after_kg: Interval
    trend_pct_per_week: Interval
    heading: Heading
    """By the 80 % interval of the trend: nine chances in ten that it is so."""
    sessions: int
    """In the block."""
    sets_used: int
    points: tuple[StrengthPoint, ...]
    """After each session from `since` on."""


def lifts_strength(
    before: Beliefs, after: Beliefs, names: Sequence[str], start: date, since: date
) -> tuple[LiftStrength, ...]:
    """Beliefs about the lifts of `names` that have evidence in the block."""
    found = []
    for name in names:
        belief, points = after.own(name), after.history(name)
        here = [point for point in points if point.day >= start]
        if belief is None or not here:
            continue
        old = before.own(name)
        trend = after.trend_pct_per_week(name)
        found.append(
            LiftStrength(
                lift=name,
                before_kg=None if old is None else old.one_rm_kg,
                after_kg=belief.one_rm_kg,
                trend_pct_per_week=trend,
                heading=heading_of(trend),
                sessions=len(here),
                sets_used=belief.sets_used,
                points=tuple(point for point in points if point.day >= since),
            )
        )
    return tuple(found)


@dataclass(frozen=True, slots=True)
class PooledGain:
    """The lifts known before and after the block, as one."""

    lifts: int
    pct: float
    """Mean change of the 1RM, in percent."""
    p_same_sign: float
    """Probability that the true mean has the sign of `pct`."""


def pooled_gain(strengths: Sequence[LiftStrength]) -> PooledGain | None:
    """The mean of the lifts' changes on the log scale; None where none was known before.

    Before and after of a lift are taken as independent, and the spread of the mean as the larger
    of what the beliefs and what the lifts among themselves say: both err on the wide side.
    """
    known = [(one.before_kg, one.after_kg) for one in strengths if one.before_kg is not None]
    if not known:
        return None
    changes = [math.log(after.median / before.median) for before, after in known]
    variances = [_log_sd(before) ** 2 + _log_sd(after) ** 2 for before, after in known]
    count, mean = len(known), fmean(changes)
    own = sum(variances) / count**2
    among = variance(changes) / count if count > 1 else 0.0
    sd = max(math.sqrt(max(own, among)), 1e-9)
    return PooledGain(count, 100 * math.expm1(mean), NormalDist().cdf(abs(mean) / sd))


def _log_sd(interval: Interval) -> float:
    """The SD of a belief on the log scale, from its 80 % interval."""
    return math.log(interval.high80 / interval.low80) / (2 * NormalDist().inv_cdf(0.9))


def shown_since(start: date, weeks: int = 4) -> date:
    """How far back before the block the pictures look."""
    return start - timedelta(days=7 * weeks)


def heading_of(trend: Interval) -> Heading:
    """What the 80 % interval of a trend says."""
    if trend.low80 > 0:
        return "rising"
    return "falling" if trend.high80 < 0 else "unsure"
