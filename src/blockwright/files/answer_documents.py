"""What the documents of single questions hold: policy, check, rack, clash, lifts.

Each is written by `codec.document` and published by `schemas`; the verb of its name fills it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from blockwright.engine.errors import Clash, ClashingRule, Problem
from blockwright.engine.policy import PolicyValue
from blockwright.engine.rack import Setting, WarmupSet
from blockwright.engine.training import MUSCLES, REGIONS, ROLES, ZONES, Lift
from blockwright.engine.units import Unit
from blockwright.files.codec import document, special
from blockwright.files.codec_tables import Schema
from blockwright.files.lift_table import MOST_REPS, lift_fields
from blockwright.files.lifter_fields import FIELDS
from blockwright.files.vocabulary import FATIGUE_GROUPS, LOAD_KINDS, STABILITIES


@dataclass(frozen=True, slots=True)
class PolicyList:
    """Every number a coach may change."""

    policy: tuple[PolicyValue, ...]


@dataclass(frozen=True, slots=True)
class CheckedFile:
    """What was found in one file."""

    file: str
    kind: str
    errors: tuple[Problem, ...]
    warnings: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class CheckedFiles:
    """The files in the order in which they were named."""

    files: tuple[CheckedFile, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One lifter's loading of a shared bar."""

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
    """Two lifters on one bar."""

    load_kg: float
    exact: bool
    lifter: Turn
    partner: Turn
    stays_on: Mapping[str, int]
    moves: tuple[TurnChange, TurnChange]
    moves_per_side: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RackLoad:
    """What a load needs."""

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
    """What the document holds."""

    rules: tuple[ClashingRule, ...]
    give_up: tuple[ClashingRule, ...]


def clash_to_json(clash: Clash) -> dict[str, Any]:
    """The `blockwright/clash/1` document."""
    body = Clashed(tuple(clash.rules), tuple(clash.give_up))
    return document("clash", body)


@dataclass(frozen=True, slots=True)
class LiftList:
    """Lifts by pattern."""

    lifts: tuple[Lift, ...]


def lifts_to_json(lifts: Iterable[Lift]) -> dict[str, Any]:
    """The document."""
    return document("lifts", LiftList(tuple(lifts)))


def _object(properties: dict[str, Schema], **more: Any) -> Schema:
    required = [key for key in properties if key != "rir_least"]
    return {"type": "object", "required": required, "properties": properties,
            "additionalProperties": False, **more}  # fmt: skip


def _number(name: str, says: str = "") -> Schema:
    """A number of a lift within the bounds that its field has."""
    each = FIELDS[f"lift.{name}"]
    kind = "integer" if each.whole else "number"
    bounds = {"type": kind, "minimum": each.low, "maximum": each.high}
    return bounds | ({"description": says} if says else {})


def _text(says: str, **more: Any) -> Schema:
    return {"type": "string", "minLength": 1, "description": says, **more}


def _several(item: Schema, says: str, **more: Any) -> Schema:
    return {"type": "array", "items": item, "description": says, **more}


def _by(words: tuple[str, ...], value: Schema, says: str) -> Schema:
    return {"type": "object", "propertyNames": {"enum": list(words)},
            "additionalProperties": value, "description": says}  # fmt: skip


_REPS = {"type": "integer", "minimum": 1, "maximum": MOST_REPS}
_WORD = {"type": "string", "minLength": 1}
_RANGE = {"type": "string", "pattern": "^[0-9]+-[0-9]+$"}
_SHARE = {"type": "number", "exclusiveMinimum": 0, "maximum": 1}
_LIFT = _object({
    "name": _text("Trade name in lower case; the lifter's own lifts as typed."),
    "aliases": _several(_WORD, "Other names that lead to this lift."),
    "muscles": _by(MUSCLES, _SHARE, "Share of a set each muscle is counted for: 1 direct, 0.5 or "
                   "0.25 indirect.") | {"minProperties": 1},
    "pattern": _text("Movement pattern, as in avoid_patterns."),
    "kit": _several(_WORD, "Every kit word needed; empty when the floor is enough.",
                    uniqueItems=True),
    "axial": _number("axial", "Spinal loading, 0 none to 3 heavy."),
    "load_kind": {"enum": list(LOAD_KINDS)},
    "bodyweight_share": _number("bodyweight_share", "Share of bodyweight moved."),
    "compound": {"type": "boolean", "description": "Of several joints: role main or second."},
    "role": {"enum": list(ROLES), "description": "main may open a session, second comes after one, "
             "small is of one joint."},
    "family": _text("Near twins share a family: at most one of them a session."),
    "stability": {"enum": list(STABILITIES)},
    "fatigue_group": {"enum": list(FATIGUE_GROUPS)},
    "setup_s": _number("setup_s"),
    "seconds_per_rep": _number("seconds_per_rep", "Both sides where each is done in turn."),
    "reps": _several(
        _object({"zone": {"enum": list(ZONES)}, "reps_low": _REPS, "reps_high": _REPS}),
        "Usable repetitions by zone; a zone that does not suit the lift is absent.",
        minItems=1, maxItems=3),
    "prefers": _several(_RANGE, "Ranges that suit the lift, best first.", minItems=1),
    "plainness": _number("plainness", "3 a first choice in every gym, 0 an oddity."),
    "skill": _number("skill", "Technique it asks for: 0 none, 3 months of practice."),
    "angle": _text("Where its muscles meet the load; two lifts of a muscle with one word are near "
                   "twins."),
    "regions": _by(REGIONS, {"enum": [1, 2]}, "What it loads: 1 some, 2 much; absent none."),
    "standard": _text("Range of motion and technique in a line."),
    "caution": {"type": ["string", "null"], "minLength": 1},
    "safe_to_fail": {"type": "boolean", "description": "Whether a set may go to failure without a "
                     "spotter or safeties."},
    "rir_least": _number("rir_least", "Repetitions its caution wants kept in reserve, whatever the "
                         "week asks."),
    "own": {"type": "boolean", "description": "True for a lift from the lifter's file."},
})  # fmt: skip
special(Lift, lambda lift: lift_fields(lift) | {"own": lift.own}, _LIFT)
