"""What a training place has: bars, plates, dumbbells, stacks."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from .units import Unit

MOST_LOAD_KG = 2500.0
"""More than anyone lifts or a machine holds: beyond it a load is a typing error (judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mass:
    """A mass in the unit stamped on it, kept as typed; counted exactly by `rack`."""

    value: float
    unit: Unit
    label: str  # As written in the gym's file: "20", "45 lb"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    name: str
    mass: Mass


@dataclass(frozen=True, slots=True, kw_only=True)
class PlatePairs:
    mass: Mass
    pairs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """Loads from `low` to `high` by `step` (dumbbells, a stack), with optional add-on masses."""

    low: float
    high: float
    step: float
    unit: Unit
    add_on: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Gym:
    """What the place has. Empty `bars`, `plates`, `dumbbells` or a missing stack mean the
    policy's defaults for the kit words that are present."""

    kit: frozenset[str]
    unit: Unit
    bars: tuple[Bar, ...] = ()
    plates: tuple[PlatePairs, ...] = ()
    dumbbells: tuple[Ladder, ...] = ()
    stacks: Mapping[str, Ladder] = field(default_factory=dict)
    """By the name of a lift or of the machine it is done on."""
    assumed: bool = False
    """True when the lifter's file says nothing of a gym and a well-equipped one is assumed."""
    logged: Mapping[str, tuple[float, ...]] = field(default_factory=dict, compare=False)
    """Loads the log shows, by lift and kit word, in the gym's unit: where a default stands in for
    kit of which the file says nothing, it makes these too. No part of the file."""
