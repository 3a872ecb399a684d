"""What a coach types into a cell: range, reserve, load; and a lift that comes in or goes out."""

from dataclasses import replace

from blockwright.engine.errors import BadInput
from blockwright.engine.lifts import is_load_legal
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.review.block_weeks import (
    BlockWeeks,
    with_own_rest,
    with_sets,
    without_entry,
)
from blockwright.engine.review.set_and_load_changes import put_load
from blockwright.engine.screening import least_rir
from blockwright.engine.training import Entry, Lift, RepRange, Session, SetPlan, Week, Zone
from blockwright.engine.units import load_text, number_text
from .differences import range_text
from .edited_weeks import open_places, put_entries, weeks_text, with_entry_added, with_loads
from .edits import AddLift, EditContext, Place, RemoveLift, SetLoad, SetRange, SetReserve

Change = dict[str, float | str]

MOST_REPS, MOST_RIR = 50, 10
_ZONES: tuple[Zone, ...] = ("mid", "high", "low")  # Where a lift that comes in is tried first


def cell_changed(
    weeks: BlockWeeks,
    edit: SetRange | SetReserve | SetLoad | RemoveLift,
    session: Session,
    entry: Entry,
    context: EditContext,
) -> Change:
    """Carries the edit out in `weeks` and says what it changed. BadInput for what is no range,
    no reserve, no load of this lift, or the only lift of its session."""
    match edit:
        case SetRange():
            change = _set_range(weeks, edit, entry, context)
        case SetReserve():
            change = _set_reserve(weeks, edit, entry, context)
        case SetLoad():
            change = _set_load(weeks, edit, entry, context)
        case RemoveLift():
            change = _remove(weeks, edit, session, context)
    return {**change, "weeks": weeks_text(edit)}


def _nothing(says: str, column: str) -> BadInput:
    return BadInput.of(says, "give another number", column=column)


def _set_range(weeks: BlockWeeks, edit: SetRange, entry: Entry, context: EditContext) -> Change:
    if not 1 <= edit.low <= edit.high <= MOST_REPS:
        says = f"{edit.low} to {edit.high} repetitions is no range"
        mend = f"write the smaller number first, up to {MOST_REPS}"
        raise BadInput.of(says, mend, column="reps")
    before, after = range_text(entry), range_text(edit)
    reps = RepRange(low=edit.low, high=edit.high)
    if before == after:
        raise _nothing(f"{entry.lift} is written for {before} already", "reps")
    lift = weeks.lift(entry.lift)
    places = [
        (number, session, _for_range(found, reps, weeks))
        for number, session, found in open_places(weeks, edit, context)
    ]
    for number, session, made in with_loads(places, lift, context):
        weeks.put(number, session.session, made)
    return {"before": before, "after": after}


def _for_range(entry: Entry, reps: RepRange, weeks: BlockWeeks) -> Entry:
    zone = PlanningLimits(weeks.policy).zone_of(reps)
    rows = (
        replace(row, reps_low=reps.low, reps_high=reps.high, aim_low=None, aim_high=None)
        for row in entry.sets
    )
    made = replace(entry, zone=zone, sets=tuple(rows))
    return made if entry.pair is not None else with_own_rest(made, weeks.catalogue, weeks.policy)


def _set_reserve(weeks: BlockWeeks, edit: SetReserve, entry: Entry, context: EditContext) -> Change:
    if not 0 <= edit.rir <= MOST_RIR:
        says = f"{number_text(edit.rir)} is no number of repetitions in reserve"
        raise BadInput.of(says, f"give 0 to {MOST_RIR}", column="rir")
    before = entry.sets[0].rir
    if all(row.rir == edit.rir for row in entry.sets):
        says = f"{entry.lift} has {number_text(before)} in reserve already"
        raise _nothing(says, "rir")
    lift = weeks.lift(entry.lift)
    places = []
    for number, session, found in open_places(weeks, edit, context):
        wanted = edit.rir
        if found is not entry:
            now = found.sets[0].rir
            least = max(1.0, lift.rir_for(least_rir(weeks.block.lifter, number, weeks.policy)))
            wanted = max(now + edit.rir - before, min(now, least))
        rows = tuple(replace(row, rir=wanted) for row in found.sets)
        places.append((number, session, replace(found, sets=rows)))
    for number, session, made in with_loads(places, lift, context):
        weeks.put(number, session.session, made)
    return {"before_rir": before, "after_rir": edit.rir}


def _set_load(weeks: BlockWeeks, edit: SetLoad, entry: Entry, context: EditContext) -> Change:
    lift, lifter = weeks.lift(entry.lift), weeks.block.lifter
    if not is_load_legal(lift, edit.load_kg, lifter.bodyweight_kg):
        says = f"{load_text(edit.load_kg, lifter.units)} is no load of {lift.name}"
        raise BadInput.of(says, "give what is written on the sheet", column="load")
    before = entry.sets[0].load_kg
    if before == edit.load_kg:
        raise _nothing(f"{lift.name} has {load_text(before, lifter.units)} already", "load")
    put_load(weeks, lift, list(open_places(weeks, edit, context)), edit.load_kg)
    return {
        "before": "none yet" if before is None else load_text(before, lifter.units),
        "after": load_text(edit.load_kg, lifter.units),
        "load_kg": edit.load_kg,
    }


def known_place(place: Place, context: EditContext) -> Place:
    """The place with the lift's own name; BadInput for a lift nobody knows."""
    lift = context.catalogue.find(place.lift)
    if lift is None:
        says = f'no lift is called "{place.lift}"'
        raise BadInput.of(says, "choose one of the list", column="lift")
    return replace(place, lift=lift.name)


def add_lift(weeks: BlockWeeks, edit: AddLift, session: Session, context: EditContext) -> Change:
    """The lift in its session and, unless for one week only, in the same one of later weeks."""
    lift = context.catalogue.lifts[edit.place.lift]
    if any(entry.lift == lift.name for entry in session.entries):
        says = f"{lift.name} is in the session on {session.day} already"
        raise BadInput.of(says, "change its sets", column="lift")
    limits = PlanningLimits(context.policy)
    count = limits.sets_least if edit.sets is None else edit.sets
    if not 1 <= count <= limits.sets_most_lead:
        mend = f"give 1 to {limits.sets_most_lead} sets"
        raise BadInput.of(f"no lift has {count} sets", mend, column="sets")
    places = []
    for _, week in weeks.builds_from(edit.place.week):
        here = _open_session(week, edit, lift, context)
        if here is not None:
            places.append((week.week, here, _new_entry(lift, week, count, context)))
        if edit.only_this_week:
            break
    for number, here, made in with_loads(places, lift, context):
        lifter = weeks.block.lifter
        entries = with_entry_added(here.entries, made, lifter, context.catalogue, context.policy)
        put_entries(weeks, number, {here.session: entries})
    return {"sets": count, "weeks": weeks_text(edit)}


def _open_session(week: Week, edit: AddLift, lift: Lift, context: EditContext) -> Session | None:
    found = next((s for s in week.sessions if s.session == edit.place.session), None)
    if found is None or context.closed.session(found):
        return None
    return None if any(entry.lift == lift.name for entry in found.entries) else found


def _new_entry(lift: Lift, week: Week, count: int, context: EditContext) -> Entry:
    """Straight sets in the lift's preferred range at the week's reserve."""
    limits = PlanningLimits(context.policy)
    zones = [limits.zone_of(lift.prefers[0])] if lift.prefers else []
    zone = next(z for z in (*zones, *_ZONES) if lift.reps.get(z) is not None)
    reps = limits.working_range(lift, zone) or limits.range_of(zone)
    row = SetPlan.of(reps, lift.rir_for(week.rir))
    made = Entry(order=1, lift=lift.name, method="straight", zone=zone, rest_s=0, sets=(row,))
    return with_own_rest(with_sets(made, count), context.catalogue, context.policy)


def _remove(weeks: BlockWeeks, edit: RemoveLift, session: Session, context: EditContext) -> Change:
    if len(session.entries) == 1:
        says = f"{edit.place.lift} is the only lift of the session on {session.day}"
        mend = "put another in its place, or say that the session is missed"
        raise BadInput.of(says, mend)
    for number, here, entry in list(open_places(weeks, edit, context)):
        if len(here.entries) > 1:
            left = without_entry(here.entries, entry, context.catalogue, context.policy)
            put_entries(weeks, number, {here.session: left})
    return {}
