"""Strength of each lift before the block and after it, with what stands between."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
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


def shown_since(start: date, weeks: int = 4) -> date:
    """How far back before the block the pictures look."""
    return start - timedelta(days=7 * weeks)


def heading_of(trend: Interval) -> Heading:
    """What the 80 % interval of a trend says."""
    if trend.low80 > 0:
        return "rising"
    return "falling" if trend.high80 < 0 else "unsure"
