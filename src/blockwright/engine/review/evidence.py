"""What a week says: per lift, per muscle, and of the lifter as a whole."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.change import Watches, watch_lift, watch_lifter
from blockwright.engine.policy import Policy
from blockwright.engine.review.baseline import Change
from blockwright.engine.review.exposures import (
    Exposure,
    Window,
    by_lift,
    days_left,
    exposures_in,
    planned_entries,
    week_start,
)
from blockwright.engine.review.recovery import (
    History,
    MuscleWeek,
    RecoveryLaw,
    change_of_muscle,
    history_of,
)
from blockwright.engine.review.wellness import LifterEvidence, lifter_evidence
from blockwright.engine.strength import LiftBelief
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    SessionCapacity,
    effective_load_kg,
)
from blockwright.engine.volume import done_credit, planned_sets


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
    done: tuple[Exposure, ...]
    """This week's exposures."""
    latest: Exposure | None
    """The last exposure ever."""
    change: Change | None
    matched: float | None
    """P(capacity not lower than before the week by more than the meaningful fall)."""
    as_planned: bool | None
    """Whether the week's first sets did what the plan asked; None without a plan or a set."""
    reps_at: RepsAtLoad | None
    beyond_effort: int
    """Latest exposures in a row that came closer to failure than asked."""
    range_cut: bool
    """Whether the latest exposure lacked full range."""
    watch_sounded: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleEvidence:
    """One muscle."""

    muscle: str
    sets_done: float
    sets_logged: float
    """Fractional, of all work sets, however far from failure they ended."""
    sets_planned: float
    """Fractional, of the sessions up to `through`."""
    matched: float | None
    judged_by_plan: bool
    """True where nothing could be compared and doing what was planned stands in."""
    sore: float | None
    p_recovered: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """Everything the facts say at the end of the week."""

    lifts: Mapping[str, LiftEvidence]
    muscles: Mapping[str, MuscleEvidence]
    lifter: LifterEvidence
    watches: Watches
    exposures: tuple[Exposure, ...]
    history: History
    missed: tuple[date, ...]
    """Planned days of the week, before `through`, on which nothing was done."""
    to_come: tuple[date, ...]
    """Planned days of the week on which something may still be done."""


def gathered(case: CoachCase, block: Block, window: Window) -> Evidence:
    """Reads the facts of a case cut at `window.through`."""
    through, policy, capacities = window.through, case.policy, case.capacities
    exposures = exposures_in(case)
    history = history_of(
        case.sets,
        case.checkins,
        capacities,
        case.catalogue,
        policy,
        monday=block.start,
        through=through,
    )
    watches = watches_of(block, capacities, policy, through)
    reader = _Reader(case, window, history, watches)
    lifts = reader.lifts(exposures)
    left = days_left(exposures, window)
    return Evidence(
        lifts=lifts,
        muscles=reader.muscles(lifts),
        lifter=lifter_evidence(
            case.checkins, block.lifter.energy, policy, start=window.start, end=window.end
        ),
        watches=watches,
        exposures=exposures,
        history=history,
        missed=tuple(day for day in left if day < window.through),
        to_come=tuple(day for day in left if day >= window.through),
    )


def without_days(
    evidence: Evidence, case: CoachCase, window: Window, days: Collection[date]
) -> Evidence:
    """The evidence with bad days set aside: a muscle is judged by the lifts that were done on
    others too, and effort beyond target counts on others only."""
    if not days:
        return evidence
    reader = _Reader(case, window, evidence.history, evidence.watches)
    everything = by_lift(e for e in evidence.exposures if e.day not in days)
    lifts = {
        name: replace(found, beyond_effort=_beyond_effort(everything.get(name, ()), case.policy))
        if found.beyond_effort
        else found
        for name, found in evidence.lifts.items()
    }
    told = {name: found for name, found in lifts.items() if _done_but_on(found, days)}
    return replace(evidence, lifts=lifts, muscles=reader.muscles(lifts, told))


def _done_but_on(found: LiftEvidence, days: Collection[date]) -> bool:
    """Whether the lift was done in the week on another day than these, or not at all."""
    return not found.done or any(exposure.day not in days for exposure in found.done)


def eve_of(window: Window) -> date:
    """The day before the week."""
    return window.start - timedelta(days=1)


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
    history: History
    watches: Watches

    @property
    def policy(self) -> Policy:
        return self.case.policy

    @property
    def catalogue(self) -> Catalogue:
        return self.case.catalogue

    @property
    def rule(self) -> RecoveryLaw:
        return RecoveryLaw(self.policy)

    def lifts(self, exposures: Sequence[Exposure]) -> dict[str, LiftEvidence]:
        """Lifts done or planned this week, or planned for the next, in order of first use."""
        everything = by_lift(exposures)
        names = [e.lift for e in exposures if self.window.holds(e.day)]
        for week in (self.window.week, self.window.next_week):
            if week is not None:
                names += planned_entries(week, self.catalogue)
        return {lift: self._lift(lift, everything.get(lift, ())) for lift in dict.fromkeys(names)}

    def _lift(self, lift: str, all_done: Sequence[Exposure]) -> LiftEvidence:
        done = tuple(e for e in all_done if self.window.holds(e.day))
        change = self.history.changes.get(self.window.start, {}).get(lift)
        own_before = self.case.beliefs(eve_of(self.window)).own(lift)
        own_now = self.case.beliefs().own(lift)
        watch = self.watches.lifts.get(lift)
        return LiftEvidence(
            lift=lift,
            done=done,
            latest=all_done[-1] if all_done else None,
            change=change,
            matched=None if change is None else self.rule.p_matched(change),
            as_planned=_as_planned(done),
            reps_at=self._reps_at(lift, done, own_before, own_now),
            beyond_effort=_beyond_effort(all_done, self.policy) if done else 0,
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
        known = self.catalogue.find(lift)
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
            before=before.forecast(effective, 0.0, to_failure=True).median,
            after=after.forecast(effective, 0.0, to_failure=True).median,
        )

    def muscles(
        self,
        lifts: Mapping[str, LiftEvidence],
        told: Mapping[str, LiftEvidence] | None = None,
    ) -> dict[str, MuscleEvidence]:
        """Every muscle with sets planned or done this week, or planned for the next; judged by
        `told` of its lifts, by all without it."""
        here = self.history.weeks.get(self.window.start, {})
        if told is not None:
            here = {muscle: self._judged_by(told, week, muscle) for muscle, week in here.items()}
        planned = planned_sets(
            [
                entry
                for session in self.window.week.sessions
                if session.day <= self.window.end
                for entry in session.entries
            ],
            self.catalogue,
        )
        upcoming = planned_sets(
            [e for s in self.window.next_week.sessions for e in s.entries]
            if self.window.next_week is not None
            else [],
            self.catalogue,
        )
        return {
            muscle: self._muscle(muscle, here.get(muscle), planned[muscle].fractional, lifts, told)
            for muscle in MUSCLES
            if muscle in here or planned[muscle].fractional or upcoming[muscle].fractional
        }

    def _judged_by(
        self, told: Mapping[str, LiftEvidence], week: MuscleWeek, muscle: str
    ) -> MuscleWeek:
        sets = {name: sum(done_credit(done, self.policy) for e in found.done for done in e.sets)
                for name, found in told.items()}  # fmt: skip
        moved = self.history.changes.get(self.window.start, {})
        return replace(
            week, change=change_of_muscle(muscle, sets, moved, self.catalogue, self.rule)
        )

    def _muscle(
        self,
        muscle: str,
        week: MuscleWeek | None,
        sets_planned: float,
        lifts: Mapping[str, LiftEvidence],
        told: Mapping[str, LiftEvidence] | None,
    ) -> MuscleEvidence:
        change = week.change if week is not None else None
        matched = None if change is None else self.rule.p_matched(change)
        by_plan = matched is None and self._did_as_planned(muscle, told or lifts)
        if by_plan:
            matched = self.policy.number("review.as_planned_matched")
        sore = week.sore if week is not None else None
        return MuscleEvidence(
            muscle=muscle,
            sets_done=week.sets if week is not None else 0.0,
            sets_logged=self._logged(muscle, lifts),
            sets_planned=sets_planned,
            matched=matched,
            judged_by_plan=by_plan,
            sore=sore,
            p_recovered=None if matched is None else self.rule.p_recovered(matched, sore),
        )

    def _logged(self, muscle: str, lifts: Mapping[str, LiftEvidence]) -> float:
        return sum(
            len(exposure.sets) * known.muscles.get(muscle, 0.0)
            for name, evidence in lifts.items()
            if (known := self.catalogue.find(name)) is not None
            for exposure in evidence.done
        )

    def _did_as_planned(self, muscle: str, lifts: Mapping[str, LiftEvidence]) -> bool:
        said = [
            evidence.as_planned
            for name, evidence in lifts.items()
            if evidence.as_planned is not None
            and (known := self.catalogue.find(name)) is not None
            and known.muscles.get(muscle, 0.0) >= 1
        ]
        return bool(said) and all(said)


def _as_planned(done: Sequence[Exposure]) -> bool | None:
    """Whether every first set reached its range, no more than one repetition closer to failure."""
    judged = [(e.first, e.target) for e in done if e.target is not None]
    if not judged:
        return None
    for first, target in judged:
        assert target is not None
        lighter = target.load_kg is not None and first.load_kg < target.load_kg
        short = first.first_reps < target.reps_low
        harder = first.rir is not None and first.rir < target.rir - 1
        if lighter or short or harder:
            return False
    return True


def _beyond_effort(all_done: Sequence[Exposure], policy: Policy) -> int:
    """Latest exposures in a row whose sets ended closer to failure than asked, on the mean."""
    line = policy.number("review.effort.beyond")
    in_a_row = 0
    for exposure in reversed(all_done):
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
