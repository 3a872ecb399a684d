"""Carries a coach's edit out: the next revision, with minutes, counts and the deload anew; or an
earlier revision's weeks again."""

import math
from dataclasses import replace

from blockwright.engine.errors import BadInput
from blockwright.engine.planning.cautions import effort_cautions
from blockwright.engine.planning.standing import told_anew
from blockwright.engine.planning.supersets import may_pair
from blockwright.engine.planning.week_figures import option_of
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import each_once
from blockwright.engine.review.block_weeks import (
    BlockWeeks,
    Found,
    with_own_rest,
    with_sets,
    without_entry,
)
from blockwright.engine.review.lift_and_week_changes import on_other
from blockwright.engine.review.revision import LEAST_WEEKS, MOST_WEEKS, below_floor
from blockwright.engine.training import (
    DAY_NAMES,
    DAYS,
    Block,
    BlockDecision,
    Catalogue,
    Entry,
    Lifter,
    Pin,
    Session,
    Week,
)
from . import edits
from .cell_edits import add_lift, cell_changed, known_place
from .edited_weeks import (
    entry_at,
    open_places,
    pins_by_lift,
    put_entries,
    reorder,
    session_at,
    weeks_text,
    with_entry_added,
    with_loads,
)
from .edits import CoachWords, EditContext, decision_of

Change = dict[str, float | str]


def edited(
    block: Block, edit: edits.Edit, context: edits.EditContext, said: edits.CoachWords | None = None
) -> Block:
    """The next revision of `block`. Raises BadInput when the edit cannot be done at all; what
    the rules say of it is for `broken_rules`."""
    said = said or edits.CoachWords()
    if isinstance(edit, edits.AddLift):
        edit = replace(edit, place=known_place(edit.place, context))
        week, session = session_at(block, edit.place.week, edit.place.session)
    else:
        week, session, entry = entry_at(block, edit.place)
    if not isinstance(edit, edits.PinLift | edits.UnpinLift):
        _require_open(week, session, context)
    weeks = BlockWeeks(block, context.catalogue, context.policy)
    match edit:
        case edits.AddLift():
            change = add_lift(weeks, edit, session, context)
        case edits.SetRange() | edits.SetReserve() | edits.SetLoad() | edits.RemoveLift():
            change = cell_changed(weeks, edit, session, entry, context)
        case edits.SetCount():
            change = _set_count(weeks, edit, entry, context)
        case edits.MoveLift():
            change = _move(weeks, edit, context)
        case edits.OrderLift():
            change = reorder(weeks, edit, context)
        case edits.SwapLift():
            change = _swap(weeks, edit, context)
        case edits.PinLift() | edits.UnpinLift():
            change = {}
    change = {**_where(edit.place, session), **change}
    lifter = replace(block.lifter, pins=_pins(block.lifter, edit, session, said, weeks))
    decision = edits.decision_of(block, edits.kind_of(edit), change, said)
    return revision_after(block, weeks.finished(edit.place.week), decision, context, lifter=lifter)


def revision_after(
    block: Block,
    weeks: tuple[Week, ...],
    decision: BlockDecision,
    context: edits.EditContext,
    *,
    lifter: Lifter | None = None,
) -> Block:
    """The revision after `block`, with these weeks and what was decided: cautions of the new
    lifts join those that stand, and muscles below the floor get their reason."""
    lifter = lifter or block.lifter
    told = edits.margin_reason(decision)
    kept = (one for one in block.cautions if one.code != "spotter")
    made = context.paths.reasons if context.paths is not None else ()
    new = replace(
        block,
        revision=block.revision + 1,
        weeks=weeks,
        lifter=lifter,
        decisions=(*block.decisions, decision),
        reasons=(*block.reasons, *([told] if told else []), *made),
        cautions=each_once((*kept, *effort_cautions(context.catalogue, weeks))),
    )
    new = replace(new, reasons=(*new.reasons, *below_floor(block, new)))
    return told_anew(new, context.catalogue, context.policy)


def _where(place: edits.Place, session: Session) -> Change:
    day = DAY_NAMES[DAYS[session.day.weekday()]]
    return {"week": place.week, "session": place.session, "lift": place.lift, "day": day}


def _require_open(week: Week, session: Session, context: edits.EditContext) -> None:
    if week.kind == "deload":
        raise BadInput.of(
            "the deload follows from the last build week",
            "change that week, and the deload goes with it",
        )
    if context.closed.session(session):
        raise BadInput.of(
            f"the session on {session.day} is over",
            "change a later one; what was done stays as it was done",
        )


def _set_count(
    weeks: BlockWeeks, edit: edits.SetCount, entry: Entry, context: edits.EditContext
) -> Change:
    policy = context.policy
    most = most_sets_named(entry, policy)
    before = len(entry.sets)
    if not 1 <= edit.sets <= most:
        mend = f"give 1 to {most} sets; more of a muscle belongs in another session or lift"
        raise BadInput.of(f"no lift has {edit.sets} sets", mend, column="sets")
    if edit.sets == before:
        says = f"{entry.lift} has {before} sets already"
        raise BadInput.of(says, "give another number", column="sets")
    for number, session, found in list(open_places(weeks, edit, context)):
        _put_sets(weeks, (number, session, found), edit.sets - before, first=found is entry)
    return {"before_sets": before, "after_sets": edit.sets, "weeks": weeks_text(edit)}


def _put_sets(weeks: BlockWeeks, place: Found, change: int, *, first: bool) -> None:
    """So many sets more in one place, its partner in a pair alike. Where the coach named the
    number it stands; in later weeks it goes only as far as the limits let it."""
    number, session, entry = place
    now = len(entry.sets)
    wanted = now + change
    if not first:
        least = weeks.policy.whole("planning.sets_least")
        most = _most_sets(weeks, entry)
        wanted = min(max(wanted, min(least, now)), max(most, now))
    together = [
        other
        for other in session.entries
        if other is entry or (entry.pair is not None and other.pair == entry.pair)
    ]
    named = first or wanted < now
    for count in (wanted,) if named else range(wanted, now, -1):
        made = [with_sets(each, count) for each in together]
        if named or weeks.obstacle(number, session.session, *made) is None:
            for each in made:
                weeks.put(number, session.session, each)
            return


def most_sets_named(entry: Entry, policy: Policy) -> int:
    """Sets a coach may name for an entry; what a special set counts beyond one is taken off."""
    most = max(policy.whole("planning.sets_most"), policy.whole("planning.sets_most_lead"))
    return most - counted_twice(entry)


def _most_sets(weeks: BlockWeeks, entry: Entry) -> int:
    """Sets of a lift in one session; those aimed at a lead muscle may have one more."""
    leads = weeks.block.lifter.leads & set(weeks.lift(entry.lift).direct)
    most = weeks.policy.whole("planning.sets_most_lead" if leads else "planning.sets_most")
    return most - counted_twice(entry)


def counted_twice(entry: Entry) -> int:
    """What special sets of an entry count beyond one each, in whole sets, rounded up."""
    return math.ceil(sum(row.counts_as - 1 for row in entry.sets))


def _move(weeks: BlockWeeks, edit: edits.MoveLift, context: edits.EditContext) -> Change:
    lift = edit.place.lift
    _, target = session_at(weeks.block, edit.place.week, edit.to_session)
    if context.closed.session(target):
        says = f"the session on {target.day} is over"
        raise BadInput.of(says, "choose a later one", column="to_session")
    if any(entry.lift == lift for entry in target.entries):
        says = f"{lift} is in the session on {target.day} already"
        raise BadInput.of(says, "choose another session", column="to_session")
    for number, session, entry in list(open_places(weeks, edit, context)):
        _moved(weeks, (number, session, entry), edit.to_session, context)
    return {
        "to_session": edit.to_session,
        "to_day": DAY_NAMES[DAYS[target.day.weekday()]],
        "weeks": weeks_text(edit),
    }


def _moved(weeks: BlockWeeks, place: Found, to_session: int, context: edits.EditContext) -> None:
    number, session, entry = place
    week = next(found for found in weeks.weeks if found.week == number)
    target = next((s for s in week.sessions if s.session == to_session), None)
    if target is None or context.closed.session(target):
        return
    if any(other.lift == entry.lift for other in target.entries):
        return
    catalogue, policy = weeks.catalogue, weeks.policy
    alone = with_own_rest(entry, catalogue, policy)
    entries = {
        session.session: without_entry(session.entries, entry, catalogue, policy),
        to_session: with_entry_added(target.entries, alone, weeks.block.lifter, catalogue, policy),
    }
    put_entries(weeks, number, entries)


def _swap(weeks: BlockWeeks, edit: edits.SwapLift, context: edits.EditContext) -> Change:
    other = context.catalogue.find(edit.other)
    if other is None:
        says = f'no lift is called "{edit.other}"'
        raise BadInput.of(says, "choose one of the list", column="other")
    _, session = session_at(weeks.block, edit.place.week, edit.place.session)
    if any(entry.lift == other.name for entry in session.entries):
        says = f"{other.name} is in the session on {session.day} already"
        raise BadInput.of(says, "choose another lift", column="other")
    places = [
        found
        for found in open_places(weeks, edit, context)
        if all(entry.lift != other.name for entry in found[1].entries)
    ]
    made = [(n, s, on_other(weeks, entry, other)) for n, s, entry in places]
    for place, (_, _, new) in zip(places, with_loads(made, other, context), strict=True):
        _swapped(weeks, place, new)
    return {"other": other.name, "weeks": weeks_text(edit)}


def _swapped(weeks: BlockWeeks, place: Found, new: Entry) -> None:
    """The new entry in the old one's place; a pair that cannot be done in turn is one no more."""
    number, session, old = place
    catalogue, policy = weeks.catalogue, weeks.policy
    partner = next(
        (e for e in session.entries if e is not old and e.pair is not None and e.pair == old.pair),
        None,
    )
    stays = partner is not None and may_pair(
        option_of(new, catalogue, policy), option_of(partner, catalogue, policy)
    )
    entries = []
    for entry in session.entries:
        fresh = new if entry is old else entry
        apart = not stays and (entry is old or entry is partner)
        entries.append(with_own_rest(fresh, catalogue, policy) if apart else fresh)
    put_entries(weeks, number, {session.session: tuple(entries)})


def _pins(
    lifter: Lifter, edit: edits.Edit, session: Session, said: edits.CoachWords, weeks: BlockWeeks
) -> tuple[Pin, ...]:
    """The lifter's pins after an edit. What breaks the spacing of hard days stands only as a
    pin: insisting makes one."""
    here, catalogue = DAYS[session.day.weekday()], weeks.catalogue
    if isinstance(edit, edits.UnpinLift):
        gone = pins_by_lift(lifter, catalogue).get(edit.place.lift)
        return tuple(pin for pin in lifter.pins if pin is not gone)
    if isinstance(edit, edits.PinLift):
        return with_pin(lifter, edit.place.lift, here, catalogue)
    if "too_close" not in said.insisted:
        return lifter.pins
    if isinstance(edit, edits.MoveLift):
        _, target = session_at(weeks.block, edit.place.week, edit.to_session)
        return with_pin(lifter, edit.place.lift, DAYS[target.day.weekday()], catalogue)
    lift = edit.other if isinstance(edit, edits.SwapLift) else edit.place.lift
    return with_pin(lifter, lift, here, catalogue)


def with_pin(lifter: Lifter, lift: str, day: str, catalogue: Catalogue) -> tuple[Pin, ...]:
    """The lifter's pins with this lift on this day too."""
    old = pins_by_lift(lifter, catalogue).get(lift)
    if old is None:
        return (*lifter.pins, Pin(lift=lift, days=(day,)))
    days = tuple(name for name in DAYS if name in old.days or name == day)
    return tuple(replace(pin, days=days) if pin is old else pin for pin in lifter.pins)


def gone_back(
    block: Block, old: Block, context: EditContext, said: CoachWords | None = None
) -> Block:
    """The revision after `block`, with the weeks of `old` where none of them has begun.

    Weeks that have begun stay; so do cautions, decisions and what the coach recorded of the lifter
    since. Raises BadInput when no week is left, or the old weeks do not follow on."""
    last = context.closed.last_begun(block)
    begun = [week for week in block.weeks if week.week <= last]
    weeks = [week for week in old.weeks if week.week > last]
    if not weeks:
        mend = "change the weeks to come by hand"
        raise BadInput.of("no week is left that has not begun", mend)
    if begun and (begun[-1].kind == "deload" or weeks[-1].kind != "deload"):
        says = f"week {begun[-1].week} does not lead to the weeks of revision {old.revision}"
        raise BadInput.of(says, "change the weeks to come by hand")
    change: dict[str, float | str] = {"revision": old.revision, "week": weeks[0].week}
    decision = decision_of(block, "coach_back", change, said or CoachWords())
    builds = sum(week.kind == "build" for week in (*begun, *weeks))
    lifter = replace(
        block.lifter,
        pins=old.lifter.pins,
        weeks=builds if LEAST_WEEKS <= builds <= MOST_WEEKS else block.lifter.weeks,
    )
    return revision_after(block, (*begun, *weeks), decision, context, lifter=lifter)
