"""What a lift is, and the catalogue of lifts; `training` hands these nouns on with the others.

Loads are kilograms as written on the sheet; `effective_load_kg` turns them into what the muscles
move, which is what strength uses."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Literal

MUSCLES = (
    "quads", "hamstrings", "glutes", "adductors", "calves", "chest", "lats", "upper_back",
    "front_delts", "side_delts", "rear_delts", "biceps", "triceps", "forearms", "abs",
    "spinal_erectors",
)  # fmt: skip
LOWER = frozenset({"quads", "hamstrings", "glutes", "adductors", "calves", "spinal_erectors"})
ZONES = ("low", "mid", "high")
REGIONS = (
    "neck", "shoulder", "elbow", "wrist", "upper_back", "lower_back", "hip", "knee", "ankle",
)  # fmt: skip
ROLES: tuple["Role", ...] = ("main", "second", "small")

Zone = Literal["low", "mid", "high"]
Role = Literal["main", "second", "small"]
LoadKind = Literal["external", "bodyweight_plus", "assisted", "per_hand"]
FatigueGroup = Literal["press", "pull", "single_joint", "leg_press", "squat", "hinge"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RepRange:
    """Repetitions from `low` to `high`, both included."""

    low: int
    high: int

    def __str__(self) -> str:
        return f"{self.low}-{self.high}" if self.high > self.low else str(self.low)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift of the catalogue, or one of the lifter's own."""

    name: str
    muscles: Mapping[str, float]  # Muscle to share of a set: 1.0 direct, 0.5 or 0.25 indirect
    pattern: str
    kit: tuple[str, ...]  # Every word needed, all of them; empty when the floor is enough
    axial: int  # Spinal loading, 0 none to 3 heavy
    load_kind: LoadKind
    bodyweight_share: float
    role: Role
    """main: of several joints, may open a session; second: of several joints, comes after one;
    small: of one joint."""
    family: str  # Near twins share a family: at most one of them a session
    stability: Literal["free", "supported", "machine"]
    fatigue_group: FatigueGroup
    setup_s: int
    seconds_per_rep: float
    reps: Mapping[str, RepRange]
    """Usable repetitions by zone; a zone that does not suit the lift is absent."""
    standard: str  # Range of motion and technique in a line, our own words
    caution: str | None = None
    safe_to_fail: bool = False
    """Whether a set may be taken to failure alone without a spotter or safeties."""
    rir_least: int = 0  # Repetitions its caution wants kept in reserve, whatever the week asks
    aliases: tuple[str, ...] = ()
    plainness: int = 2
    """How ordinary it is in a normal gym: 3 a first choice everywhere, 0 an oddity."""
    skill: int = 1  # How much technique it asks: 0 none, 3 months of practice
    angle: str = ""
    """Where in their length, or from which angle, its muscles meet the load: two lifts of a
    muscle with one word are near twins."""
    prefers: tuple[RepRange, ...] = ()  # Ranges that suit it, best first, inside its usable ones
    regions: Mapping[str, int] = field(default_factory=dict)
    """Region of the body to how much the lift loads it: 1 some, 2 much; absent none."""
    own: bool = False  # True for a lift from the lifter's file

    @property
    def compound(self) -> bool:
        """Whether it bends more than one joint: a main lift in a coach's rules."""
        return self.role != "small"

    @property
    def hands(self) -> int:
        """How many of its load are lifted: one in each hand, or one."""
        return 2 if self.load_kind == "per_hand" else 1

    @property
    def moves_body(self) -> bool:
        """Whether its load is beside the body's own weight, or takes some of it away."""
        return self.load_kind in ("bodyweight_plus", "assisted")

    @property
    def wants_spotter(self) -> bool:
        """Whether a missed repetition of it is to be caught: a free bar that cannot be put down as
        a deadlift or a row can, which its caution tells by its safety arms. Of what is held in the
        hands, and of the body, its caution says how it ends; where it has none, it is caught."""
        told = (self.caution or "").lower()
        ends = bool(told) and not {"bar", "ez bar"} & {*self.kit}
        if self.pattern in ("hinge", "row"):
            ends = "safety arms" not in told
        return self.stability == "free" and not self.safe_to_fail and not ends

    @property
    def direct(self) -> tuple[str, ...]:
        """Muscles a set of this lift counts for in full."""
        return tuple(muscle for muscle, share in self.muscles.items() if share >= 1.0)

    @property
    def area(self) -> Literal["upper", "lower"]:
        """The half of the body it trains."""
        return "upper" if any(muscle not in LOWER for muscle in self.direct) else "lower"

    def apart_from(self, other: "Lift") -> float:
        """How far the shares of two lifts lie apart, summed over muscles."""
        muscles = {*self.muscles, *other.muscles}
        return sum(abs(self.muscles.get(m, 0.0) - other.muscles.get(m, 0.0)) for m in muscles)

    def rir_for(self, asked: float) -> float:
        """The repetitions in reserve to plan where a week asks for so many."""
        return max(asked, self.rir_least)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The lifts by canonical name, and the aliases that lead to them."""

    lifts: Mapping[str, Lift]
    by_alias: Mapping[str, str]  # Lower-case name or alias to canonical name

    def find(self, name: str) -> Lift | None:
        """The lift a person means by `name` (case and outer spaces do not matter), or None."""
        canonical = self.by_alias.get(name.strip().lower())
        return self.lifts[canonical] if canonical is not None else None

    def canonical(self, name: str) -> str:
        """The name of the lift a person means, or `name` itself where no lift is called so."""
        lift = self.find(name)
        return name if lift is None else lift.name

    def known(self, names: Iterable[str]) -> list[Lift]:
        """The lifts that these names mean, in their order; a name nobody knows is left out."""
        return [lift for name in names if (lift := self.find(name)) is not None]


def catalogue_of(lifts: tuple[Lift, ...]) -> Catalogue:
    """A catalogue from lifts; a later lift of the same name replaces an earlier one."""
    by_name = {lift.name: lift for lift in lifts}
    by_alias: dict[str, str] = {}
    for lift in by_name.values():
        for alias in lift.aliases:
            by_alias.setdefault(alias.lower(), lift.name)
    by_alias.update({name.lower(): name for name in by_name})
    return Catalogue(lifts=MappingProxyType(by_name), by_alias=MappingProxyType(by_alias))


def effective_load_kg(lift: Lift, load_kg: float, bodyweight_kg: float | None) -> float | None:
    """What the muscles move: kg, or None when the lift needs a bodyweight that is unknown.

    External load as it is; one hand for per_hand; share x bodyweight + added; share x bodyweight -
    assistance. May be <= 0 for too much assistance: callers must refuse that."""
    if not lift.moves_body:
        return load_kg
    if bodyweight_kg is None:
        return None
    moved = lift.bodyweight_share * bodyweight_kg
    return moved + load_kg if lift.load_kind == "bodyweight_plus" else moved - load_kg


def written_load_kg(lift: Lift, effective_kg: float, bodyweight_kg: float | None) -> float | None:
    """The inverse of `effective_load_kg`: what stands on the sheet. May be negative."""
    if not lift.moves_body:
        return effective_kg
    if bodyweight_kg is None:
        return None
    moved = lift.bodyweight_share * bodyweight_kg
    return effective_kg - moved if lift.load_kind == "bodyweight_plus" else moved - effective_kg


def is_load_legal(lift: Lift, load_kg: float, bodyweight_kg: float | None) -> bool:
    """Whether a load can be evidence: finite, not negative, effective load above zero."""
    if not math.isfinite(load_kg) or load_kg < 0:
        return False
    effective = effective_load_kg(lift, load_kg, bodyweight_kg)
    return effective is None or effective > 0
