"""Strength of each lift before the block and after it, with what stands between."""

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist, fmean, variance
from typing import Literal

from blockwright.engine.reasons import Certainty, certainty_word
from blockwright.engine.strength import Beliefs, Interval, StrengthPoint

Heading = Literal["rising", "falling", "unsure"]
CLEAR_PCT = 2.0
"""A smaller change is told as held, however sure: a day's noise is as large (judgement)."""
FEWEST_SESSIONS = 3  # Fewer of a lift tell no change (judgement)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What the block did to a lift, in percent."""

    pct: float
    sd: float
    certainty: Certainty  # How surely the true change has the sign of `pct`


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftStrength:
    """One lift's belief, on the effective scale (kg)."""

    lift: str
    before_kg: Interval | None  # On the eve of the block; None where the lift had never been logged
    after_kg: Interval
    trend_pct_per_week: Interval
    heading: Heading  # By the 80 % interval of the trend: nine chances in ten that it is so
    gain: Gain | None
    """Over the block; None from fewer than `FEWEST_SESSIONS`, or where the loads were
    too light to judge by."""
    sessions: int  # In the block
    sets_used: int
    points: tuple[StrengthPoint, ...]  # After each session from `since` on


def lifts_strength(
    before: Beliefs,
    after: Beliefs,
    names: Sequence[str],
    start: date,
    since: date,
    light: Collection[str] = (),
) -> tuple[LiftStrength, ...]:
    """Beliefs about the lifts of `names` that have evidence in the block; those of `light` loads
    have no gain."""
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
                gain=gain_of(trend, (here[-1].day - here[0].day).days / 7)
                if len(here) >= FEWEST_SESSIONS and name not in light
                else None,
                sessions=len(here),
                sets_used=belief.sets_used,
                points=tuple(point for point in points if point.day >= since),
            )
        )
    return tuple(found)


@dataclass(frozen=True, slots=True)
class PooledGain:
    """The block's lifts as one."""

    lifts: int
    pct: float  # Mean change over the block, in percent
    p_same_sign: float  # Probability that the true mean has the sign of `pct`


def gain_of(trend: Interval, weeks: float) -> Gain:
    """A lift's change over so many weeks of its trend: what was lifted in the block against what
    was lifted in the block, never against a belief from other ranges before it."""
    p = NormalDist().cdf(abs(trend.median) / trend.sd)
    pct, sd = round(weeks * trend.median, 2), round(weeks * trend.sd, 3)
    return Gain(pct=pct, sd=sd, certainty=certainty_word(p))


def pooled_gain(strengths: Sequence[LiftStrength], correlation: float) -> PooledGain | None:
    """The mean of the lifts' changes; None where none can be told.

    Its variance is the larger of what the trends say, taken as correlated, and what the lifts say
    among themselves: both err on the wide side."""
    gains = [one.gain for one in strengths if one.gain is not None]
    if not gains:
        return None
    changes, count = [gain.pct for gain in gains], len(gains)
    own = fmean(gain.sd**2 for gain in gains) * (1 + (count - 1) * correlation) / count
    among = variance(changes) / count if count > 1 else 0.0
    mean, sd = fmean(changes), max(math.sqrt(max(own, among)), 1e-9)
    return PooledGain(count, mean, NormalDist().cdf(abs(mean) / sd))


def is_clear(pct: float, certainty: str) -> bool:
    """Whether a change over a block is told as one."""
    return abs(pct) >= CLEAR_PCT and certainty != "even"


def told_gain(pct: float, certainty: str) -> str:
    """ "about 3 % stronger, likely"."""
    return f"about {abs(round(pct))} % {'stronger' if pct > 0 else 'weaker'}, {certainty}"


def heading_of(trend: Interval) -> Heading:
    """What the 80 % interval of a trend says."""
    if trend.low80 > 0:
        return "rising"
    return "falling" if trend.high80 < 0 else "unsure"
