"""The lifter as a whole: session load, monotony, wellness against their own usual, bodyweight.

Session load and monotony: Foster 1998, MSSE 30:1164 (load = session RPE x minutes; monotony = mean
daily load / SD of daily load over seven days). The sources do not say which SD; we divide by 7 (the
population SD) and show the sample SD's figure beside it, because they can stand on either side of
the usual flag. Shown, never decisive alone. Wellness: Hooper & Mackinnon 1995, Sports Med 20:321,
four items of 1-7, a higher total is worse."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from statistics import fmean, stdev

from blockwright.engine.policy import Policy
from blockwright.engine.training import HOOPER_ITEMS, CheckIn, Measure


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionLoad:
    """Seven days of session load, in RPE x minutes."""

    days_known: int  # Training days with both RPE and minutes
    total: float
    monotony: float | None  # Population SD; None when every day is the same (SD 0)
    monotony_sample_sd: float | None
    strain: float | None  # Weekly load x monotony


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyweightTrend:
    pct_per_week: float
    weigh_ins: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LifterEvidence:
    """What the weeks say of the lifter as a whole; None where nobody said anything."""

    bodyweight: BodyweightTrend | None
    short_of_energy: bool
    """A deficit in the lifter file, or bodyweight falling faster than the policy's line."""


def lifter_evidence(
    checkins: Sequence[CheckIn], energy: str, policy: Policy, end: date
) -> LifterEvidence:
    """What the check-ins up to `end` say of the lifter."""
    known = [c for c in checkins if c.moment.day <= end]
    trend = bodyweight_trend(known, end, policy)
    falling = trend is not None and trend.pct_per_week <= -policy.number(
        "review.energy.fall_pct_per_week"
    )
    return LifterEvidence(
        bodyweight=trend,
        short_of_energy=energy == "deficit" or falling,
    )


def session_load(checkins: Iterable[CheckIn], start: date) -> SessionLoad | None:
    """The load of the seven days from `start`; None when no session has both RPE and minutes."""
    daily = [0.0] * 7
    known = 0
    end = start + timedelta(days=7)
    week = [c for c in checkins if start <= c.moment.day < end]
    for offset in range(7):
        today = [c for c in week if c.moment.day == start + timedelta(days=offset)]
        efforts = [c.value for c in today if c.measure == "session_rpe"]
        minutes = [c.value for c in today if c.measure == "session_minutes"]
        pairs = list(zip(efforts, minutes, strict=False))
        known += bool(pairs)
        daily[offset] = sum(rpe * length for rpe, length in pairs)
    if not known:
        return None
    return load_of_week(daily, known)


def load_of_week(daily: Sequence[float], days_known: int) -> SessionLoad:
    """Load, monotony and strain of seven daily loads (zero on days of rest)."""
    total = sum(daily)
    mean = total / len(daily)
    squares = sum((load - mean) ** 2 for load in daily)
    monotony, sample = (
        mean / math.sqrt(squares / n) if squares else None for n in (len(daily), len(daily) - 1)
    )
    return SessionLoad(
        days_known=days_known,
        total=total,
        monotony=monotony,
        monotony_sample_sd=sample,
        strain=None if monotony is None else total * monotony,
    )


def usual_of(before: Sequence[float], policy: Policy, of_least: float = 1.0) -> tuple[float, float]:
    """Mean and SD of earlier answers, the SD no less than a share of the policy's least."""
    return fmean(before), max(stdev(before), of_least * policy.number("review.wellness.least_sd"))


def hooper_totals(checkins: Iterable[CheckIn]) -> Mapping[date, float]:
    """The sum of the four items, 4-28, for each day on which all four were answered."""
    by_day: dict[date, dict[str, float]] = {}
    for found in checkins:
        if found.measure in HOOPER_ITEMS:
            by_day.setdefault(found.moment.day, {})[found.measure] = found.value
    return {
        day: sum(answers.values())
        for day, answers in by_day.items()
        if len(answers) == len(HOOPER_ITEMS)
    }


def bodyweight_trend(
    checkins: Iterable[CheckIn], through: date, policy: Policy
) -> BodyweightTrend | None:
    """Percent a week by least squares over the policy's window; None with too little to go by."""
    window = policy.number("review.energy.window_days")
    seen = [
        ((c.moment.day - through).days, c.value)
        for c in checkins
        if c.measure == "bodyweight" and 0 <= (through - c.moment.day).days < window
    ]
    days = max((d for d, _ in seen), default=0) - min((d for d, _ in seen), default=0)
    if len(seen) < policy.whole("review.energy.weigh_ins") or days < window / 3:
        return None
    mean_kg, slope = line_through(seen)[1:]
    return BodyweightTrend(pct_per_week=100 * 7 * slope / mean_kg, weigh_ins=len(seen))


def line_through(points: Sequence[tuple[float, float]]) -> tuple[float, float, float]:
    """The straight line through (x, y) by least squares: mean x, mean y, slope."""
    middle, mean = (fmean(each) for each in zip(*points, strict=True))
    across = sum((x - middle) ** 2 for x, _ in points)
    return middle, mean, sum((x - middle) * (y - mean) for x, y in points) / across


_MIDDLE = 4.0  # Of the scale of 1-7 (7 is worst): better answers are no complaint


def poor_week(
    checkins: Sequence[CheckIn], measure: Measure, start: date, end: date, policy: Policy
) -> bool:
    """Whether most of a week's answers, two at least, lie an SD or more above those before; of who
    has said too little for a usual, whether they are very poor."""
    mine = [c for c in checkins if c.measure == measure and c.moment.day <= end]
    before = [c.value for c in mine if c.moment.day < start]
    week = [c.value for c in mine if c.moment.day >= start]
    line = policy.number("review.read.very_poor")
    if len(before) >= policy.whole("review.wellness.usual_from"):
        line = max(sum(usual_of(before, policy, 0.5)), _MIDDLE)
    poor = sum(value >= line for value in week)
    return poor >= 2 and poor > len(week) / 2
