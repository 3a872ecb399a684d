"""What a session was expected to show: a one-level reference per lift, and the surprise.

The level wanders with the same daily spread as `strength`'s state, but the reference sees one
number a session, so a fall is not soaked up by that session's own day effect. No growth is
expected of the level: a plateau is not a fall.
"""

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.policy import Policy
from blockwright.engine.training import SessionCapacity


@dataclass(frozen=True, slots=True, kw_only=True)
class Surprise:
    """How one exposure compares with the exposures before it."""

    day: date
    deviation: float | None
    """In SDs, negative: lower than expected. None where nothing was expected yet."""


@dataclass(frozen=True, slots=True)
class _Reference:
    """The level of one lift: ln kg and variance, and the day it was last seen."""

    day: date
    level: float
    variance: float


@dataclass(frozen=True, slots=True)
class _Spread:
    """The SD that standardised surprises really have: a starting value and what was seen."""

    squares: float
    count: float

    @property
    def sd(self) -> float:
        return math.sqrt(self.squares / self.count)

    def seen(self, deviation: float) -> "_Spread":
        return _Spread(self.squares + deviation * deviation, self.count + 1)


@dataclass(frozen=True, slots=True)
class _Rules:
    day_variance: float
    wander_variance_per_day: float
    gap_days: float
    clip_sd: float

    @staticmethod
    def of(policy: Policy) -> "_Rules":
        return _Rules(
            day_variance=policy.number("watch.day_sd") ** 2,
            wander_variance_per_day=policy.number("watch.process_sd_per_sqrt_day") ** 2,
            gap_days=policy.number("watch.gap_days"),
            clip_sd=policy.number("watch.clip_sd"),
        )


def surprises(
    capacities: Sequence[SessionCapacity], policy: Policy, *, restarts: Collection[date] = ()
) -> tuple[Surprise, ...]:
    """One lift's exposures in order of time, each against those before it.

    The reference begins anew, and the deviation is None, on the first exposure, after a gap of
    more than `watch.gap_days`, and on the first exposure on or after a day of `restarts`.
    """
    return tuple(_surprises(sorted(capacities, key=lambda c: c.day), policy, restarts))


def begins_anew(last: date | None, now: date, gap_days: float, restarts: Collection[date]) -> bool:
    """Whether a chart last fed on `last` starts again on `now`."""
    if last is None or (now - last).days > gap_days:
        return True
    return any(last < restart <= now for restart in restarts)


def _surprises(
    ordered: Sequence[SessionCapacity], policy: Policy, restarts: Collection[date]
) -> Iterator[Surprise]:
    rules = _Rules.of(policy)
    weight = policy.number("watch.realised_sd_weight")
    spread = _Spread(policy.number("watch.realised_sd") ** 2 * weight, weight)
    known: _Reference | None = None
    for found in ordered:
        noise = found.variance + rules.day_variance
        if known is None or begins_anew(known.day, found.day, rules.gap_days, restarts):
            known = _Reference(found.day, found.ln_capacity, noise)
            yield Surprise(day=found.day, deviation=None)
            continue
        raw, known = _compared(known, found, noise, rules, spread.sd)
        yield Surprise(day=found.day, deviation=raw / spread.sd)
        spread = spread.seen(raw)


def _compared(
    known: _Reference, found: SessionCapacity, noise: float, rules: _Rules, spread_sd: float
) -> tuple[float, _Reference]:
    """The clipped standardised surprise before division by the spread, and the new level."""
    expected_variance = (
        known.variance + rules.wander_variance_per_day * (found.day - known.day).days
    )
    sd = math.sqrt(expected_variance + noise)
    # one wild session may neither sound the chart alone nor drag the level with it
    bound = rules.clip_sd * spread_sd
    raw = max(-bound, min(bound, (found.ln_capacity - known.level) / sd))
    gain = expected_variance / (expected_variance + noise)
    moved = _Reference(found.day, known.level + gain * raw * sd, expected_variance * (1 - gain))
    return raw, moved
