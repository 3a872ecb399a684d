"""Body weight and girths: the trend of the last measurements, how sure it is, and whether a weight
does what the block's energy phase asks for."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import sqrt
from statistics import NormalDist

from blockwright.engine.reasons import Reason, because
from blockwright.engine.review.wellness import line_through
from blockwright.engine.training import Energy, Measure
from blockwright.engine.units import CM_PER_IN, Unit, load_text, number_text

DAYS = 28
"""Weigh-ins older than this say little of the rate now (judgement)."""
GIRTH_DAYS = 84
"""A tape is laid less often than a scale is stood on, and a girth moves slowly (judgement)."""
_LEAST, _LEAST_SHARE = 4, 0.36
"""Measurements, and the share of the days from the first to the last, without which no rate is told
(judgement)."""
_Z = NormalDist().inv_cdf(0.9)
_WANTED = {"surplus": "rises", "deficit": "falls", "maintenance": "level"}
_WEIGHT = {"rises": "weight_rises", "falls": "weight_falls", "level": "weight_level"}
_GIRTH = {"rises": "girth_rises", "falls": "girth_falls", "level": "girth_level"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """A straight line through measurements, by least squares."""

    seen: tuple[tuple[date, float], ...]
    """Day and value, in time order."""
    value: float
    """The line on the last day."""
    per_week: float
    spread: float
    """Half of the 80 % interval of the rate."""

    @property
    def way(self) -> str:
        """Level where the interval holds no change."""
        if abs(self.per_week) <= self.spread:
            return "level"
        return "rises" if self.per_week > 0 else "falls"

    @property
    def ends(self) -> tuple[float, float]:
        """The 80 % interval of the rate, of a rise or fall without its sign."""
        low, high = self.per_week - self.spread, self.per_week + self.spread
        return (
            (low, high)
            if self.way == "level"
            else (min(abs(low), abs(high)), max(abs(low), abs(high)))
        )


def trend_of(measured: Sequence[tuple[date, float]], today: date, days: int = DAYS) -> Trend | None:
    """The trend of (day, value) in the `days` up to `today`; None for too few, or too close
    together."""
    since = today - timedelta(days=days)
    seen = sorted((day, value) for day, value in measured if since < day <= today)
    if len(seen) < _LEAST or (seen[-1][0] - seen[0][0]).days < _LEAST_SHARE * (days - 1):
        return None
    points = [(float((day - seen[0][0]).days), value) for day, value in seen]
    n = len(seen)
    middle, mean, slope = line_through(points)
    across = sum((day - middle) ** 2 for day, _ in points)
    left = sum((value - mean - slope * (day - middle)) ** 2 for day, value in points)
    error = sqrt(left / (n - 2) / across)
    return Trend(
        seen=tuple(seen),
        value=mean + slope * (points[-1][0] - middle),
        per_week=7 * slope,
        spread=7 * error * _student(n - 2),
    )


def _student(freedom: int) -> float:
    """The 90 % quantile of Student's t, by Fisher's expansion (within 2 % from two degrees on)."""
    first = (_Z**3 + _Z) / (4 * freedom)
    second = (5 * _Z**5 + 16 * _Z**3 + 3 * _Z) / (96 * freedom**2)
    return _Z + first + second


def weight_finding(trend: Trend, energy: Energy, unit: Unit) -> Reason:
    """What the trend of a body weight says, beside what the block's phase asks."""
    phase = "maintenance" if energy == "maintenance" else f"a {energy}"
    wanted = trend.way == _WANTED[energy]
    beside = f"as {phase} asks" if wanted else f"and the block is at {phase}"
    low, high = trend.ends
    return because(
        _WEIGHT[trend.way],
        kg=load_text(round(trend.value, 1), unit),
        rate=load_text(round(abs(trend.per_week), 2), unit),
        low=load_text(round(low, 2), unit),
        high=load_text(round(high, 2), unit),
        beside=beside,
        count=len(trend.seen),
        days=DAYS,
    )


def girth_finding(girth: Measure, trend: Trend, unit: Unit) -> Reason:
    """What the trend of a girth says; in inches for who works in pounds."""
    scale, word = (CM_PER_IN, "in") if unit == "lb" else (1.0, "cm")
    low, high = (number_text(end / scale, 2) for end in trend.ends)
    return because(
        _GIRTH[trend.way],
        girth=girth,
        now=f"{number_text(trend.value / scale, 1)} {word}",
        rate=f"{number_text(abs(trend.per_week) / scale, 2)} {word}",
        low=low,
        high=f"{high} {word}",
        count=len(trend.seen),
        weeks=GIRTH_DAYS // 7,
    )
