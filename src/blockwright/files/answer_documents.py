"""What the documents of single questions hold: policy, check, rack, clash, lifts, the estimate and
its backtest.

Each is written by `codec.document` and published by `schemas`; the verb of its name fills it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Literal

from blockwright.engine.change import Watch
from blockwright.engine.errors import Clash, ClashingRule, Problem
from blockwright.engine.lifts import ZONES
from blockwright.engine.policy import PolicyValue
from blockwright.engine.rack import Setting, WarmupSet
from blockwright.engine.reasons import FactValue
from blockwright.engine.strength import Interval, Score
from blockwright.engine.training import MUSCLES, REGIONS, Lift
from blockwright.engine.units import Unit
from .codec import Schema, document, special
from .lift_table import IN_ORDER, MOST_REPS, lift_fields
from .lifter_fields import FIELDS


@dataclass(frozen=True, slots=True)
class PolicyList:
    policy: tuple[PolicyValue, ...]


@dataclass(slots=True)
class CheckedFile:
    """What `check` finds in a file, one thing after another."""

    file: str
    kind: str = "unknown"
    errors: tuple[Problem, ...] = ()
    warnings: tuple[Problem, ...] = ()

    @property
    def path(self) -> Path:
        return Path(self.file)


@dataclass(frozen=True, slots=True)
class CheckedFiles:
    files: tuple[CheckedFile, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    load_kg: float
    plates_per_side: Mapping[str, int] | None
    order: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnChange:
    """What comes off and goes on, one side, before the next lifter's set."""

    to: Literal["partner", "lifter"]
    off: Mapping[str, int]
    on: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class TakingTurns:
    load_kg: float
    exact: bool
    lifter: Turn
    partner: Turn
    stays_on: Mapping[str, int]
    moves: tuple[TurnChange, TurnChange]
    moves_per_side: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RackLoad:
    load_kg: float
    unit: Unit
    lift: str | None
    bar: str | None
    exact: bool
    below: Setting | None
    above: Setting | None
    warmup: tuple[WarmupSet, ...]
    partner: TakingTurns | None


@dataclass(frozen=True, slots=True)
class Clashed:
    rules: tuple[ClashingRule, ...]
    give_up: tuple[ClashingRule, ...]


def clash_to_json(clash: Clash) -> dict[str, Any]:
    body = Clashed(tuple(clash.rules), tuple(clash.give_up))
    return document("clash", body)


@dataclass(frozen=True, slots=True)
class LiftList:
    lifts: tuple[Lift, ...]


def _object(properties: dict[str, Schema]) -> Schema:
    required = [key for key in properties if key != "rir_least"]
    return {"type": "object", "required": required, "properties": properties,
            "additionalProperties": False}  # fmt: skip


def _by(words: tuple[str, ...], value: Schema, says: str) -> Schema:
    return {"type": "object", "propertyNames": {"enum": list(words)},
            "additionalProperties": value, "description": says}  # fmt: skip


def _described(name: str) -> Schema:
    """The schema of a lift's field, as the lifter file's field of that name is described."""
    each = FIELDS[f"lift.{name}"]
    by_kind: dict[str, Schema] = {
        "number": {
            "type": "integer" if each.whole else "number",
            "minimum": each.low,
            "maximum": each.high,
        },
        "choice": {"enum": list(each.words)},
        "lines": {"type": "array", "items": _WORD},
        "answer": {"type": "boolean"},
        "text": _WORD,
    }
    return by_kind[each.kind] | {"description": each.label.removesuffix(", one a line")}


_WORD = {"type": "string", "minLength": 1}
_REPS = {"type": "integer", "minimum": 1, "maximum": MOST_REPS}
_SHARE = {"type": "number", "exclusiveMinimum": 0, "maximum": 1}
_SPECIAL = {
    "muscles": _by(MUSCLES, _SHARE, "Share of a set each muscle is counted for: 1 direct, 0.5 or "
                   "0.25 indirect.") | {"minProperties": 1},
    "kit": _described("kit") | {"uniqueItems": True},
    "reps": {
        "type": "array",
        "items": _object({"zone": {"enum": list(ZONES)}, "reps_low": _REPS, "reps_high": _REPS}),
        "description": "Usable repetitions by zone; a zone that does not suit the lift is absent.",
        "minItems": 1, "maxItems": 3,
    },
    "prefers": _described("prefers")
    | {"items": {"type": "string", "pattern": "^[0-9]+-[0-9]+$"}, "minItems": 1},
    "regions": _by(REGIONS, {"enum": [1, 2]}, "What it loads: 1 some, 2 much; absent none."),
    "caution": {"type": ["string", "null"], "minLength": 1},
    "own": {"type": "boolean", "description": "True for a lift from the lifter's file."},
}  # fmt: skip
_LIFT = _object({name: _SPECIAL.get(name) or _described(name) for name in (*IN_ORDER, "own")})
special(Lift, lambda lift: lift_fields(lift) | {"own": lift.own}, _LIFT)


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
