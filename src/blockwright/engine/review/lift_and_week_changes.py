"""Carries out swaps, stopped lifts, the extra build week and easier weeks.

An eased week (lighter, done again, a deload that goes on) takes the place of a build week, and the
print after it is one week late: what was meant for the eased week comes in the next one, and the
last build week falls out."""

from dataclasses import replace

from blockwright.engine.lifts import Zone
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.tolerated_load import easier
from blockwright.engine.training import Entry, Lift, Method, Session, SetPlan, Week
from .block_weeks import (
    BlockWeeks,
    a_week_later,
    remade,
    trim,
    with_own_rest,
    with_sets,
    without_entry,
)
from .decisions import Verdict
from .proposals import To, number_of
from .set_and_load_changes import entry_of, no_climb, put_load, with_load


def swap_lift(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """Another lift in every place of the old one, from the decided week on; or the old one that
    week at the load the coach wrote, with no more sets than it had."""
    offered, to = verdict.offered, verdict.to
    if to is None or offered.lift is None or offered.week is None:
        return None
    if (load_kg := number_of(to)) is not None:
        no_climb(weeks, offered.lift, offered.week)
        for place in weeks.entries(offered.week, None, offered.lift):
            if place[0] == offered.week:
                put_load(weeks, weeks.lift(offered.lift), [place], load_kg)
        return None
    other, places = weeks.lift(str(to.value)), weeks.entries(offered.week, None, offered.lift)
    # what stands in for pain comes no nearer to failure
    least = places[0][2].sets[0].rir if offered.about and places else 0.0
    for number, session, entry in places:
        weeks.put(number, session.session, on_other(weeks, entry, other, least), entry.lift)
    return because("swapped_in", lift=offered.lift, other=other.name, week=offered.week)


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
    return because("lift_stopped", lift=lift.name, week=offered.week, muscles=muscles)


def extend_block(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """One or more build weeks like the last, and the deload behind them."""
    value = number_of(verdict.to)
    if value is None:
        return None
    builds = [week for week in weeks.weeks if week.kind == "build"]
    extra = [a_week_later(builds[-1], more + 1) for more in range(int(value) - len(builds))]
    tail = [a_week_later(w, len(extra)) for w in weeks.weeks if w.kind == "deload"]
    weeks.weeks = [*builds, *extra, *tail]
    return Reason(code="block_extended", facts={"week": extra[-1].week}) if extra else None


def zone_on(other: Lift, entry: Entry) -> Zone:
    """The zone of an entry's sets on another lift: one not made for low repetitions does mid."""
    return "mid" if entry.zone == "low" and "low" not in other.reps else entry.zone


def on_other(weeks: BlockWeeks, entry: Entry, other: Lift, least: float = 0.0) -> Entry:
    """The same sets on another lift in its own range, `least` in reserve, its load to be found."""
    first = entry.sets[0]
    own = PlanningLimits(weeks.policy).working_range(other, zone_on(other, entry))
    reps = own or first.reps
    method: Method = "superset" if entry.pair is not None else "straight"
    made = replace(
        entry,
        lift=other.name,
        method=method,
        sets=tuple(
            SetPlan.of(reps, max(other.rir_for(planned.rir), least)) for planned in entry.sets
        ),
    )
    return made if entry.pair is not None else with_own_rest(made, weeks.catalogue, weeks.policy)


def _without(weeks: BlockWeeks, session: Session, lift: Lift) -> Session:
    gone = next((entry for entry in session.entries if entry.lift == lift.name), None)
    if gone is None:
        return session
    left = without_entry(session.entries, gone, weeks.catalogue, weeks.policy)
    return replace(session, entries=left)


# ------------------------------------------------------------------------------------- easier weeks


def ease_week(weeks: BlockWeeks, verdict: Verdict) -> Reason | None:
    """The decided week as the coach wants it: `repeat`, `light`, or `deload` and on or the end."""
    number, to = verdict.offered.week, verdict.to
    return None if number is None or to is None else eased(weeks, number, to)


def eased(weeks: BlockWeeks, number: int, to: To) -> Reason | None:
    """Week `number` as `to` says; None where it is no build week."""
    week = weeks.week(number)
    if week is None or week.kind != "build":
        return None
    facts: dict[str, FactValue] = {"week": number}
    if to.value == "deload" and to.then == "end":
        kept = [found for found in weeks.block.weeks if found.week < number]
        weeks.weeks = [*kept, replace(week, kind="deload")]
        return Reason(code="deload_early", facts=facts)
    before = weeks.week(number - 1)
    if before is None:
        return None
    if to.value == "deload":
        # Half of a lighter week would be a third of a usual one: what is printed is halved.
        before = a_week_later(week, -1) if before.ease == "light" else before
        made = weeks.deload_after(before)
    elif to.value == "repeat":
        made = repeated(weeks, week, before)
    elif to.value == "light":
        made = lighter(weeks, week, before)
    else:
        return None
    _put_in_place(weeks, number, made)
    return Reason(code=f"week_{to.value}", facts=facts)


def repeated(weeks: BlockWeeks, week: Week, before: Week) -> Week:
    """The week with the numbers of the week before; lifts that are new in it keep their own, and a
    load that came down after it stays down."""

    def again(session: Session, entry: Entry) -> list[Entry]:
        was = entry_of(before, session.session, entry.lift)
        if was is None:
            return [entry]
        same = replace(entry, method=was.method, rest_s=was.rest_s, sets=was.sets)
        lift = weeks.lift(entry.lift)
        load_kg = _come_down(lift, entry, was)
        if load_kg is None:
            return [same]
        rack = rack_for(lift, weeks.block.lifter.gym, weeks.policy)
        return [with_load(same, load_kg, rack, decided=True)]

    return replace(remade(week, again), rir=before.rir, ease="repeat")


def _come_down(lift: Lift, entry: Entry, was: Entry) -> float | None:
    """The entry's load where it is easier than the week before had for the same range, or where
    that had none; else None."""
    now, then = (one.sets[0] if one.sets else None for one in (entry, was))
    if now is None or then is None or now.load_kg is None or now.reps_low != then.reps_low:
        return None
    if then.load_kg is None:
        return now.load_kg
    easier_kg = easier(lift, (now.load_kg, then.load_kg))
    return None if easier_kg == then.load_kg else easier_kg


def lighter(weeks: BlockWeeks, week: Week, before: Week) -> Week:
    """`review.ease.sets` of the week's sets, `review.ease.rir` more in reserve, and no load above
    last week's."""
    share = weeks.policy.number("review.ease.sets")
    counts = {
        (session.session, entry.order): (len(entry.sets), len(entry.sets))
        for session in week.sessions
        for entry in session.entries
        if entry.sets
    }
    left = trim(counts, round(share * sum(now for now, _ in counts.values())))
    more = weeks.policy.number("review.ease.rir")

    def lightened(session: Session, entry: Entry) -> list[Entry]:
        if not entry.sets:
            return [entry]
        was = entry_of(before, session.session, entry.lift)
        last = was.sets[0].load_kg if was is not None and was.sets else None
        made = with_sets(entry, left[session.session, entry.order])
        lift = weeks.lift(entry.lift)
        rows = (
            replace(one, rir=one.rir + more, load_kg=_easier(lift, one, last), forecast_kg=None)
            for one in made.sets
        )
        return [replace(made, sets=tuple(rows))]

    return replace(remade(week, lightened), rir=week.rir + more, ease="light")


def _easier(lift: Lift, planned: SetPlan, last_kg: float | None) -> float | None:
    """The printed load or last week's, whichever is easier."""
    if planned.load_kg is None or last_kg is None:
        return planned.load_kg
    return easier(lift, (planned.load_kg, last_kg))


def _put_in_place(weeks: BlockWeeks, number: int, made: Week) -> None:
    """The eased week in its place, and every later build week with the print of the one before."""
    places = weeks.builds_from(number)
    for (index, target), (_, source) in zip(places[1:], places, strict=False):
        weeks.weeks[index] = a_week_later(source, target.week - source.week)
    weeks.weeks[places[0][0]] = made
