"""What a week says: per lift, per muscle, and of the lifter as a whole."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.change import Watches, watch_lift, watch_lifter
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import certainty_word
from blockwright.engine.strength import LiftBelief
from blockwright.engine.training import (
    MUSCLES,
    Block,
    SessionCapacity,
    effective_load_kg,
)
from blockwright.engine.volume import planned_sets
from .exposures import Exposure, Window, by_lift, days_left, planned_entries, week_start
from .recovery import MuscleWeek
from .week_state import WeekState
from .wellness import LifterEvidence, lifter_evidence


@dataclass(frozen=True, slots=True, kw_only=True)
class RepsAtLoad:
    """Repetitions to failure at a load the lifter used: before the week and after it."""

    load_kg: float
    before: float
    after: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftEvidence:
    """One lift. Everything that nobody can know yet is None."""

    lift: str
    done: tuple[Exposure, ...]  # This week's exposures
    latest: Exposure | None  # The last exposure ever
    matched: float | None
    """P(capacity not lower than before the week by more than the meaningful fall)."""
    reps_at: RepsAtLoad | None
    beyond_effort: int  # Latest exposures in a row that came closer to failure than asked
    range_cut: bool  # Whether the latest exposure lacked full range
    watch_sounded: bool

    @property
    def fell(self) -> bool:
        """Whether it is more likely to have fallen in the week than not: it does not climb."""
        return self.matched is not None and self.matched < 0.5

    @property
    def likely_fell(self) -> bool:
        """Whether it likely fell in the week, by the scale of a letter's words: at as likely as not
        a coach sees 16.7 become 16.6."""
        return self.matched is not None and certainty_word(1.0 - self.matched) != "even"


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleEvidence:
    """One muscle."""

    muscle: str
    sets_done: float
    sets_logged: float  # Fractional, of all work sets, however far from failure they ended
    sets_planned: float  # Fractional, of the sessions up to `through`
    sore: float | None
    p_recovered: float | None  # None where nothing can be compared


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Everything the facts say at the end of the week."""

    lifts: Mapping[str, LiftEvidence]
    muscles: Mapping[str, MuscleEvidence]
    lifter: LifterEvidence
    watches: Watches
    exposures: tuple[Exposure, ...]
    missed: tuple[date, ...]
    """Planned days of the week, before `through`, on which nothing was done."""
    to_come: tuple[date, ...]  # Planned days of the week on which something may still be done


def gathered(
    case: CoachCase,
    block: Block,
    window: Window,
    exposures: Sequence[Exposure],
    here: Mapping[str, MuscleWeek],
    state: WeekState | None,
    bad_days: Collection[date],
) -> Evidence:
    """Reads the facts of a case cut at `window.through`. `here`: what each muscle did in the week;
    effort beyond target counts on days that were no bad ones."""
    through, policy = window.through, case.policy
    watches = watches_of(block, case.capacities, policy, through)
    reader = _Reader(case, window, here, state, watches, bad_days)
    lifts = reader.lifts(exposures)
    left = days_left(exposures, window)
    return Evidence(
        lifts=lifts,
        muscles=reader.muscles(lifts),
        lifter=lifter_evidence(case.checkins, block.lifter.energy, policy, window.end),
        watches=watches,
        exposures=tuple(exposures),
        missed=tuple(day for day in left if day < window.through),
        to_come=tuple(day for day in left if day >= window.through),
    )


def watches_of(
    block: Block,
    capacities: Mapping[str, Sequence[SessionCapacity]],
    policy: Policy,
    through: date,
) -> Watches:
    """The charts, begun anew after a deload (all) and after an accepted load cut (that lift)."""
    deloads = [week_start(block, week.week) for week in block.weeks if week.kind == "deload"]
    deloads += [day + timedelta(days=7) for day in deloads]
    watches = watch_lifter(capacities, policy, restarts=deloads, through=through)
    lifts = dict(watches.lifts)
    for lift, cuts in load_cuts(block).items():
        if lift in lifts:
            lifts[lift] = watch_lift(
                capacities[lift], policy, restarts=[*deloads, *cuts], through=through
            )
    return Watches(lifts=lifts, pooled=watches.pooled)


def load_cuts(block: Block) -> dict[str, list[date]]:
    """By lift: the Mondays from which the coach took load off in this block."""
    cuts: dict[str, list[date]] = {}
    for decision in block.decisions:
        lift = decision.change.get("lift")
        week = decision.change.get("week")
        if decision.kind == "lower_load" and decision.verdict != "declined" and lift and week:
            cuts.setdefault(str(lift), []).append(week_start(block, int(float(week))))
    return cuts


@dataclass(frozen=True)
class _Reader:
    case: CoachCase
    window: Window
    here: Mapping[str, MuscleWeek]
    state: WeekState | None
    watches: Watches
    bad_days: Collection[date]

    def lifts(self, exposures: Sequence[Exposure]) -> dict[str, LiftEvidence]:
        """Lifts done or planned this week, or planned for the next, in order of first use."""
        everything = by_lift(exposures)
        names = [e.lift for e in exposures if self.window.holds(e.day)]
        for week in (self.window.week, self.window.next_week):
            if week is not None:
                names += planned_entries(week, self.case.catalogue)
        return {lift: self._lift(lift, everything.get(lift, ())) for lift in dict.fromkeys(names)}

    def _lift(self, lift: str, all_done: Sequence[Exposure]) -> LiftEvidence:
        done = tuple(e for e in all_done if self.window.holds(e.day))
        own_before = self.case.beliefs(self.window.start - timedelta(days=1)).own(lift)
        own_now = self.case.beliefs().own(lift)
        watch = self.watches.lifts.get(lift)
        return LiftEvidence(
            lift=lift,
            done=done,
            latest=all_done[-1] if all_done else None,
            matched=None if self.state is None else self.state.kept.get(lift),
            reps_at=self._reps_at(lift, done, own_before, own_now),
            beyond_effort=self._beyond_effort(all_done) if done else 0,
            range_cut=bool(done) and not done[-1].full_range,
            watch_sounded=bool(done) and watch is not None and watch.alarm,
        )

    def _reps_at(
        self,
        lift: str,
        done: Sequence[Exposure],
        before: LiftBelief | None,
        after: LiftBelief | None,
    ) -> RepsAtLoad | None:
        known = self.case.catalogue.find(lift)
        if not done or before is None or after is None or known is None:
            return None
        load_kg = done[-1].work_load_kg
        effective = effective_load_kg(
            known, load_kg, self.case.weights.on(self.case.name, done[-1].day)
        )
        if effective is None or effective <= 0:
            return None
        return RepsAtLoad(
            load_kg=load_kg,
            before=before.forecast(effective, 0.0).median,
            after=after.forecast(effective, 0.0).median,
        )

    def muscles(self, lifts: Mapping[str, LiftEvidence]) -> dict[str, MuscleEvidence]:
        """Every muscle with sets planned or done this week, or planned for the next."""
        window, none = self.window, MuscleWeek(sets=0.0, sore=None)
        so_far = [s for s in window.week.sessions if s.day <= window.end]
        upcoming = () if window.next_week is None else window.next_week.sessions
        planned, to_come = (
            planned_sets([e for s in sessions for e in s.entries], self.case.catalogue)
            for sessions in (so_far, upcoming)
        )
        return {
            muscle: MuscleEvidence(
                muscle=muscle,
                sets_done=self.here.get(muscle, none).sets,
                sets_logged=self._logged(muscle, lifts),
                sets_planned=planned[muscle].fractional,
                sore=self.here.get(muscle, none).sore,
                p_recovered=None if self.state is None else self.state.recovered.get(muscle),
            )
            for muscle in MUSCLES
            if muscle in self.here or planned[muscle].fractional or to_come[muscle].fractional
        }

    def _logged(self, muscle: str, lifts: Mapping[str, LiftEvidence]) -> float:
        return sum(
            len(exposure.sets) * known.muscles.get(muscle, 0.0)
            for name, evidence in lifts.items()
            if (known := self.case.catalogue.find(name)) is not None
            for exposure in evidence.done
        )

    def _beyond_effort(self, all_done: Sequence[Exposure]) -> int:
        """Latest exposures in a row whose sets ended closer to failure than asked, on the mean."""
        line = self.case.policy.number("review.effort.beyond")
        in_a_row = 0
        for exposure in reversed(all_done):
            if exposure.day in self.bad_days:
                continue
            beyond = _effort_gap(exposure)
            if beyond is None or beyond < line:
                break
            in_a_row += 1
        return in_a_row


def _effort_gap(exposure: Exposure) -> float | None:
    """Mean repetitions nearer to failure than planned; None without both."""
    planned = exposure.planned
    if planned is None or not planned.sets:
        return None
    gaps = [
        planned.sets[min(index, len(planned.sets) - 1)].rir - done.rir
        for index, done in enumerate(exposure.sets)
        if done.rir is not None and done.method in ("straight", "superset")
    ]
    return sum(gaps) / len(gaps) if gaps else None
