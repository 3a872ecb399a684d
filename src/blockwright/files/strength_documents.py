"""What the documents of the estimate and of its backtest hold; see `answer_documents`."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from blockwright.engine.change import Watch
from blockwright.engine.reasons import FactValue
from blockwright.engine.strength import Interval, Score


@dataclass(frozen=True, slots=True)
class RepsAtLoad:
    load_kg: float
    reps: Interval


@dataclass(frozen=True, slots=True, kw_only=True)
class SetToLookAt:
    code: str
    says: str
    when: date
    set: int
    row: int
    facts: Mapping[str, FactValue]


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftEstimate:
    lifter: str | None
    lift: str
    as_of: date
    one_rm_kg: Interval | None
    reps_at_load: tuple[RepsAtLoad, ...]
    trend_pct_per_week: Interval | None
    sets_used: int
    watch: Watch
    flags: tuple[SetToLookAt, ...]


@dataclass(frozen=True, slots=True)
class PooledWatch:
    lifter: str | None
    pooled_watch: Watch


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthEstimate:
    """Strength per lift, as of `through` or each lift's last set."""

    through: date | None
    lifts: tuple[LiftEstimate, ...]
    lifters: tuple[PooledWatch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPredicted:
    when: str
    lifter: str | None
    lift: str
    set: int
    load_kg: float
    reps: int
    rir: float | None
    reps_to_failure: float | None
    predicted: Interval | None
    skipped: str | None
    flagged: bool
    row: int


@dataclass(frozen=True, slots=True)
class SetsPredicted:
    rows: tuple[SetPredicted, ...]
    summary: Score
