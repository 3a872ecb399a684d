"""The words lifts are written with: kit and movement patterns, read from `data/vocabulary.toml`."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from blockwright.engine.lifts import FatigueGroup, LoadKind, Role
from blockwright.engine.training import RepRange
from .reading import shipped

Stability = Literal["free", "supported", "machine"]
LOAD_KINDS: tuple[LoadKind, ...] = get_args(LoadKind)
STABILITIES: tuple[Stability, ...] = get_args(Stability)
FATIGUE_GROUPS: tuple[FatigueGroup, ...] = get_args(FatigueGroup)
FREE_WEIGHTS = frozenset({"bar", "ez bar", "trap bar", "dumbbells", "kettlebells", "landmine"})


@dataclass(frozen=True, slots=True, kw_only=True)
class KitWord:
    """One word of the kit vocabulary; a machine bears the name of the lift it serves best."""

    says: str
    setup_s: int
    machine: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A movement pattern, and what a lift of it gets when it does not say otherwise."""

    says: str
    role: Role
    family: str
    fatigue_group: FatigueGroup
    seconds_per_rep: float
    reps: Mapping[str, RepRange]
    skill: int  # How much technique it asks with free weights; one less on a machine
    angle: str
    prefers: tuple[RepRange, ...]
    """Ranges that suit it, best first; those a lift cannot use are left out for it."""
    regions: Mapping[str, int]
    """Region of the body to 1 some or 2 much; load on the spine adds to the lower back."""
    axial: int = 0  # Spinal loading with a bar; one less with other free weights, none on a machine
    free_weight_caution: str | None = None
    """Caution of a free-weight lift without one of its own; it is never safe to fail."""


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Kit words and patterns by name, in the order of the file."""

    kit: Mapping[str, KitWord]
    patterns: Mapping[str, Pattern]
    angles: Mapping[str, str]  # Angle to its meaning

    @property
    def free_kit(self) -> tuple[str, ...]:
        return tuple(word for word, meaning in self.kit.items() if not meaning.machine)

    @property
    def machines(self) -> tuple[str, ...]:
        return tuple(word for word, meaning in self.kit.items() if meaning.machine)


@cache
def vocabulary() -> Vocabulary:
    """The shipped vocabulary. A broken file is our fault and raises KeyError or TypeError."""
    table = shipped("vocabulary.toml")
    patterns = {name: _pattern(fields) for name, fields in table["pattern"].items()}
    kit = {word: KitWord(**fields) for word, fields in table["kit"].items()}
    return Vocabulary(kit=kit, patterns=patterns, angles=table["angle"])


def _pattern(fields: Mapping[str, Any]) -> Pattern:
    reps = {zone: rep_range(text) for zone, text in fields["reps"].items()}
    prefers = tuple(rep_range(text) for text in fields["prefers"])
    return Pattern(**{**fields, "reps": reps, "prefers": prefers})


def rep_range(text: str) -> RepRange:
    """The range a person writes as "8-15". Raises ValueError when it is no such text."""
    low, high = text.split("-")
    return RepRange(low=int(low), high=int(high))
