"""What a cell tells, as values: a load, a set, or a part of what the row's cells tell together."""

from dataclasses import dataclass
from typing import Literal

from blockwright.engine.units import Unit

Kind = Literal["sets", "reps", "load", "scheme", "pair"]


@dataclass(frozen=True, slots=True)
class Weight:
    """A load as typed. `bodyweight`: added to or taken from the body's own; a help is negative."""

    amount: float
    unit: Unit | None = None
    bodyweight: bool = False


@dataclass(frozen=True, slots=True)
class OneSet:
    """A set told by a cell; what the cell leaves out is None or empty."""

    reps: tuple[int, ...]
    weights: tuple[Weight, ...] = ()
    rir: tuple[float, float] | None = None
    row_rir: tuple[float, float] | None = None
    """The one effort beside a row of sets; it is of the last, unless the coach says of each."""
    warmup: bool = False
    note: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What one cell tells. For `load` the sets are empty and `weight` is set; a `scheme` or a
    `pair` of bare numbers holds both readings' numbers in `numbers`."""

    kind: Kind
    sets: tuple[OneSet, ...] = ()
    weight: Weight | None = None
    numbers: tuple[int, ...] = ()
    rir: tuple[float, float] | None = None
