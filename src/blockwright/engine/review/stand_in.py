"""The lift that stands in for a painful one next week: it spares what hurts and fits the week."""

from blockwright.engine.pain import JOINT_MUSCLES, MUCH, grade_in
from blockwright.engine.review.block_weeks import BlockWeeks, with_entry
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.exposures import planned_entries
from blockwright.engine.review.lift_and_week_changes import on_other
from blockwright.engine.review.safety import PainState
from blockwright.engine.review.swaps import alternatives_for_pain, sparing_joint
from blockwright.engine.review.week_constraints import (
    newly_broken,
    overfull,
    week_sets,
)
from blockwright.engine.training import Entry, Lift


def stand_in(case: WeekCase, lift: Lift, state: PainState) -> Lift | None:
    """The best lift to offer: it suits the repetitions and is not in the way next week."""
    week = case.window.next_week or case.window.week
    entry = _entry(case, lift.name)
    in_week = {e.lift for s in week.sessions for e in s.entries} if week is not None else set()
    families = {
        known.family
        for s in (week.sessions if week is not None else ())
        if entry is not None and entry in s.entries
        for e in s.entries
        if e.lift != lift.name and (known := case.catalogue.find(e.lift)) is not None
    }
    joint, avoid = _joint(case, lift, state), {*case.pain, *in_week}
    if joint is not None:
        offered = sparing_joint(lift, joint, case.catalogue, case.lifter, avoid=avoid)
    else:
        places = (state.about, *case.pain_elsewhere)
        found = alternatives_for_pain(
            lift, case.catalogue, case.lifter, case.policy, places=places, avoid=avoid
        )
        offered = found.lifts
    return next(
        (
            other
            for other in offered
            if other.family not in families
            and (entry is None or entry.zone in other.reps)
            and _fits(case, lift, other)
        ),
        None,
    )


def _joint(case: WeekCase, lift: Lift, state: PainState) -> str | None:
    """The joint that hurts, where the reports or two painful lifts name one the lift loads much."""
    others = case.catalogue.known(
        name for name, each in case.pain.items() if each.own and name != lift.name
    )
    for joint in JOINT_MUSCLES:
        if not lift.regions or grade_in(lift, joint) < MUCH:
            continue
        named = state.about == joint or joint in case.pain_elsewhere
        if named or any(grade_in(other, joint) >= MUCH for other in others):
            return joint
    return None


def _fits(case: WeekCase, lift: Lift, other: Lift) -> bool:
    """Whether next week keeps its rules with `other` in every place of `lift`: minutes, ceilings,
    the session's and the week's limits, the ramp, and no more for a muscle that is held."""
    week, done = case.window.next_week, case.window.week
    if week is None or week.kind != "build":
        return True
    weeks = BlockWeeks(case.block, case.catalogue, case.policy)
    trial = week
    for number, session, entry in weeks.entries(week.week, None, lift.name):
        if number == week.week:
            made = on_other(weeks, entry, other)
            trial = with_entry(trial, session.session, made, entry.lift)
    if newly_broken(week, trial, case.lifter, case.catalogue, case.policy) is not None:
        return False
    changed = [s for s, old in zip(trial.sessions, week.sessions, strict=True) if s != old]
    if any(overfull(session, case.catalogue, case.policy) is not None for session in changed):
        return False
    before, after, now = (week_sets(each, case.catalogue) for each in (done, trial, week))
    most = case.policy.number("ramp.sets_per_week")
    for muscle, sets in after.items():
        held = case.lifter.emphasis_of(muscle) == "hold"
        room = 0.0 if held else max(before.get(muscle, 0.0) + most - now.get(muscle, 0.0), 0.0)
        if sets > now.get(muscle, 0.0) + room + 1e-9:
            return False
    return True


def _entry(case: WeekCase, lift: str) -> Entry | None:
    week = case.window.next_week or case.window.week
    found = planned_entries(week, case.catalogue).get(lift)
    return found[0][1] if found else None
