"""Body weight: the trend of the last weigh-ins, how sure it is, and whether it is what the block's
energy phase asks for."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import sqrt
from statistics import NormalDist

from blockwright.engine.reasons import Reason
from blockwright.engine.training import Energy
from blockwright.engine.units import Unit, load_text

DAYS = 28
"""Weigh-ins older than this say little of the rate now (judgement)."""
_LEAST, _LEAST_SPAN = 4, 10
"""Weigh-ins and days between the first and the last without which no rate is told (judgement)."""
_Z = NormalDist().inv_cdf(0.9)
_WANTED = {"surplus": "weight_rises", "deficit": "weight_falls", "maintenance": "weight_level"}


@dataclass(frozen=True, slots=True, kw_only=True)
class WeightTrend:
    """A straight line through the weigh-ins of `DAYS` days, by least squares."""

    weigh_ins: tuple[tuple[date, float], ...]
    """Day and kg, in time order."""
    kg: float
    """The line on the last day."""
    per_week_kg: float
    spread_kg: float
    """Half of the 80 % interval of the rate."""

    @property
    def code(self) -> str:
        """Which of the three sentences it is; level where the interval holds no change."""
        if abs(self.per_week_kg) <= self.spread_kg:
            return "weight_level"
        return "weight_rises" if self.per_week_kg > 0 else "weight_falls"


def weight_trend(weigh_ins: Sequence[tuple[date, float]], today: date) -> WeightTrend | None:
    """The trend of (day, kg) up to `today`; None for too few, or too close together."""
    since = today - timedelta(days=DAYS)
    seen = sorted((day, kg) for day, kg in weigh_ins if since < day <= today)
    if len(seen) < _LEAST or (seen[-1][0] - seen[0][0]).days < _LEAST_SPAN:
        return None
    days = [float((day - seen[0][0]).days) for day, _ in seen]
    weights = [kg for _, kg in seen]
    n = len(seen)
    middle, mean = sum(days) / n, sum(weights) / n
    across = sum((day - middle) ** 2 for day in days)
    slope = sum((d - middle) * (kg - mean) for d, kg in zip(days, weights, strict=True)) / across
    left = sum((kg - mean - slope * (d - middle)) ** 2 for d, kg in zip(days, weights, strict=True))
    error = sqrt(left / (n - 2) / across)
    return WeightTrend(
        weigh_ins=tuple(seen),
        kg=mean + slope * (days[-1] - middle),
        per_week_kg=7 * slope,
        spread_kg=7 * error * _student(n - 2),
    )


def _student(freedom: int) -> float:
    """The 90 % quantile of Student's t, by Fisher's expansion (within 2 % from two degrees on)."""
    first = (_Z**3 + _Z) / (4 * freedom)
    second = (5 * _Z**5 + 16 * _Z**3 + 3 * _Z) / (96 * freedom**2)
    return _Z + first + second


def weight_finding(trend: WeightTrend, energy: Energy, unit: Unit) -> Reason:
    """What the trend says, beside what the block's phase asks."""
    low, high = trend.per_week_kg - trend.spread_kg, trend.per_week_kg + trend.spread_kg
    ends = sorted((abs(low), abs(high))) if trend.code != "weight_level" else (low, high)
    phase = "maintenance" if energy == "maintenance" else f"a {energy}"
    wanted = trend.code == _WANTED[energy]
    beside = f"as {phase} asks" if wanted else f"and the block is at {phase}"
    return Reason(
        code=trend.code,
        facts={
            "kg": load_text(round(trend.kg, 1), unit),
            "rate": load_text(round(abs(trend.per_week_kg), 2), unit),
            "low": load_text(round(ends[0], 2), unit),
            "high": load_text(round(ends[1], 2), unit),
            "beside": beside,
            "count": len(trend.weigh_ins),
            "days": DAYS,
        },
    )
