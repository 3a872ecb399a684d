"""What the documents of single questions hold: policy, check, rack, clash.

Each is written by `codec.document` and published by `schemas`; the verb of its name fills it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from blockwright.engine.errors import Clash, ClashingRule, Problem
from blockwright.engine.policy import PolicyValue
from blockwright.engine.rack import Setting, WarmupSet
from blockwright.engine.units import Unit
from blockwright.files.codec import document


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
