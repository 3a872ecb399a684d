"""The level a lift is compared with, and how far each session stood from it: the surprise.

The level is one number that wanders with the same daily spread as `strength`'s state, but it sees
one number a session, so a fall is not soaked up by that session's own day effect. No growth is
expected of it: a plateau is not a fall."""

import math
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.policy import Policy
from blockwright.engine.training import SessionCapacity


@dataclass(frozen=True, slots=True)
class Level:
    """Ln kg and variance, as of the day it was last seen."""

    day: date
    mean: float
    variance: float


@dataclass(frozen=True, slots=True)
class LevelLaw:
    """What moves a level from one exposure to the next."""

    day_variance: float
    wander_per_day: float
    gap_days: float

    @staticmethod
    def of(policy: Policy) -> "LevelLaw":
        """Day effect and wander of the watch; anew after `watch.gap_days`."""
        return LevelLaw(
            day_variance=policy.number("watch.day_sd") ** 2,
            wander_per_day=policy.number("watch.process_sd_per_sqrt_day") ** 2,
            gap_days=policy.number("watch.gap_days"),
        )

    def anew(self, found: SessionCapacity) -> Level:
        """A level that starts with a session."""
        return Level(found.day, found.ln_capacity, found.variance + self.day_variance)

    def compared(
        self, level: Level, found: SessionCapacity, bound: float = math.inf
    ) -> tuple[float, Level]:
        """How many SDs a session lies above the level, at most `bound`, and the level after it."""
        noise = found.variance + self.day_variance
        expected = level.variance + self.wander_per_day * (found.day - level.day).days
        sd = math.sqrt(expected + noise)
        raw = max(-bound, min(bound, (found.ln_capacity - level.mean) / sd))
        gain = expected / (expected + noise)
        return raw, Level(found.day, level.mean + gain * raw * sd, expected * (1.0 - gain))


@dataclass(frozen=True, slots=True, kw_only=True)
class Surprise:
    """How one exposure compares with the exposures before it."""

    day: date
    deviation: float | None
    """In SDs, negative: lower than expected. None where nothing was expected yet."""


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


def surprises(
    capacities: Sequence[SessionCapacity], policy: Policy, *, restarts: Collection[date] = ()
) -> tuple[Surprise, ...]:
    """One lift's exposures in order of time, each against those before it.

    The reference begins anew, and the deviation is None, on the first exposure, after a gap of more
    than `watch.gap_days`, and on the first exposure on or after a day of `restarts`."""
    return tuple(_surprises(sorted(capacities, key=lambda c: c.day), policy, restarts))


def begins_anew(last: date | None, now: date, gap_days: float, restarts: Collection[date]) -> bool:
    """Whether a chart last fed on `last` starts again on `now`."""
    if last is None or (now - last).days > gap_days:
        return True
    return any(last < restart <= now for restart in restarts)


def _surprises(
    ordered: Sequence[SessionCapacity], policy: Policy, restarts: Collection[date]
) -> Iterator[Surprise]:
    law, clip_sd = LevelLaw.of(policy), policy.number("watch.clip_sd")
    weight = policy.number("watch.realised_sd_weight")
    spread = _Spread(policy.number("watch.realised_sd") ** 2 * weight, weight)
    level: Level | None = None
    for found in ordered:
        if level is None or begins_anew(level.day, found.day, law.gap_days, restarts):
            level = law.anew(found)
            yield Surprise(day=found.day, deviation=None)
            continue
        # one wild session may neither sound the chart alone nor drag the level with it
        raw, level = law.compared(level, found, clip_sd * spread.sd)
        yield Surprise(day=found.day, deviation=raw / spread.sd)
        spread = spread.seen(raw)
