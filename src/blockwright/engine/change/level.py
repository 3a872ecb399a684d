"""The level a lift is compared with: one number that wanders, learnt from sessions before.

It wanders with the same daily spread as `strength`'s state, but sees one number a session, so a
fall is not soaked up by that session's own day effect. No growth is expected of it: a plateau is
not a fall.
"""

import math
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
