"""One lifter at hand: who they are, what they logged, what they train by, and what follows.

Whatever follows from a case's facts is found once and kept (`derived`). Only a case replays a log
through the strength filter: estimate, sheet, phone, plan, review, report, edit and roster ask it,
so the same facts give the same number everywhere. Facts after `through` are left out."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import cached_property, wraps
from typing import Any, ParamSpec, Self, TypeVar

from .policy import Policy
from .rack import as_stamped
from .signs import ReadNote, Warning
from .strength import Beliefs, Bodyweights, Flag, replay
from .strength.flags import TWO_LEVELS
from .strength.outliers import unlike_later_sets
from .training import (
    NO_ROW,
    Block,
    Catalogue,
    CheckIn,
    Experience,
    Known,
    Lifter,
    Moment,
    SessionCapacity,
    SetDone,
)
from .units import Unit, kg_from, plain_number

Found = TypeVar("Found")
Asked = ParamSpec("Asked")
Day = date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Disputed:
    """A fact that people who did not know of each other corrected in two ways."""

    id: str
    day: date
    says: str  # What it was first, and what else is said of it, in words without notes


@dataclass(frozen=True, eq=False, kw_only=True)
class CoachCase:
    lifter: Lifter | None  # None: nobody knows whose log it is
    catalogue: Catalogue
    policy: Policy
    read_note: ReadNote  # Never left out: without it no warning sign would be found
    sets: tuple[SetDone, ...] = ()  # The lifter's own, in time order, under one name or none
    checkins: tuple[CheckIn, ...] = ()  # The lifter's own, without a name
    block: Block | None = None
    signs: tuple[Warning, ...] = ()
    """Warning signs told besides the notes of sets: a session that was stopped for one."""
    disputes: tuple["Disputed", ...] = ()  # What was corrected in two ways and nobody has settled
    cleared: Mapping[str, date] = field(default_factory=dict)
    """What letters about any of the lifter's blocks cleared, and when (`review.cleared_by`)."""
    first_start: Day = None
    """The start of the lifter's first block, where it is known; else this block's."""
    through: Day = None  # The last day that is looked at; None: everything
    found: dict[Any, Any] = field(default_factory=dict, init=False, repr=False)
    """What was asked before, by question."""

    def __post_init__(self) -> None:
        """The gym of lifter and block makes what was logged, whatever a default stack says."""
        for key, owner in (("lifter", self.lifter), ("block", self.block)):
            lifter = owner.lifter if isinstance(owner, Block) else owner
            if lifter is None:
                continue
            often = _often_logged(self.sets, self.catalogue, lifter.gym.unit)
            gym = replace(lifter.gym, logged=often)
            lifter = replace(lifter, gym=gym)
            made = replace(owner, lifter=lifter) if isinstance(owner, Block) else lifter
            object.__setattr__(self, key, made)

    @property
    def experience(self) -> Experience:
        return "intermediate" if self.lifter is None else self.lifter.experience

    @property
    def name(self) -> str | None:
        """The name the sets stand under."""
        return self.sets[0].lifter if self.sets else None

    @cached_property
    def weights(self) -> Bodyweights:
        """The weigh-ins, before them the lifter file's bodyweight."""
        usual_kg = None if self.lifter is None else self.lifter.bodyweight_kg
        weigh_ins = tuple(said for said in self.checkins if said.measure == "bodyweight")
        return Bodyweights(usual_kg=usual_kg, weigh_ins=weigh_ins)

    @cached_property
    def taught(self) -> tuple[SetDone, ...]:
        """What strength is learnt from, in time order: the sets, and what the lifter file says can
        be done. Said without a day it speaks for a lift that was not logged by then; the log wins.
        """
        lifter = self.lifter
        if lifter is None or lifter.start is None or not lifter.known:
            return self.sets
        began: dict[str, date] = {}
        for done in self.sets:
            began.setdefault(done.lift, done.moment.day)
        before = lifter.start - timedelta(days=1)
        told = [
            _told(known, number, known.on or before, lifter.units, self.name)
            for number, known in enumerate(lifter.known, start=1)
            if known.on or before < began.get(known.lift, date.max)
        ]
        known_by = self.through or date.max
        told = [one for one in told if one.moment.day <= known_by]
        return tuple(sorted([*told, *self.sets], key=lambda done: done.moment.day))

    @cached_property
    def aside(self) -> frozenset[int]:
        """Indices among `taught` of first sets that later ones show to be mistyped."""
        return unlike_later_sets(self.taught, self.catalogue, self.policy, self.weights.usual_kg)

    def until(self, day: Day) -> Self:
        """The case as it was known on `day`."""
        if day is None or self.through == day:
            return self
        if day not in self.found:
            self.found[day] = replace(
                self,
                sets=tuple(done for done in self.sets if done.moment.day <= day),
                checkins=tuple(said for said in self.checkins if said.moment.day <= day),
                signs=tuple(sign for sign in self.signs if sign.day <= day),
                disputes=tuple(one for one in self.disputes if one.day <= day),
                through=day,
            )
        return self.found[day]  # type: ignore[no-any-return]

    def beliefs(self, day: Day = None) -> Beliefs:
        """Strength as of `day` (the case's last day if None), from the sets up to then; with
        hindsight, of first sets that any set of the case shows to be mistyped."""
        asked = (self.through if day is None else day, False)
        if asked not in self.found:
            together([self], asked[0])
        return self.found[asked]  # type: ignore[no-any-return]

    def foresight(self) -> Beliefs:
        """Strength as of the case's last day with what was expected of each set from the sets
        before it, looking at nothing later."""
        asked = (self.through, True)
        if asked not in self.found:
            together([self], self.through, foresight=True)
        return self.found[asked]  # type: ignore[no-any-return]

    @cached_property
    def capacities(self) -> Mapping[str, tuple[SessionCapacity, ...]]:
        """Each lift's session capacities as of the case's last day."""
        beliefs = self.beliefs()
        return {lift: beliefs.session_capacities(lift, who) for who, lift in beliefs.series}

    @cached_property
    def two_levels(self) -> Mapping[str, Flag]:
        """Lifts whose loads go in turn between two levels, and the set that showed it, as long as
        no check-in says on how many machines they are done."""
        said = {one.about for one in self.checkins if one.measure == "machines"}
        known = {lift.name for about in said if (lift := self.catalogue.find(about or ""))}
        beliefs = self.beliefs()
        are_two = beliefs.replayed.state.two
        return {
            lift: flag
            for (who, lift), place in beliefs.place.items()
            if are_two[place] and lift not in said | known
            for flag in beliefs.flags(lift, who)
            if flag.code == TWO_LEVELS
        }


@dataclass(frozen=True, eq=False, kw_only=True)
class BlockCase(CoachCase):
    """A case beside one of the lifter's blocks."""

    lifter: Lifter
    block: Block


def derived(find: Callable[Asked, Found]) -> Callable[Asked, Found]:
    """`find` with its answer kept in the case, its first argument; the others must be hashable."""

    @wraps(find)
    def once(*given: Asked.args, **named: Asked.kwargs) -> Found:
        case, *others = given
        assert isinstance(case, CoachCase)
        key = (find, *others, *sorted(named.items()))
        if key not in case.found:
            case.found[key] = find(*given, **named)
        return case.found[key]  # type: ignore[no-any-return]

    return once


def _told(known: Known, number: int, day: date, unit: Unit, name: str | None) -> SetDone:
    return SetDone(
        moment=Moment(day=day),
        lift=known.lift,
        set_number=number,
        loads_kg=(kg_from(known.load, unit),),
        entered_load=plain_number(known.load),
        entered_unit=unit,
        reps=(known.reps,),
        rir_low=known.rir,
        rir_high=known.rir,
        lifter=name,
        row=NO_ROW,
    )


def _often_logged(
    sets: Sequence[SetDone], catalogue: Catalogue, unit: Unit
) -> Mapping[str, tuple[float, ...]]:
    """Loads by lift, and by each word of its kit, that were logged more than once: once may be a
    slip."""
    counts = Counter((done.lift, done.load_kg) for done in sets if done.load_kg > 0)
    found: dict[str, set[float]] = {}
    for (name, load_kg), count in counts.items():
        if count > 1:
            lift = catalogue.find(name)
            for key in (name, *(() if lift is None else lift.kit)):
                found.setdefault(key, set()).add(as_stamped(load_kg, unit))
    return {key: tuple(sorted(loads)) for key, loads in found.items()}


# -------------------------------------------------------------------------------- the filter


def together(
    cases: Sequence[CoachCase], day: Day, *, foresight: bool = False, roster: bool = False
) -> None:
    """Fills in the beliefs of several cases as of `day`, in as few runs of the filter as there
    are catalogues, policies and kinds of experience among them. `roster`: their lifters share one
    file, and learn endurance from one another.

    A run costs a step for each set of the longest series, however many lifters run beside it."""
    groups: dict[tuple[int, int, Experience], list[CoachCase]] = {}
    for case in cases:
        groups.setdefault((id(case.catalogue), id(case.policy), case.experience), []).append(case)
    for members in groups.values():
        _run(members, day, foresight=foresight, roster=roster)


def _run(members: Sequence[CoachCase], day: Day, *, foresight: bool, roster: bool) -> None:
    labels = _labels(members)
    sets: list[SetDone] = []
    aside: set[int] = set()
    weigh_ins: list[CheckIn] = []
    runs = []
    for case, label in zip(members, labels, strict=True):
        offset = len(sets)
        kept = [done for done in case.taught if day is None or done.moment.day <= day]
        if not foresight:
            aside |= {offset + place for place in case.aside if place < len(kept)}
        sets += [done if done.lifter == label else replace(done, lifter=label) for done in kept]
        weigh_ins += _weigh_ins(case, label)
        runs.append((case, label, kept, offset))
    first = members[0]
    keep = foresight or len(members) == 1  # one lifter's are few, and asked for sooner or later
    joint = replay(
        sets,
        first.catalogue,
        first.policy,
        bodyweights=Bodyweights(weigh_ins=tuple(weigh_ins)),
        through=day,
        experience=first.experience,
        keep_predictions=keep,
        aside=aside,
        roster=roster,
    )
    for case, label, kept, offset in runs:
        case.found[day, foresight] = part = joint.part(label, case.name, kept, offset)
        if keep and not case.aside:  # hindsight changes nothing: both are answered
            case.found.setdefault((day, not foresight), part)


def _labels(members: Sequence[CoachCase]) -> list[str | None]:
    """A name for each that nobody else in the run has: their own where that will do."""
    if len(members) == 1:
        return [members[0].name]
    names = [case.name for case in members]
    return [
        name if name is not None and names.count(name) == 1 else f"{place} {name or ''}"
        for place, name in enumerate(names)
    ]


def _weigh_ins(case: CoachCase, label: str | None) -> list[CheckIn]:
    """The weigh-ins under the label, the lifter file's bodyweight before all of them."""
    found = [replace(said, lifter=label) for said in case.weights.weigh_ins]
    usual = case.weights.usual_kg
    if usual is not None:
        always = Moment(day=date.min)
        found.append(
            CheckIn(moment=always, measure="bodyweight", about=None, value=usual, lifter=label)
        )
    return found
