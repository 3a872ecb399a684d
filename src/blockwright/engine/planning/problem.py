"""The composer's inputs as plain values: slots, lifts with ranges, aims, pins.

An *option* is a lift at one range of repetitions, a *place* an option in a slot. Sets of a muscle
are in quarter sets, time in seconds."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from blockwright.engine.pain import MUCH
from blockwright.engine.training import MUSCLES, Lift, Lifter, RepRange, Slot, Zone
from .baseline import MuscleAim
from .limits import QUARTERS, PlanningLimits
from .log_facts import LogFacts
from .patterns import LEAD_BASIC, OWN_LIFT, basic_of, main_muscle
from .spared import NOTHING_CARRIED, Carried
from .time_model import LiftTime

HOURS_OF_WEEK = 168.0
_TWO_LIFTS = 2  # A lead of which the log has so many needs no new one
MUCH_AXIAL = 3  # A deadlift's load on the spine, or a good morning's


def round_the_week(one: float, other: float) -> float:
    """Hours between two hours of the week, the short way round."""
    apart = abs(one - other)
    return min(apart, HOURS_OF_WEEK - apart)


@dataclass(frozen=True, kw_only=True)
class Option:
    """One lift at one range of repetitions."""

    lift: Lift
    zone: Zone
    reps: RepRange
    time: LiftTime
    at_the_end: bool = False  # Whether the kit has one step at most beyond its first load
    find_s: int = field(default=0, compare=False)  # Seconds of tries before its first load is known
    pinned: bool = field(default=False, compare=False)
    """Whether the coach pinned the lift: it opens its session before others."""

    @cached_property
    def quarters(self) -> dict[str, int]:
        """Muscle to quarter sets that one set gives."""
        return {muscle: round(share * QUARTERS) for muscle, share in self.lift.muscles.items()}

    @cached_property
    def direct(self) -> frozenset[str]:
        return frozenset(self.lift.direct)

    @cached_property
    def basic(self) -> str | None:
        return basic_of(self.lift)

    @cached_property
    def muscle(self) -> str:
        """The muscle it is mostly for."""
        return main_muscle(self.lift)

    @property
    def heavy(self) -> bool:
        return self.zone == "low"

    @property
    def is_main(self) -> bool:
        """Whether it is a main lift in a coach's rules: of several joints."""
        return self.lift.compound

    @property
    def heavy_axial(self) -> bool:
        """A heavy squat or hinge: it opens its session."""
        return self.heavy and self.opens_early

    @property
    def opens_early(self) -> bool:
        """A squat or a hinge that loads the spine."""
        return self.lift.axial >= 2 and self.basic in ("knee", "hip")


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """An option in a slot: indices into the problem."""

    slot: int
    option: int


Plan = Mapping[Place, int]  # Sets by place, of those that have any, in order of slot and option


def plan_of(sets: Mapping[Place, int]) -> Plan:
    return {place: count for place, count in sorted(sets.items()) if count > 0}


@dataclass(frozen=True, slots=True, kw_only=True)
class PinRule:
    """A coach's pin: the lift, and groups of slots each of which carries it at least once."""

    lift: str
    wanted: tuple[tuple[int, ...], ...]
    by_day: bool  # Whether the coach named days: it stands on no other


@dataclass(frozen=True, kw_only=True, eq=False)
class Problem:
    """Everything a week is composed from."""

    lifter: Lifter
    limits: PlanningLimits
    log: LogFacts
    aims: Mapping[str, MuscleAim]
    slots: tuple[Slot, ...]
    options: tuple[Option, ...]
    budget_s: tuple[int, ...]  # Seconds for lifts in each slot
    most_lifts: int
    pins: tuple[PinRule, ...]
    gentle: bool  # Whether week one is a novice's or a returner's
    known: frozenset[str] = frozenset()  # Lifts done lately, or said to be known
    carried: Carried = NOTHING_CARRIED
    liked: frozenset[str] = frozenset()
    scores: Mapping[str, int] = field(default_factory=dict)
    """How well a lift suits the lifter; larger is better."""

    @cached_property
    def leads(self) -> tuple[str, ...]:
        """Lead muscles, in the order of the body."""
        return tuple(m for m in MUSCLES if self.lifter.emphasis_of(m) == "lead")

    @cached_property
    def holds(self) -> tuple[str, ...]:
        return tuple(m for m in MUSCLES if self.lifter.emphasis_of(m) == "hold")

    @cached_property
    def skips(self) -> tuple[str, ...]:
        return tuple(m for m in MUSCLES if self.lifter.emphasis_of(m) == "skip")

    @cached_property
    def lead_basics(self) -> frozenset[str]:
        """The basic patterns whose main lifts serve a lead."""
        return frozenset(LEAD_BASIC[m] for m in self.leads if m in LEAD_BASIC)

    @cached_property
    def pinned(self) -> frozenset[str]:
        return frozenset(pin.lift for pin in self.pins)

    def leads_of(self, option: Option) -> tuple[str, ...]:
        """Lead muscles the option is aimed at."""
        return tuple(m for m in self.leads if m in option.direct)

    def on_hold(self, option: Option) -> bool:
        """Whether any muscle it is aimed at is on hold, or it hurts, or loads what does (a new
        squat a sore knee: at all): its sets stay as they are."""
        held = any(m in option.direct for m in self.holds)
        bends = option.basic == "knee" and "knee" in self.carried.spared.regions
        new = bends and "knee" in option.lift.regions and option.lift.name not in self.known
        return held or new or self.hurts(option) or self.is_sore(option)

    def keeps_out(self, lift: Lift) -> bool:
        """Whether pain keeps it out of the block."""
        return self.carried.spared.keeps_out(lift, self.log)

    def hurts(self, option: Option) -> bool:
        """Whether the lift itself hurt lately."""
        return option.lift.name in self.carried.spared.lifts

    def is_sore(self, option: Option) -> bool:
        """Whether it loads what hurts, a main lift much: it stays as it is."""
        least, sore = MUCH if option.is_main else 1, self.carried.spared.regions
        return any(option.lift.regions.get(region, 0) >= least for region in sore)

    def is_plain(self, lift: Lift, least: int = 2) -> bool:
        """Whether many would choose the lift, or it is known."""
        return lift.plainness >= least or lift.name in self.known

    def is_usual(self, option: Option) -> bool:
        """Whether the log has the lift in about these repetitions."""
        logged = self.log.lifts.get(option.lift.name)
        return logged is not None and logged.is_usual(option.reps)

    def is_logged_on(self, lift: str, slot: int) -> bool:
        """Whether the log has the lift on a slot's day."""
        logged = self.log.lifts.get(lift)
        return logged is not None and self.slots[slot].day in logged.days

    def is_of_day(self, option: Option, slot: int) -> bool:
        """Whether an option may stand on a slot's day: of what the log has hard on one day and
        lighter on another each day keeps its repetitions, where it can."""
        logged, day = self.log.lifts.get(option.lift.name), self.slots[slot].day
        if logged is None or not logged.light or day not in logged.days or option.pinned:
            return True
        alike = [o for o in self.options if o.lift == option.lift]
        own = [o for o in alike if o.reps.low <= logged.days[day] <= o.reps.high]
        return option in (own or [option])

    @cached_property
    def holes(self) -> frozenset[str]:
        """Small muscles that the log trains with no lift of their own, and the hamstrings of whom
        it has neither leg curl nor hinge."""
        logged = [o for o in self.options if o.lift.name in self.log.lifts]
        trained = {m for o in logged for m in o.direct if not (o.is_main and m in OWN_LIFT)}
        return frozenset({*OWN_LIFT, "hamstrings"} - trained) if self.log else frozenset()

    @cached_property
    def short_leads(self) -> frozenset[str]:
        """Leads of which the log has too few lifts."""
        logged = {o.lift.name: o.direct for o in self.options if o.lift.name in self.log.lifts}
        return frozenset(m for m in self.leads if sum(m in x for x in logged.values()) < _TWO_LIFTS)

    def fills_hole(self, option: Option) -> bool:
        """Whether it is a small lift for a muscle the log leaves out."""
        return not option.is_main and not option.direct.isdisjoint(self.holes)

    def gap_h(self, one: int, other: int) -> float:
        """Hours between the starts of two slots, the short way round the week."""
        return round_the_week(
            self.slots[one].start_hour_of_week, self.slots[other].start_hour_of_week
        )

    def neighbours(self, one: int, other: int) -> bool:
        """Whether two slots are on the same day or on days in a row."""
        apart = (self.slots[one].day_index - self.slots[other].day_index) % 7
        return apart in (0, 1, 6)

    @cached_property
    def day_groups(self) -> tuple[tuple[int, ...], ...]:
        """Slots of each day that has any."""
        days = sorted({slot.day_index for slot in self.slots})
        return tuple(
            tuple(i for i, slot in enumerate(self.slots) if slot.day_index == day) for day in days
        )

    @cached_property
    def adjacent_days(self) -> tuple[tuple[int, ...], ...]:
        """Slots of each two days in a row (Sunday and Monday too)."""
        groups = (
            tuple(i for i, slot in enumerate(self.slots) if slot.day_index in (day, (day + 1) % 7))
            for day in range(7)
        )
        return tuple(dict.fromkeys(group for group in groups if group))

    def windows(self, hours: float) -> tuple[tuple[int, ...], ...]:
        """Groups of slots whose starts all lie within less than `hours` of the first one."""
        starts = [slot.start_hour_of_week for slot in self.slots]
        distinct = dict.fromkeys(
            tuple(i for i, at in enumerate(starts) if (at - first) % HOURS_OF_WEEK < hours)
            for first in starts
        )
        return tuple(g for g in distinct if not any(set(g) < set(other) for other in distinct))

    def pin_slots(self, lift: str) -> tuple[int, ...] | None:
        """The slots a lift may stand in by its pins; None without pinned days."""
        groups = [g for p in self.pins if p.lift == lift and p.by_day for g in p.wanted]
        return tuple(sorted({s for g in groups for s in g})) if groups else None

    def pin_count(self, lift: str) -> int:
        """How often its pins want a lift in the week."""
        return sum(len(pin.wanted) for pin in self.pins if pin.lift == lift)

    def most_sets(self, option: Option) -> int:
        """Sets of the option in one session: of a main lift that does not lead one more than it is
        done with, no more of a heavy one that loads the spine much, or in a deficit; of a new one
        beside those of its pattern that are done what a main lift ends at least with."""
        limits = self.limits
        if not option.is_main:
            return limits.count("small_sets_most")
        leads = bool(self.leads_of(option)) and self.lifter.experience != "novice"
        logged = self.log.lifts.get(option.lift.name)
        if self.hurts(option) and logged is not None:
            return min(max(logged.sets, limits.sets_least), limits.sets_most)
        if leads or (logged is not None and logged.sets >= limits.sets_most_lead):
            return max(limits.sets_most_lead, limits.sets_most)
        least = limits.count("main_sets_end")
        if logged is not None:
            tires = option.heavy and option.lift.axial >= MUCH_AXIAL
            more = not (tires or self.lifter.energy == "deficit")
            return min(max(logged.sets + more, least), limits.sets_most)
        has = any(x.basic == option.basic for x in self.log.lifts.values())
        return least if has else limits.sets_most

    def first_most(self, option: Option) -> int:
        """Sets of the option in week one."""
        most = self.limits.sets_most
        if not option.is_main and not self.leads_of(option):
            most = self.limits.count("small_first_most")
        logged = self.log.lifts.get(option.lift.name)
        if logged is not None and option.is_main:
            most = max(most, min(logged.sets, self.most_sets(option)))
            if not (self.leads_of(option) or self.on_hold(option)):  # week one is the log's own
                most = min(most, logged.sets)
        if self.is_sore(option) or (self.on_hold(option) and self.carried.held is None):
            sets = logged.sets if logged else self.limits.first_week_sets
            most = min(most, max(sets, self.limits.sets_least))
        if self.gentle:
            most = min(most, self.limits.first_week_sets)
        if option.find_s and (self.gentle or not option.is_main) and not self.leads_of(option):
            most = min(most, self.limits.sets_least)  # tries take the time of another
        return most
