"""Finding places in a block, putting lifts into sessions, and lifts that could stand in."""

from collections.abc import Sequence
from dataclasses import replace

from blockwright.engine.editing.edits import Place
from blockwright.engine.errors import BadInput
from blockwright.engine.planning.candidates import usable_lifts
from blockwright.engine.planning.draft import lead_names
from blockwright.engine.planning.judged_week import option_of
from blockwright.engine.planning.likeness import likest
from blockwright.engine.planning.limits import PlanningLimits
from blockwright.engine.planning.order import order_key
from blockwright.engine.policy import Policy
from blockwright.engine.review.derived import renumbered, time_of
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


def without_entry(
    entries: Sequence[Entry], gone: Entry, catalogue: Catalogue, policy: Policy
) -> tuple[Entry, ...]:
    """The entries without one; what was its partner in a pair gets its own rest back."""
    left = renumbered([entry for entry in entries if entry is not gone])
    return tuple(
        with_own_rest(entry, catalogue, policy)
        if gone.pair is not None and was.pair == gone.pair
        else entry
        for entry, was in zip(left, [e for e in entries if e is not gone], strict=True)
    )


def with_own_rest(entry: Entry, catalogue: Catalogue, policy: Policy) -> Entry:
    """The entry on its own: no pair, straight, the rest of its zone."""
    method = "straight" if entry.method == "superset" else entry.method
    alone = replace(entry, pair=None, method=method)
    return replace(alone, rest_s=time_of(alone, catalogue, policy).rest_s)


def with_entry_added(
    entries: Sequence[Entry], new: Entry, lifter: Lifter, catalogue: Catalogue, policy: Policy
) -> tuple[Entry, ...]:
    """The entries with one more, where the order of a session puts it, between no pair."""
    leads = lead_names(lifter)
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
