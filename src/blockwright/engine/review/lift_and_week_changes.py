"""Carries out swaps, stopped lifts and the extra build week."""

from dataclasses import replace

from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.block_weeks import BlockWeeks
from blockwright.engine.review.decisions import Verdict
from blockwright.engine.review.derived import a_week_later, renumbered, time_of
from blockwright.engine.review.forecast import with_load
from blockwright.engine.review.proposals import number_of
from blockwright.engine.review.set_and_load_changes import no_climb
from blockwright.engine.training import Entry, Lift, Method, RepRange, Session, SetPlan, Week


def swap_lift(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """Another lift in every place of the old one, from the decided week on."""
    offered, to = verdict.offered, verdict.to
    if to is None or offered.lift is None or offered.week is None:
        return None
    if to.key == "load_kg":
        _lighter(weeks, verdict)
        return None
    other = weeks.lift(str(to.value))
    for number, session, entry in weeks.entries(offered.week, None, offered.lift):
        weeks.put(number, session.session, on_other(weeks, entry, other), entry.lift)
    facts: dict[str, FactValue] = {"lift": offered.lift, "other": other.name, "week": offered.week}
    return Reason(code="swapped_in", facts=facts)


def _lighter(weeks: BlockWeeks, verdict: Verdict) -> None:
    """The lift stays, at the load the coach wrote and no more sets than it had; it does not climb
    again by itself."""
    offered, to = verdict.offered, verdict.to
    if to is None or offered.lift is None or offered.week is None:
        return
    lift = weeks.lift(offered.lift)
    no_climb(weeks, lift.name, offered.week)
    rack = rack_for(lift, weeks.block.lifter.gym, weeks.policy)
    for number, session, entry in weeks.entries(offered.week, None, lift.name):
        weeks.put(number, session.session, with_load(entry, number_of(to), rack, decided=True))


def stop_lift(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """The lift out of every session from the decided week on, the deload included; or another one
    in its place, where the coach named one."""
    offered = verdict.offered
    if verdict.to is not None:
        return swap_lift(weeks, verdict)
    if offered.lift is None or offered.week is None:
        return None
    lift = weeks.lift(offered.lift)
    for index, week in enumerate(weeks.weeks):
        if week.week >= offered.week:
            weeks.weeks[index] = replace(
                week,
                sessions=tuple(_without(weeks, session, lift) for session in week.sessions),
            )
    muscles = ", ".join(muscle.replace("_", " ") for muscle in lift.direct)
    facts: dict[str, FactValue] = {"lift": lift.name, "week": offered.week, "muscles": muscles}
    return Reason(code="lift_stopped", facts=facts)


def extend_block(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """One or more build weeks like the last, and the deload behind them."""
    value = number_of(verdict.to)
    if value is None:
        return None
    builds = [week for week in weeks.weeks if week.kind == "build"]
    extra: list[Week] = []
    for _ in range(int(value) - len(builds)):
        extra.append(a_week_later((extra or builds)[-1]))
    tail = [week for week in weeks.weeks if week.kind == "deload"]
    for _ in extra:
        tail = [a_week_later(week) for week in tail]
    weeks.weeks = [*builds, *extra, *tail]
    return Reason(code="block_extended", facts={"week": extra[-1].week}) if extra else None


def on_other(weeks: BlockWeeks, entry: Entry, other: Lift) -> Entry:
    """The same sets on another lift: its own range in the zone, its load still to be found."""
    first = entry.sets[0]
    own = PlanningLimits(weeks.policy).working_range(other, entry.zone)
    reps = own or RepRange(low=first.reps_low, high=first.reps_high)
    method: Method = "superset" if entry.pair is not None else "straight"
    made = replace(
        entry,
        lift=other.name,
        method=method,
        sets=tuple(
            SetPlan(
                load_kg=None,
                reps_low=reps.low,
                reps_high=reps.high,
                rir=other.rir_for(planned.rir),
            )
            for planned in entry.sets
        ),
    )
    if entry.pair is not None:
        return made
    return replace(made, rest_s=time_of(made, weeks.catalogue, weeks.policy).rest_s)


def _without(weeks: BlockWeeks, session: Session, lift: Lift) -> Session:
    """The session without a lift; what was its partner in a pair gets its own rest back."""
    left = [entry for entry in session.entries if entry.lift != lift.name]
    if len(left) == len(session.entries):
        return session
    paired = {entry.lift for entry in left if entry.pair is not None}
    entries = tuple(
        replace(entry, rest_s=time_of(entry, weeks.catalogue, weeks.policy).rest_s)
        if entry.pair is None and entry.lift in paired
        else entry
        for entry in renumbered(left)
    )
    return replace(session, entries=entries)
