"""The nouns: lifts, lifters, gyms, facts, blocks. Frozen values, no behaviour worth the name.

Facts (`SetDone`, `CheckIn`) are what happened. A `Block` is what is planned; it is never
changed, only revised into a new one. Loads are kilograms as written on the sheet (`load_kg`):
one hand for dumbbell pairs, the added load for bodyweight lifts, the assistance for assisted
ones. `effective_load_kg` turns them into what the muscles move, which is what strength uses.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from types import MappingProxyType
from typing import Literal

from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.units import Unit

MUSCLES = (
    "quads", "hamstrings", "glutes", "adductors", "calves", "chest", "lats", "upper_back",
    "front_delts", "side_delts", "rear_delts", "biceps", "triceps", "forearms", "abs",
    "spinal_erectors",
)  # fmt: skip
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY_NAMES = {
    "mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday", "fri": "Friday",
    "sat": "Saturday", "sun": "Sunday",
}  # fmt: skip
ZONES = ("low", "mid", "high")
REGIONS = (
    "neck", "shoulder", "elbow", "wrist", "upper_back", "lower_back", "hip", "knee", "ankle",
)  # fmt: skip
ROLES: tuple["Role", ...] = ("main", "second", "small")
EMPHASES = ("lead", "normal", "hold", "skip")

Zone = Literal["low", "mid", "high"]
Emphasis = Literal["lead", "normal", "hold", "skip"]
Role = Literal["main", "second", "small"]
LoadKind = Literal["external", "bodyweight_plus", "assisted", "per_hand"]
FatigueGroup = Literal["press", "pull", "single_joint", "leg_press", "squat", "hinge"]
Method = Literal["straight", "rest-pause", "drop", "superset", "warmup"]
Experience = Literal["novice", "intermediate", "advanced"]
Energy = Literal["surplus", "maintenance", "deficit"]
Measure = Literal[
    "sleep", "fatigue", "stress", "soreness", "sore", "pain", "session_rpe",
    "session_minutes", "bodyweight",
]  # fmt: skip


MOST_LOAD_KG = 2500.0
"""More than anyone lifts or a machine holds: beyond it a load is a typing error (judgement)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RepRange:
    """Repetitions from `low` to `high`, both included."""

    low: int
    high: int

    def __str__(self) -> str:
        return f"{self.low}-{self.high}"


# ------------------------------------------------------------------------------------- lifts


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift of the catalogue, or one of the lifter's own."""

    name: str
    muscles: Mapping[str, float]
    """Muscle to share of a set: 1.0 direct, 0.5 or 0.25 indirect."""
    pattern: str
    kit: tuple[str, ...]
    """Every word needed, all of them; empty when the floor is enough."""
    axial: int
    """Spinal loading, 0 none to 3 heavy."""
    load_kind: LoadKind
    bodyweight_share: float
    role: Role
    """main: of several joints, may open a session; second: of several joints, comes after one;
    small: of one joint."""
    family: str
    """Near twins share a family: at most one of them a session."""
    stability: Literal["free", "supported", "machine"]
    fatigue_group: FatigueGroup
    setup_s: int
    seconds_per_rep: float
    reps: Mapping[str, RepRange]
    """Usable repetitions by zone; a zone that does not suit the lift is absent."""
    standard: str
    """Range of motion and technique in a line, our own words."""
    caution: str | None = None
    safe_to_fail: bool = False
    """Whether a set may be taken to failure alone without a spotter or safeties."""
    rir_least: int = 0
    """Repetitions its caution wants kept in reserve, whatever the week asks."""
    aliases: tuple[str, ...] = ()
    joints: tuple[str, ...] = ()
    """Joints its pattern loads most; empty where nobody said (`pain` then goes by muscles)."""
    plainness: int = 2
    """How ordinary it is in a normal gym: 3 a first choice everywhere, 0 an oddity."""
    skill: int = 1
    """How much technique it asks: 0 none, 3 months of practice."""
    angle: str = ""
    """Where in their length, or from which angle, its muscles meet the load: two lifts of a
    muscle with one word are near twins."""
    prefers: tuple[RepRange, ...] = ()
    """Ranges that suit it, best first, inside its usable ones."""
    regions: Mapping[str, int] = field(default_factory=dict)
    """Region of the body to how much the lift loads it: 1 some, 2 much; absent none."""
    own: bool = False
    """True for a lift from the lifter's file."""

    @property
    def compound(self) -> bool:
        """Whether it bends more than one joint: a main lift in a coach's rules."""
        return self.role != "small"

    @property
    def direct(self) -> tuple[str, ...]:
        """Muscles a set of this lift counts for in full."""
        return tuple(muscle for muscle, share in self.muscles.items() if share >= 1.0)

    def rir_for(self, asked: float) -> float:
        """The repetitions in reserve to plan where a week asks for so many."""
        return max(asked, self.rir_least)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The lifts by canonical name, and the aliases that lead to them."""

    lifts: Mapping[str, Lift]
    by_alias: Mapping[str, str]
    """Lower-case name or alias to canonical name."""

    def find(self, name: str) -> Lift | None:
        """The lift a person means by `name` (case and outer spaces do not matter), or None."""
        canonical = self.by_alias.get(name.strip().lower())
        return self.lifts[canonical] if canonical is not None else None


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

    External load as it is; one hand for per_hand; share x bodyweight + added; share x
    bodyweight - assistance. May be <= 0 for too much assistance: callers must refuse that.
    """
    if lift.load_kind in ("external", "per_hand"):
        return load_kg
    if bodyweight_kg is None:
        return None
    moved = lift.bodyweight_share * bodyweight_kg
    return moved + load_kg if lift.load_kind == "bodyweight_plus" else moved - load_kg


def written_load_kg(lift: Lift, effective_kg: float, bodyweight_kg: float | None) -> float | None:
    """The inverse of `effective_load_kg`: what stands on the sheet. May be negative."""
    if lift.load_kind in ("external", "per_hand"):
        return effective_kg
    if bodyweight_kg is None:
        return None
    moved = lift.bodyweight_share * bodyweight_kg
    return effective_kg - moved if lift.load_kind == "bodyweight_plus" else moved - effective_kg


# --------------------------------------------------------------------------------------- gym


@dataclass(frozen=True, slots=True, kw_only=True)
class Mass:
    """A mass in the unit stamped on it, kept as typed; counted exactly by `rack`."""

    value: float
    unit: Unit
    label: str
    """As written in the gym's file: "20", "45 lb"."""


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


# ------------------------------------------------------------------------------------ lifter


@dataclass(frozen=True, slots=True, kw_only=True)
class Screening:
    """Answers to the screening questions; None where nothing was answered."""

    heart_or_metabolic_condition: bool | None = None
    symptoms_at_effort: bool | None = None
    pregnant_or_postpartum: bool | None = None
    kidney_disease: bool | None = None
    high_blood_pressure: bool | None = None
    currently_active: bool | None = None
    under_18: bool | None = None
    surgery_or_injury_last_year: bool | None = None
    cleared_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    day: str
    start_minute: int
    """Minutes after midnight."""
    minutes: int

    @property
    def day_index(self) -> int:
        return DAYS.index(self.day)

    @property
    def start_hour_of_week(self) -> float:
        return 24.0 * self.day_index + self.start_minute / 60

    @property
    def start_time(self) -> str:
        return f"{self.start_minute // 60:02d}:{self.start_minute % 60:02d}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allow:
    supersets: bool = True
    rest_pause: bool = False
    drop_sets: bool = False
    pre_exhaust: bool = False
    high_reps: bool = True
    to_failure: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    avoid_lifts: tuple[str, ...] = ()
    avoid_patterns: tuple[str, ...] = ()
    max_lifts_per_session: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    lift: str
    days: tuple[str, ...] = ()
    reps: Zone | RepRange | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifter:
    """The lifter file, checked. What `plan` needs and a file may lack is None or empty."""

    name: str
    units: Unit = "kg"
    bodyweight: float | None = None
    """In `units`, as typed."""
    bodyweight_kg: float | None = None
    born: int | None = None
    sex: Literal["female", "male"] | None = None
    experience: Experience = "intermediate"
    energy: Energy = "maintenance"
    weeks: int = 6
    start: date | None = None
    screening: Screening = Screening()
    slots: tuple[Slot, ...] = ()
    """In the order of the week."""
    emphasis: Mapping[str, Emphasis] = field(default_factory=dict)
    allow: Allow = Allow()
    likes: tuple[str, ...] = ()
    policy: Mapping[str, float | str | bool] = field(default_factory=dict)
    limits: Limits = Limits()
    gym: Gym
    pins: tuple[Pin, ...] = ()
    lifts: tuple[Lift, ...] = ()

    def emphasis_of(self, muscle: str) -> Emphasis:
        return self.emphasis.get(muscle, "normal")


# ------------------------------------------------------------------------------------- facts


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When something happened: a date, with a time of day where one was given (local, naive)."""

    day: date
    at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetDone:
    """One set as logged. Never changed; a correction is a new fact that points here.

    `loads_kg` and `reps` have one entry for a straight set and one a part for a rest-pause or
    drop set. `rir_low` = `rir_high` for a plain number, both None when nothing was said.
    """

    moment: Moment
    lift: str
    """Canonical catalogue name where known, else as typed."""
    set_number: int
    loads_kg: tuple[float, ...]
    entered_load: str
    entered_unit: Unit
    reps: tuple[int, ...]
    rir_low: float | None = None
    rir_high: float | None = None
    rest_s: float | None = None
    method: Method = "straight"
    full_range: bool = True
    pain: float | None = None
    note: str = ""
    confirmed: bool = False
    lifter: str | None = None
    row: int = 0
    """Row in the file it came from (the header is row 1); orders sets within a day."""

    @property
    def load_kg(self) -> float:
        """The load of the first part."""
        return self.loads_kg[0]

    @property
    def first_reps(self) -> int:
        """Repetitions of the first part, the only part that is evidence of strength."""
        return self.reps[0]

    @property
    def rir(self) -> float | None:
        """The midpoint of what was said, or None."""
        if self.rir_low is None or self.rir_high is None:
            return None
        return (self.rir_low + self.rir_high) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckIn:
    moment: Moment
    measure: Measure
    about: str | None
    value: float
    """Bodyweight in kg; everything else on its own scale."""
    entered_unit: str = ""
    note: str = ""
    lifter: str | None = None
    row: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionCapacity:
    """What one lift could do on one day: made from facts by `strength`, read by `change`."""

    day: date
    ln_capacity: float
    """Natural log of effective kg, fatigue of the session taken out: the precision-weighted mean
    over the day's sets of the load each speaks for, at one number of repetitions for every
    session (`strength` chooses it), so that sessions compare."""
    variance: float
    """Of `ln_capacity` about the lifter's capacity on that day: measurement only, without the
    day-to-day effect."""


# ------------------------------------------------------------------------------------- block


@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlan:
    load_kg: float | None
    """As written on the sheet; None until there is any basis for a load."""
    reps_low: int
    reps_high: int
    rir: float
    counts_as: float = 1.0
    forecast_kg: tuple[float, float] | None = None
    """For weeks beyond the next: the range the load will probably fall in. Not a promise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    order: int
    lift: str
    method: Method
    rest_s: int
    sets: tuple[SetPlan, ...]
    pair: str | None = None
    """Shared label of two entries done as a superset."""
    zone: Zone = "mid"


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    session: int
    day: date
    start_time: str
    minutes_available: int
    minutes_planned: float
    entries: tuple[Entry, ...]
    missed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleSets:
    direct: float
    indirect: float
    fractional: float
    floor: float
    ceiling: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Week:
    week: int
    kind: Literal["build", "deload"]
    rir: float
    sessions: tuple[Session, ...]
    muscle_sets: Mapping[str, MuscleSets]


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverReport:
    status: Literal["optimal", "feasible"]
    objective: float
    bound: float
    gap: float
    """(bound - objective) / bound, a fraction."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockDecision:
    """What the coach decided about one proposal, or changed by hand, kept with the block."""

    proposal: str
    kind: str
    verdict: Literal["accepted", "changed", "declined"]
    words: str = ""
    change: Mapping[str, float | str] = field(default_factory=dict)

    @property
    def by_hand(self) -> bool:
        """Whether the coach changed this at the desk, without a proposal."""
        return self.kind.startswith("coach_")


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One revision of a planned block. It stands alone: it carries the whole lifter."""

    revision: int
    status: Literal["ready", "refer"]
    lifter: Lifter
    start: date
    weeks: tuple[Week, ...]
    solver: SolverReport
    reasons: tuple[Reason, ...] = ()
    cautions: tuple[Caution, ...] = ()
    decisions: tuple[BlockDecision, ...] = ()
    coach_policy: Mapping[str, float | str | bool] = field(default_factory=dict)
    """The coach's policy the block was made under: laid over the default, under the lifter's."""


def is_load_legal(lift: Lift, load_kg: float, bodyweight_kg: float | None) -> bool:
    """Whether a load can be evidence: finite, not negative, effective load above zero."""
    if not math.isfinite(load_kg) or load_kg < 0:
        return False
    effective = effective_load_kg(lift, load_kg, bodyweight_kg)
    return effective is None or effective > 0
