"""Where an edit reaches: its own week and the open ones after it; putting what it makes there; and
lifts in another order, the two of a pair together; finding places in a block, putting lifts into
sessions, and lifts that could stand in."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from blockwright.engine.errors import BadInput
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.planning.likeness import likest
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.planning.loads import LoadPaths, Step
from blockwright.engine.planning.order import order_key
from blockwright.engine.planning.week_figures import option_of
from blockwright.engine.policy import Policy
from blockwright.engine.review.block_weeks import BlockWeeks, Found, renumbered
from blockwright.engine.training import (
    Block,
    Catalogue,
    Entry,
    Lift,
    Lifter,
    Pin,
    Session,
    Week,
)
from .edits import EditContext, OrderLift, Place, WeekEdit


def weeks_text(edit: WeekEdit) -> str:
    week = edit.place.week
    return f"in week {week} only" if edit.only_this_week else f"from week {week} on"


def open_places(weeks: BlockWeeks, edit: WeekEdit, context: EditContext) -> Iterator[Found]:
    """The entry in its week and, unless it is for that week only, in those after it."""
    place = edit.place
    for number, session, entry in weeks.entries(place.week, place.session, place.lift):
        if number == place.week or (
            not edit.only_this_week and not context.closed.session(session)
        ):
            yield number, session, entry


def put_entries(
    weeks: BlockWeeks, number: int, entries_of: Mapping[int, tuple[Entry, ...]]
) -> None:
    """The week with other entries in some sessions, by number of the session."""

    def put(session: Session) -> Session:
        return replace(session, entries=entries_of.get(session.session, session.entries))

    weeks.weeks = [
        replace(week, sessions=tuple(map(put, week.sessions))) if week.week == number else week
        for week in weeks.weeks
    ]


def with_loads(places: Sequence[Found], lift: Lift, context: EditContext) -> list[Found]:
    """The entries with loads from the lifter's own log. Where it has none, what stood stays."""
    if context.paths is None or not places:
        return list(places)
    made = []
    for (number, session, entry), step in zip(
        places, load_steps(places, lift, context.paths), strict=True
    ):
        made.append((number, session, entry if step.load_kg is None else _at(entry, step)))
    return made


def load_steps(places: Sequence[Found], lift: Lift, paths: LoadPaths) -> Sequence[Step]:
    """Loads in these places by the lifter's own log, for the first place's range and rest."""
    _, _, entry = places[0]
    asked = [(s.day, e.sets[0].rir, len(e.sets)) for _, s, e in places]
    return paths.path(lift, entry.sets[0].reps, entry.rest_s, asked)


def _at(entry: Entry, step: Step) -> Entry:
    load, forecast = step.load_kg, step.forecast_kg
    rows = (
        replace(row, load_kg=load, forecast_kg=forecast, aim_low=None, aim_high=None)
        for row in entry.sets
    )
    return replace(entry, sets=tuple(rows))


def reorder(weeks: BlockWeeks, edit: OrderLift, context: EditContext) -> dict[str, float | str]:
    """Carries it out in every week it reaches; BadInput where nothing stands on that side."""
    moved: dict[int, tuple[Entry, ...]] = {}
    for number, session, entry in list(open_places(weeks, edit, context)):
        entries = _stepped(session.entries, entry, -1 if edit.earlier else 1)
        if entries is not None:
            moved[number] = entries
            put_entries(weeks, number, {session.session: entries})
    if edit.place.week not in moved:
        where = "first" if edit.earlier else "last"
        says = f"{edit.place.lift} is {where} in its session already"
        raise BadInput.of(says, "move it the other way")
    order = next(e.order for e in moved[edit.place.week] if e.lift == edit.place.lift)
    return {"place": order, "weeks": weeks_text(edit)}


def _stepped(entries: Sequence[Entry], entry: Entry, step: int) -> tuple[Entry, ...] | None:
    groups = [list(found) for _, found in groupby(entries, lambda e: e.pair or e.order)]
    at = next(index for index, group in enumerate(groups) if entry in group)
    to = at + step
    if not 0 <= to < len(groups):
        return None
    groups[at], groups[to] = groups[to], groups[at]
    return renumbered([each for group in groups for each in group])


def session_at(block: Block, week: int, session: int) -> tuple[Week, Session]:
    """The session of that number; BadInput when the block has none."""
    for found in block.weeks:
        for planned in found.sessions:
            if (found.week, planned.session) == (week, session):
                return found, planned
    raise BadInput.of(
        f"the block has no session {session} in week {week}",
        "open the block anew; it may have changed",
    )


def entry_at(block: Block, place: Place) -> tuple[Week, Session, Entry]:
    """The entry of a place; BadInput when it is not there (any more)."""
    week, session = session_at(block, place.week, place.session)
    for entry in session.entries:
        if entry.lift == place.lift:
            return week, session, entry
    raise BadInput.of(
        f"{place.lift} is not in session {place.session} of week {place.week}",
        "open the block anew; it may have changed",
    )


def pins_by_lift(lifter: Lifter, catalogue: Catalogue) -> dict[str, Pin]:
    """The lifter's pins by canonical name; a lifter file may write an alias."""
    return {catalogue.canonical(pin.lift): pin for pin in lifter.pins}


def with_entry_added(
    entries: Sequence[Entry], new: Entry, lifter: Lifter, catalogue: Catalogue, policy: Policy
) -> tuple[Entry, ...]:
    """The entries with one more, where the order of a session puts it, between no pair."""
    leads = lifter.leads
    key = order_key(option_of(new, catalogue, policy), leads)
    at = len(entries)
    for index, entry in enumerate(entries):
        inside = index > 0 and entry.pair is not None and entries[index - 1].pair == entry.pair
        if not inside and order_key(option_of(entry, catalogue, policy), leads) > key:
            at = index
            break
    return renumbered([*entries[:at], new, *entries[at:]])


def swap_candidates(
    block: Block, place: Place, catalogue: Catalogue, policy: Policy
) -> tuple[tuple[Lift, ...], tuple[Lift, ...]]:
    """Lifts that could stand in for an entry: those for the same muscles, the likest first, and
    every other. The kit allows them, nobody avoids them, they suit the entry's repetitions."""
    _, session, entry = entry_at(block, place)
    gone = catalogue.lifts[entry.lift]
    here = {other.lift for other in session.entries}
    limits = PlanningLimits(policy)
    fit = [
        lift
        for lift in usable_lifts(block.lifter, catalogue)
        if lift.name not in here and limits.working_range(lift, entry.zone) is not None
    ]
    same = [lift for lift in fit if set(lift.direct) & set(gone.direct)]
    return tuple(likest(gone, same, policy)), tuple(
        sorted((o for o in fit if o not in same), key=lambda o: o.name)
    )
