"""The nouns: lifts, lifters, gyms, facts, blocks. Frozen values, no behaviour worth the name.

Facts (`SetDone`, `CheckIn`) are what happened. A `Block` is what is planned; it is never changed,
only revised into a new one. Loads are kilograms as written on the sheet (`load_kg`): one hand for
dumbbell pairs, the added load for bodyweight lifts, the assistance for assisted ones.
`effective_load_kg` turns them into what the muscles move, which is what strength uses."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal, get_args

from .gym import Gym
from .lifts import (
    MUSCLES,
    REGIONS,
    Catalogue,
    Lift,
    RepRange,
    Zone,
    catalogue_of,
    effective_load_kg,
    written_load_kg,
)
from .reasons import Caution, Reason
from .units import Unit

# The nouns of `lifts` that others use are met here.
__all__ = [
    "MUSCLES", "REGIONS", "Catalogue", "Lift", "RepRange", "Zone", "catalogue_of",
    "effective_load_kg", "written_load_kg",
]  # fmt: skip

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY_NAMES = {
    "mon": "Monday", "tue": "Tuesday", "wed": "Wednesday", "thu": "Thursday", "fri": "Friday",
    "sat": "Saturday", "sun": "Sunday",
}  # fmt: skip

Emphasis = Literal["lead", "normal", "hold", "skip"]
Method = Literal["straight", "rest-pause", "drop", "superset", "warmup", "try"]
NOT_WORK: frozenset[Method] = frozenset({"warmup", "try"})
"""Sets that train nothing by themselves: a warm-up, and a try on the way to a load."""
Experience = Literal["novice", "intermediate", "advanced"]
Energy = Literal["surplus", "maintenance", "deficit"]
Girth = Literal["neck", "shoulders", "chest", "waist", "hips", "arm", "forearm", "thigh", "calf"]
Measure = Literal[
    "sleep", "fatigue", "stress", "soreness", "sore", "pain", "session_rpe",
    "session_minutes", "bodyweight", "sleep_h", "steps", "machines", Girth,
]  # fmt: skip
"""`sleep_h` (hours asleep), `steps` and girths are for the coach to see; no rule weighs them.
`machines`: on how many a lift is done whose loads go between two levels."""

GIRTHS: tuple[Girth, ...] = get_args(Girth)  # Measured round the body, in centimetres
HOOPER_ITEMS: tuple[Measure, ...] = ("sleep", "fatigue", "stress", "soreness")


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
    cleared_for: tuple[str, ...] | None = None
    """The causes the clearance names, by their answers' names; None for every one answered yes."""
    systolic: int | None = None  # mmHg, as last measured; so `diastolic`
    diastolic: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    day: str
    start_minute: int  # Minutes after midnight
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
class Known:
    """A set the lifter can do now, as said on the first day: it counts as logged on `on`."""

    lift: str
    load: float  # In the lifter's units, as typed
    reps: int
    rir: float | None = None
    on: date | None = None  # None: the day before the block starts


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """What the lifter does now where there is no log, and which ranges are liked."""

    weekly_sets: Mapping[str, float] = field(default_factory=dict)  # Muscle to sets a week
    reps: Mapping[str, RepRange] = field(default_factory=dict)  # Lift or pattern to its liked range

    def range_for(self, lift: Lift) -> RepRange | None:
        """The range liked for a lift, its own before its pattern's."""
        return self.reps.get(lift.name) or self.reps.get(lift.pattern)


DeloadStyle = Literal["half", "two-part"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifter:
    """The lifter file, checked. What `plan` needs and a file may lack is None or empty."""

    name: str
    units: Unit = "kg"
    bodyweight: float | None = None  # In `units`, as typed
    bodyweight_kg: float | None = None
    born: int | None = None
    sex: Literal["female", "male"] | None = None
    experience: Experience = "intermediate"
    energy: Energy = "maintenance"
    weeks: int = 6
    start: date | None = None
    screening: Screening = Screening()
    signs_cleared: Mapping[str, date] = field(default_factory=dict)
    """By warning sign: the day it was cleared, or asked about and something else."""
    slots: tuple[Slot, ...] = ()  # In the order of the week
    emphasis: Mapping[str, Emphasis] = field(default_factory=dict)
    allow: Allow = Allow()
    likes: tuple[str, ...] = ()
    policy: Mapping[str, float | str | bool] = field(default_factory=dict)
    limits: Limits = Limits()
    gym: Gym
    pins: tuple[Pin, ...] = ()
    visits: int | None = None  # Slots of the week to use; None: the composer decides
    known: tuple[Known, ...] = ()  # facts for strength alone: `CoachCase.taught`
    habits: Habits = Habits()
    deload_style: DeloadStyle = "half"
    lifts: tuple[Lift, ...] = ()

    def emphasis_of(self, muscle: str) -> Emphasis:
        return self.emphasis.get(muscle, "normal")

    @property
    def leads(self) -> frozenset[str]:
        """Muscles on lead."""
        return frozenset(m for m, emphasis in self.emphasis.items() if emphasis == "lead")


# ------------------------------------------------------------------------------------- facts
NO_ROW = -1  # of a set that no log holds: the lifter file says that it can be done


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """When something happened: a date, with a time of day where one was given (local, naive)."""

    day: date
    at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetDone:
    """One set as logged. Never changed; a correction is a new fact that points here.

    `loads_kg` and `reps` have one entry for a straight set and one a part for a rest-pause or drop
    set. `rir_low` = `rir_high` for a plain number, both None when nothing was said."""

    moment: Moment
    lift: str  # Canonical catalogue name where known, else as typed
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
    row: int = 0  # Row in the file it came from (the header is row 1); orders sets within a day

    @property
    def is_logged(self) -> bool:
        return self.row != NO_ROW

    @property
    def load_kg(self) -> float:
        """The load of the first part."""
        return self.loads_kg[0]

    @property
    def first_reps(self) -> int:
        """Repetitions of the first part, the only part that is evidence of strength."""
        return self.reps[0]

    @property
    def is_work(self) -> bool:
        """Whether it is a work set: counted, compared with the plan, known to the body."""
        return self.method not in NOT_WORK

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
    value: float  # Bodyweight in kg; everything else on its own scale
    entered_unit: str = ""
    note: str = ""
    lifter: str | None = None
    row: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionCapacity:
    """What one lift could do on one day: made from facts by `strength`, read by `change`."""

    day: date
    ln_capacity: float
    """Natural log of effective kg without the session's fatigue: the precision-weighted mean of the
    loads its sets speak for, at one number of repetitions (`strength` chooses it) for all."""
    variance: float
    """Of `ln_capacity` about the capacity of that day: of measuring, not from day to day."""


# ------------------------------------------------------------------------------------- block
@dataclass(frozen=True, slots=True, kw_only=True)
class SetPlan:
    load_kg: float | None  # As written on the sheet; None until there is any basis for a load
    reps_low: int
    reps_high: int
    rir: float
    counts_as: float = 1.0
    forecast_kg: tuple[float, float] | None = None  # Beyond the next week: where it probably falls
    aim_low: int | None = None
    """The first set's own aim inside the range, where fatigue will spread the sets."""
    aim_high: int | None = None

    @classmethod
    def of(cls, reps: RepRange, rir: float) -> "SetPlan":
        """A set of a range at a reserve, its load open."""
        return cls(load_kg=None, reps_low=reps.low, reps_high=reps.high, rir=rir)

    @property
    def reps(self) -> RepRange:
        return RepRange(low=self.reps_low, high=self.reps_high)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    order: int
    lift: str
    method: Method
    zone: Zone = "mid"
    pair: str | None = None  # Shared label of two entries done as a superset
    rest_s: int
    sets: tuple[SetPlan, ...]
    waits: bool = False
    """Whether something hurts, and these numbers wait for the letter before their week."""

    @property
    def counted(self) -> float:
        """What its sets count as, in all."""
        return sum(row.counts_as for row in self.sets)

    @property
    def in_parts(self) -> bool:
        """Whether its last set goes on after failure, in parts."""
        return self.method in ("rest-pause", "drop")


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    session: int
    day: date
    start_time: str
    minutes_available: int
    minutes_planned: float
    missed: bool = False
    entries: tuple[Entry, ...]


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
    ease: Literal["repeat", "light"] | None = None
    """Of a build week made easier: last week again, or fewer sets with more in reserve."""

    @property
    def entries(self) -> tuple[Entry, ...]:
        return tuple(entry for session in self.sessions for entry in session.entries)


@dataclass(frozen=True, slots=True, kw_only=True)
class SolverReport:
    status: Literal["optimal", "feasible"]
    objective: float
    bound: float
    gap: float  # (bound - objective) / bound, a fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockDecision:
    """What the coach decided about one proposal, or changed by hand without one (a kind that begins
    with "coach_"), kept with the block."""

    proposal: str
    kind: str
    verdict: Literal["accepted", "changed", "declined"]
    words: str = ""
    change: Mapping[str, float | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One revision of a planned block. It stands alone: it carries the whole lifter."""

    revision: int
    status: Literal["ready", "refer"]
    lifter: Lifter
    coach_policy: Mapping[str, float | str | bool] = field(default_factory=dict)
    """The coach's policy the block was made under: laid over the default, under the lifter's."""
    start: date
    weeks: tuple[Week, ...]
    solver: SolverReport
    reasons: tuple[Reason, ...] = ()
    cautions: tuple[Caution, ...] = ()
    decisions: tuple[BlockDecision, ...] = ()

    @property
    def length(self) -> int:
        """Weeks, the deload included."""
        return len(self.weeks)

    @property
    def builds(self) -> tuple[Week, ...]:
        return tuple(week for week in self.weeks if week.kind == "build")
