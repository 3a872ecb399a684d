"""What was done beside what was planned: one lift on one day, matched to its entry in the block."""

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase, derived
from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG
from blockwright.engine.strength import Beliefs, Flag
from blockwright.engine.training import (
    DAYS,
    Block,
    Catalogue,
    Entry,
    Lift,
    Session,
    SetDone,
    SetPlan,
    Week,
)

DAYS_OF_WEEK = 7

SetKey = tuple[str, date, int]  # Lift, day and number of a set

DOUBTED = ("mistyped", "out_of_line", "beyond_anyone", "unlike_later_sets", "unlikely")
"""Flags of sets that are set aside until somebody confirms them."""
CLEARLY_SHORT = 2  # Repetitions below a printed range that are no slack of the day (judgement)


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """One lift on one day. `sets` are the work sets in order; warm-ups are left out."""

    lift: str
    day: date
    sets: tuple[SetDone, ...]
    planned: Entry | None = None  # The entry it was done for; None for a lift that was not planned
    session: int | None = None  # Number of the planned session within its week
    doubted: frozenset[int] = frozenset()
    """Numbers of sets whose load stands out of line and was not confirmed."""

    @property
    def sound(self) -> tuple[SetDone, ...]:
        """The sets whose load is not doubted."""
        return tuple(done for done in self.sets if done.set_number not in self.doubted)

    @property
    def is_in_doubt(self) -> bool:
        """Whether a doubted set was done at the work load, so that its load is no slip."""
        return any(
            abs(done.load_kg - self.work_load_kg) < SAME_LOAD_KG
            for done in self.sets
            if done.set_number in self.doubted
        )

    @property
    def work_load_kg(self) -> float:
        """The load of most sound sets (of all, where none is), the heaviest of those that tie; kg
        as written on the sheet. A load that nothing was lifted with is none."""
        sets = self.sound or self.sets
        counts = Counter(done.load_kg for done in [d for d in sets if d.first_reps] or sets)
        return max(counts, key=lambda load: (counts[load], load))

    @property
    def first(self) -> SetDone:
        """The first set at the work load: the one a load is judged by."""
        return next(done for done in self.sets if done.load_kg == self.work_load_kg)

    @property
    def target(self) -> SetPlan | None:
        """What was planned for the first set."""
        return self.planned.sets[0] if self.planned is not None and self.planned.sets else None

    @property
    def spare(self) -> float | None:
        """Repetitions of the first set beyond range and reserve: what went on nearer to failure
        than asked had none to spare; None without a plan."""
        asked, first = self.target, self.first
        if asked is None:
            return None
        left = 0.0 if first.rir is None else first.rir - asked.rir
        return max(max(first.first_reps - asked.reps_high, 0) + left, 0.0)

    @property
    def short(self) -> float:
        """Repetitions by which the first set, what it left counted in, fell short of the bottom of
        its printed range, below 0 of one within it; 0 without a plan."""
        asked, first = self.target, self.first
        if asked is None:
            return 0.0
        left = 0.0 if first.rir is None else first.rir - asked.rir
        return asked.reps_low - first.first_reps - left

    @property
    def later_short(self) -> float:
        """Share of the sets after the first that ended under the printed range, what they left
        counted in; 0 without a plan."""
        asked, later = self.target, self.sets[1:]
        if asked is None or not later:
            return 0.0
        given = [one.first_reps + max((one.rir or 0.0) - asked.rir, 0.0) for one in later]
        return sum(reps < asked.reps_low for reps in given) / len(later)

    @property
    def failed(self) -> bool:
        """Whether the first set ended clearly below its printed range, with no more left."""
        asked = self.target
        below = asked is not None and self.first.first_reps < asked.reps_low
        return below and self.short >= CLEARLY_SHORT

    @property
    def full_range(self) -> bool:
        """Whether every work set went through the full range."""
        return all(done.full_range for done in self.sets)


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """The week just done and the one to be proposed for."""

    week: Week
    start: date
    end: date  # The last day of the week, or `through` where that comes first
    through: date
    next_week: Week | None  # None when the block is over

    @property
    def next_start(self) -> date:
        return self.start + timedelta(days=DAYS_OF_WEEK)

    def holds(self, day: date) -> bool:
        """Whether a day belongs to the week just done, up to `through`."""
        return self.start <= day <= self.end


def week_start(block: Block, number: int) -> date:
    """The Monday of week `number` (from 1)."""
    return block.start + timedelta(days=DAYS_OF_WEEK * (number - 1))


def in_week(block: Block, number: int, exposures: Iterable[Exposure]) -> list[Exposure]:
    """The exposures of a week of the block, in the order given."""
    start = week_start(block, number)
    return [e for e in exposures if 0 <= (e.day - start).days < DAYS_OF_WEEK]


def days_left(exposures: Sequence[Exposure], window: Window) -> list[date]:
    """Planned days of the week without a set; a session done on another of its days is done."""
    done = {e.session for e in exposures if window.holds(e.day) and e.session is not None}
    days = {e.day for e in exposures if window.holds(e.day)}
    planned = [s for s in window.week.sessions if s.entries]
    return [s.day for s in planned if s.session not in done and s.day not in days]


def window_of(block: Block, sets: Sequence[SetDone], through: date) -> Window | None:
    """The last week of the block that has begun by `through`; None when none has.

    A week has begun when it is over, when one of its days has sets, or when a day with a planned
    session has passed: reviewing on Monday morning judges the week before."""
    trained = {done.moment.day for done in sets}
    begun = [
        week
        for week in block.weeks
        if _has_begun(week, week_start(block, week.week), trained, through)
    ]
    if not begun:
        return None
    week = begun[-1]
    start = week_start(block, week.week)
    following = [other for other in block.weeks if other.week == week.week + 1]
    return Window(
        week=week,
        start=start,
        end=min(through, start + timedelta(days=DAYS_OF_WEEK - 1)),
        through=through,
        next_week=following[0] if following else None,
    )


def _has_begun(week: Week, start: date, trained: set[date], through: date) -> bool:
    if through >= start + timedelta(days=DAYS_OF_WEEK - 1):
        return True
    if any(start <= day <= through for day in trained):
        return True
    return any(start <= session.day < through for session in week.sessions)


def doubted_sets(beliefs: Beliefs, policy: Policy) -> frozenset[SetKey]:
    """Sets whose load stands out of line and was not confirmed: most likely slips of the pen. They
    are no evidence, and no load to go on from."""
    return frozenset(
        (lift, flag.day, flag.set_number)
        for whose, lift in beliefs.series
        for flag in beliefs.flags(lift, whose)
        if is_doubted(flag, policy)
    )


def is_doubted(flag: Flag, policy: Policy) -> bool:
    """Whether a set is set aside until it is confirmed: out of line, of more repetitions than
    anyone plans, or more help than the lifter weighs. A load left at zero is no slip of the pen."""
    if flag.code == "too_many_reps":
        return float(str(flag.facts["reps"])) > policy.number("suspect.many_reps")
    return flag.code in DOUBTED or (flag.code == "load_not_above_zero" and flag.load_kg > 0)


@derived
def exposures_in(case: CoachCase) -> tuple[Exposure, ...]:
    """Every exposure of a case with a block, sets of doubted loads marked."""
    if case.block is None:
        raise ValueError("exposures are matched to a block")
    through = case.through or max((done.moment.day for done in case.sets), default=date.min)
    doubted = doubted_sets(case.beliefs(), case.policy)
    return exposures_of(case.block, case.sets, case.catalogue, through, doubted)


def exposures_of(
    block: Block,
    sets: Iterable[SetDone],
    catalogue: Catalogue,
    through: date,
    doubted: Collection[SetKey] = (),
) -> tuple[Exposure, ...]:
    """Every exposure up to `through`, in order of day and file, matched to the block's entries.

    A day's exposure belongs to that day's session; one done on another day of the same week takes
    the first entry of the lift that nobody did."""
    days: dict[tuple[date, str], list[SetDone]] = {}
    for done in sorted(sets, key=lambda d: (d.moment.day, d.moment.at is None, d.row)):
        if done.moment.day <= through and done.is_work:
            name = catalogue.canonical(done.lift)
            days.setdefault((done.moment.day, name), []).append(done)
    found = [
        Exposure(
            lift=lift,
            day=day,
            sets=tuple(sorted(these, key=lambda d: d.set_number)),
            doubted=frozenset(d.set_number for d in these if (lift, day, d.set_number) in doubted),
        )
        for (day, lift), these in days.items()
    ]
    matched: list[Exposure] = [e for e in found if e.day < block.start]
    for week in block.weeks:
        matched += _matched(in_week(block, week.week, found), week, catalogue)
    matched += [e for e in found if e.day >= week_start(block, len(block.weeks) + 1)]
    return tuple(matched)


def _matched(done: Sequence[Exposure], week: Week, catalogue: Catalogue) -> list[Exposure]:
    open_entries = planned_entries(week, catalogue)
    taken: dict[int, tuple[Session, Entry]] = {}
    for by_date in (True, False):
        for index, exposure in enumerate(done):
            if index in taken:
                continue
            fits = [
                (session, entry)
                for session, entry in open_entries.get(exposure.lift, [])
                if not by_date or session.day == exposure.day
            ]
            if fits:
                taken[index] = fits[0]
                open_entries[exposure.lift].remove(fits[0])
    return [
        replace(exposure, planned=taken[index][1], session=taken[index][0].session)
        if index in taken
        else exposure
        for index, exposure in enumerate(done)
    ]


def planned_entries(week: Week, catalogue: Catalogue) -> dict[str, list[tuple[Session, Entry]]]:
    """The week's entries with sets, by canonical lift, in order of session."""
    found: dict[str, list[tuple[Session, Entry]]] = {}
    for session in week.sessions:
        for entry in session.entries:
            if entry.sets:
                found.setdefault(catalogue.canonical(entry.lift), []).append((session, entry))
    return found


def lifts_in_use(exposures: Iterable[Exposure], window: Window, catalogue: Catalogue) -> list[Lift]:
    """Lifts of the week done and of the next, each once, in order."""
    names = [e.lift for e in exposures if window.holds(e.day)]
    for week in (window.week, window.next_week):
        if week is not None:
            names += [e.lift for e in week.entries]
    return list({lift.name: lift for lift in catalogue.known(dict.fromkeys(names))}.values())


def by_lift(exposures: Iterable[Exposure]) -> Mapping[str, tuple[Exposure, ...]]:
    """Exposures of each lift, in the order given."""
    found: dict[str, list[Exposure]] = {}
    for exposure in exposures:
        found.setdefault(exposure.lift, []).append(exposure)
    return {lift: tuple(these) for lift, these in found.items()}


def day_of(session: Session, others: Iterable[Session] = ()) -> str:
    """ "thu", or "thu 18:30" where one of the week's `others` with lifts is on the same day."""
    twin = any(o.day == session.day and o.session != session.session and o.entries for o in others)
    return day_and_time(session) if twin else DAYS[session.day.weekday()]


def day_and_time(session: Session) -> str:
    """ "thu 18:30"."""
    return f"{DAYS[session.day.weekday()]} {session.start_time}"
