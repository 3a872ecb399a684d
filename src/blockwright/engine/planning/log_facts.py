"""What the lifter does now: the log's last 28 days (policy), or what was said of it.

Sets of a muscle are fractional sets a week, sets of a lift those of its usual session. A block's
week one moves on from these."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from statistics import median

from blockwright.engine.training import DAYS, Catalogue, Lift, Lifter, RepRange, SetDone
from .limits import PlanningLimits
from .patterns import basic_of, is_loadable

HEAVY_REPS = 7  # A main lift done for so many repetitions or fewer is trained heavy (judgement)
_USUAL = 0.5  # Of the weeks: a day or a lift done as often is usual
_LONG = 2.5  # Times the log's days that a missed weekday is looked for in (judgement)
MOST_MAIN_REPS = 15  # Of a main lift that loads in steps: more repetitions ask for more load
_SET_MINUTES = 3.0  # What a logged set stands for, rest and set-up included (judgement)


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedLift:
    """One lift as the log has it."""

    sets: int  # In its usual session
    weekly: float  # Sessions a week
    days: Mapping[str, int]
    """Usual weekday to its usual repetitions; of a lift that has no usual one, every day."""
    reps: float  # Usual repetitions over all its sets
    basic: str | None  # The basic pattern it is a main lift of, whether or not it can still be done
    light: frozenset[str] = frozenset()
    """Usual days that are lighter ones of a lift done harder on another: each keeps its range."""

    @property
    def visits(self) -> int:
        """Visits of a usual week that have it."""
        return max(1, round(self.weekly))

    @property
    def heavy_visits(self) -> int:
        """Visits of a usual week that have it heavy."""
        heavy = (reps <= HEAVY_REPS for day, reps in self.days.items() if day not in self.light)
        return min(sum(heavy), self.visits)

    @property
    def is_heavy(self) -> bool:
        """Whether one of its days is a heavy one."""
        return self.heavy_visits > 0

    def is_light(self, reps: RepRange) -> bool:
        """Whether a range is that of its lighter days alone."""
        held = {day for day, done in self.days.items() if reps.low <= done <= reps.high}
        return bool(held) and held <= self.light

    def is_usual(self, reps: RepRange) -> bool:
        """Whether it is done so on one of its days, or usually, give or take a repetition."""
        on_a_day = any(reps.low <= done <= reps.high for done in self.days.values())
        return on_a_day or reps.low - 1 <= self.reps <= reps.high + 1


@dataclass(frozen=True, slots=True, kw_only=True)
class LogFacts:
    """The lifter's present training; empty without a log."""

    lifts: Mapping[str, LoggedLift] = field(default_factory=dict)
    """By canonical name, lifts done in at least half of the weeks."""
    muscles: Mapping[str, float] = field(default_factory=dict)  # Fractional sets a week
    days: tuple[str, ...] = ()  # Usual training days
    minutes: float = 0.0  # About what a week takes

    def __bool__(self) -> bool:
        return bool(self.lifts)


def log_facts(
    lifter: Lifter, facts: Sequence[SetDone], catalogue: Catalogue, limits: PlanningLimits
) -> LogFacts:
    """What the last days of the log before the start show."""
    if lifter.start is None:
        return LogFacts()
    since = lifter.start - timedelta(days=limits.count("log_days"))
    done_now = [
        done
        for done in facts
        if done.moment.day < lifter.start
        and done.is_work
        and done.first_reps > 0
        and catalogue.find(done.lift) is not None
    ]
    lately = [done for done in done_now if done.moment.day >= since]
    if not lately:
        return LogFacts()
    weeks = len({((lifter.start - done.moment.day).days - 1) // 7 for done in lately})
    by_day = {(done.lift, done.moment.day) for done in lately}
    sessions = {done.moment.day for done in lately}
    missed = _missed_days(done_now, lately, lifter, limits)
    return LogFacts(
        lifts=_lifts(lately, catalogue, weeks, missed, limits),
        muscles=_muscles(lately, catalogue, weeks),
        days=_usual_days(Counter(DAYS[day.weekday()] for day in sessions), weeks, missed),
        minutes=_SET_MINUTES * len(lately) / weeks + len(by_day) / weeks,
    )


def _missed_days(
    done_now: Sequence[SetDone], lately: Sequence[SetDone], lifter: Lifter, limits: PlanningLimits
) -> frozenset[str]:
    """Weekdays on offer that were usual over a longer log and had a session lately, though other
    weeks missed them: what is done on them is usual still."""
    assert lifter.start is not None
    since = lifter.start - timedelta(days=_LONG * limits.count("log_days"))
    days = {done.moment.day for done in done_now if done.moment.day >= since}
    weeks = len({((lifter.start - day).days - 1) // 7 for day in days})
    usual = _usual_days(Counter(DAYS[day.weekday()] for day in days), weeks)
    seen = {DAYS[done.moment.day.weekday()] for done in lately}
    return frozenset(usual) & seen & {slot.day for slot in lifter.slots}


def _lifts(
    lately: Sequence[SetDone], catalogue: Catalogue, weeks: int, missed: frozenset[str],
    limits: PlanningLimits,
) -> dict[str, LoggedLift]:  # fmt: skip
    sets: dict[str, Counter[date]] = defaultdict(Counter)
    reps: dict[str, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    loads_kg: dict[tuple[str, str], list[float]] = defaultdict(list)
    for done in lately:
        lift = catalogue.find(done.lift)
        if lift is not None:
            sets[lift.name][done.moment.day] += 1
            usable = _usable_reps(lift, done.first_reps)
            reps[lift.name][day := DAYS[done.moment.day.weekday()]].append(usable)
            loads_kg[lift.name, day].append(done.load_kg)
    found = {}
    for name, by_day in sets.items():
        lift, counts = catalogue.find(name), Counter(DAYS[day.weekday()] for day in by_day)
        if len(by_day) < _USUAL * weeks and missed.isdisjoint(counts):
            continue
        usual = _usual_days(counts, weeks, missed)
        days = {d: round(median(reps[name][d])) for d in usual or sorted(reps[name])}
        found[name] = LoggedLift(
            basic=None if lift is None else basic_of(lift),
            sets=round(median(by_day.values())),
            weekly=len(by_day) / weeks,
            days=days,
            light=_light_days(days, {d: median(loads_kg[name, d]) for d in days}, limits),
            reps=median(count for done in reps[name].values() for count in done),
        )
    return found


def _light_days(
    reps: Mapping[str, int], loads_kg: Mapping[str, float], limits: PlanningLimits
) -> frozenset[str]:
    """Days with clearly more repetitions at clearly less load than the hardest one."""
    hardest = max(reps, key=lambda day: loads_kg[day])
    more, share = limits.count("light_day_reps"), limits.share("light_day_load")
    return frozenset(
        day for day, done in reps.items()
        if done >= reps[hardest] + more and loads_kg[day] <= share * loads_kg[hardest]
    )  # fmt: skip


def _usable_reps(lift: Lift, reps: int) -> int:
    """The nearest repetitions that the lift may be planned with."""
    least = min(r.low for r in lift.reps.values())
    most = max(r.high for r in lift.reps.values())
    if lift.compound and is_loadable(lift):
        most = max(least, min(most, MOST_MAIN_REPS))
    return min(max(reps, least), most)


def _muscles(lately: Sequence[SetDone], catalogue: Catalogue, weeks: int) -> dict[str, float]:
    sums: dict[str, float] = defaultdict(float)
    for done in lately:
        lift = catalogue.find(done.lift)
        for muscle, share in (lift.muscles if lift is not None else {}).items():
            sums[muscle] += share / weeks
    return dict(sums)


def _usual_days(
    counts: Counter[str], weeks: int, missed: frozenset[str] = frozenset()
) -> tuple[str, ...]:
    return tuple(
        day for day in DAYS if counts[day] and (counts[day] >= _USUAL * weeks or day in missed)
    )
