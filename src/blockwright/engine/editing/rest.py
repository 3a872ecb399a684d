"""The weeks that have not begun composed anew, around what the coach pinned and changed.

The composer makes the whole block again with the coach's edits as pins; its weeks stand from the
first week not begun. Lifts that stay where they were keep their loads."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby, product

from blockwright.engine.errors import BadInput, Clash
from blockwright.engine.planning import USUAL, Budget, Carried, Tell, compose, frame_of
from blockwright.engine.planning.week_figures import session_minutes, settled
from blockwright.engine.review.block_weeks import (
    BlockWeeks,
    Found,
    remade,
    renumbered,
    with_entry,
    with_own_rest,
    with_sets,
    without_entry,
)
from blockwright.engine.strength import Beliefs
from blockwright.engine.training import (
    DAYS,
    Block,
    Entry,
    Lifter,
    Session,
    SetDone,
    Week,
)
from blockwright.engine.volume import CeilingBelief
from .apply_edit import revision_after, with_pin
from .edited_weeks import load_steps, pins_by_lift, with_entry_added
from .edits import Closed, CoachWords, EditContext, decision_of

_KEPT_REASONS = (
    "edited_", "replan_", "swapped_in", "lift_stopped", "block_extended", "deload_early",
    "pain_declined",
)  # fmt: skip
"""Beginnings of codes that tell of decisions; the others told of the weeks composed before."""

_EDITS = (
    "coach_sets", "coach_move", "coach_swap", "coach_range", "coach_reserve", "coach_load",
    "coach_add", "coach_order", "coach_pin",
)  # fmt: skip


def first_open_week(block: Block, closed: Closed) -> int | None:
    """The first build week of which no session is over; None when there is none."""
    after = closed.last_begun(block)
    return next((w.week for w in block.builds if w.week > after), None)


def rest_solved(
    block: Block,
    context: EditContext,
    *,
    facts: Sequence[SetDone] = (),
    beliefs: Beliefs | None = None,
    ceilings: Mapping[str, CeilingBelief] | None = None,
    other_lifts: bool = False,
    budget: Budget = USUAL,
    tell: Tell | None = None,
) -> Block:
    """The revision after `block` with its open weeks composed anew by what is known of the lifter,
    from the lifts the block has unless `other_lifts` may come in. Raises Clash when pins and edits
    leave no week, BadInput when every week has begun."""
    first = first_open_week(block, context.closed)
    if first is None:
        mend = "compose the next block"
        raise BadInput.of("every build week of this block has begun", mend)
    kept = edited_places(block, first)
    builds = block.builds
    asked = _asked(block, kept, len(builds), context)
    lifts = {e.lift for week in builds for e in week.entries}
    gone = taken_out(block, builds[-1])
    others = gone if other_lifts else (*_others(asked, lifts, context), *gone)

    def made(left_out: Collection[str]) -> Block:
        return compose(
            asked,
            context.catalogue,
            context.policy,
            beliefs=beliefs,
            ceilings=ceilings,
            facts=facts,
            frame=frame_of(block, context.catalogue),
            carried=_carried(block, asked, frozenset(left_out)),
            budget=budget,
            tell=tell,
        )

    try:
        composed = made(others)
    except Clash:
        if other_lifts:
            raise
        composed = made(gone)
    weeks = _weeks(block, composed, first, kept, context)
    decision = decision_of(block, "coach_rest", {"week": first}, CoachWords())
    stay = tuple(r for r in block.reasons if r.code.startswith(_KEPT_REASONS))
    fresh = replace(block, reasons=(*composed.reasons, *stay), solver=composed.solver)
    return revision_after(fresh, weeks, decision, context)


def _carried(block: Block, asked: Lifter, left_out: frozenset[str]) -> Carried:
    """What a block that has begun has: lifts where they stand, and muscles on hold as they are."""
    builds = block.builds
    direct = {muscle: round(sets.direct) for muscle, sets in builds[0].muscle_sets.items()}
    at = {(slot.day_index, slot.start_time): i for i, slot in enumerate(asked.slots)}
    stood = {
        (at.get((session.day.weekday(), session.start_time), -1), entry.lift)
        for session in builds[-1].sessions
        for entry in session.entries
    }
    return Carried(
        kept=frozenset(lift for _, lift in stood),
        left_out=left_out,
        held={m: sets for m, sets in direct.items() if block.lifter.emphasis_of(m) == "hold"},
        stood=frozenset((slot, lift) for slot, lift in stood if slot >= 0 and lift not in left_out),
    )


def edited_places(block: Block, first: int) -> tuple[tuple[str, str], ...]:
    """(lift, day) of what the coach put where it stands, as far as it still stands in week
    `first`: the composer leaves these alone."""
    standing = _cells(next(w for w in block.weeks if w.week == first))
    wanted = []
    for decision in block.decisions:
        if decision.kind not in _EDITS or "only" in str(decision.change.get("weeks", "")):
            continue
        lift = str(decision.change.get("other" if decision.kind == "coach_swap" else "lift", ""))
        day = decision.change.get("to_day" if decision.kind == "coach_move" else "day", "")
        wanted.append((lift, str(day)[:3].lower()))
    pinned = {(pin.lift, day) for pin in block.lifter.pins for day in pin.days}
    unlocked = {
        str(one.change.get("lift")) for one in block.decisions if one.kind == "coach_unpin"
    } - {lift for lift, _ in pinned}
    return tuple(
        place for place in dict.fromkeys(wanted) if place in standing and place[0] not in unlocked
    )


def _cells(week: Week) -> dict[tuple[str, str], tuple[Session, Entry]]:
    """What stands in a week, by (lift, day)."""
    return {(e.lift, DAYS[s.day.weekday()]): (s, e) for s in week.sessions for e in s.entries}


def only_there(block: Block) -> dict[int, set[tuple[str, str]]]:
    """By week the (lift, day) of what the coach changed in that week alone: what stands there, and
    what stands there no more."""
    found: dict[int, set[tuple[str, str]]] = {}
    for decision in block.decisions:
        change = decision.change
        if "only" not in str(change.get("weeks", "")) or decision.kind == "coach_order":
            continue
        days = [str(change[key])[:3].lower() for key in ("day", "to_day") if key in change]
        lifts = [str(change[key]) for key in ("lift", "other") if key in change]
        found.setdefault(int(change["week"]), set()).update(product(lifts, days))
    return found


def _ordered_days(block: Block, week: int) -> set[str]:
    """Days on which the coach put a lift earlier or later, as far as it reaches the week."""
    return {
        str(one.change["day"])[:3].lower()
        for one in block.decisions
        if one.kind == "coach_order"
        and (
            int(one.change["week"]) == week
            or ("only" not in str(one.change["weeks"]) and int(one.change["week"]) < week)
        )
    }


def taken_out(block: Block, last: Week) -> tuple[str, ...]:
    """Lifts the coach took out for good, as far as they stand nowhere in the last build week."""
    there = {entry.lift for entry in last.entries}
    gone = {
        str(one.change.get("lift", ""))
        for one in block.decisions
        if one.kind == "coach_remove" and "only" not in str(one.change.get("weeks", ""))
    }
    return tuple(sorted(gone - there))


def _asked(
    block: Block, kept: Collection[tuple[str, str]], builds: int, context: EditContext
) -> Lifter:
    """The lifter for the composer: edits as pins, the block's own start and length."""
    lifter = block.lifter
    for lift, day in kept:
        lifter = replace(lifter, pins=with_pin(lifter, lift, day, context.catalogue))
    return replace(lifter, start=block.start, weeks=builds)


def _others(lifter: Lifter, lifts: Collection[str], context: EditContext) -> tuple[str, ...]:
    """All lifts but these and those that are pinned."""
    wanted = {*lifts, *pins_by_lift(lifter, context.catalogue)}
    return tuple(name for name in context.catalogue.lifts if name not in wanted)


def _weeks(
    block: Block,
    composed: Block,
    first: int,
    kept: Collection[tuple[str, str]],
    context: EditContext,
) -> tuple[Week, ...]:
    """The block's weeks before `first`, the composed ones from there, and their deload."""
    new = {week.week: week for week in composed.builds}
    made: list[Week] = []
    alone = only_there(block)
    for old in block.weeks:
        if old.kind == "deload":
            continue
        if old.week < first:
            made.append(old)
            continue
        week = _with_effort(new[old.week], old.rir, context)
        here = sorted({*alone.get(old.week, ()), *_held_places(week, old, block.lifter, context)})
        as_changed = _with_lifts_kept(week, old, here, block.lifter, context)
        stays = _with_cells_kept(as_changed, old, (*kept, *here), context)
        ordered = _in_order_of(stays, old, _ordered_days(block, old.week))
        made.append(settled(ordered, week, context.catalogue, context.policy))
    made = _with_loads(made, block, first, context)
    if block.weeks[-1].kind == "deload":
        made.append(BlockWeeks(block, context.catalogue, context.policy).deload_after(made[-1]))
    return tuple(made)


def _held_places(
    week: Week, old: Week, lifter: Lifter, context: EditContext
) -> Iterator[tuple[str, str]]:
    """Where muscles on hold were trained to which the composed week gives other sets than a block
    that has begun may: it had no lift for them that it would choose."""
    drift = context.policy.whole("ramp.hold_drift")
    for muscle, had in old.muscle_sets.items():
        moves = abs(week.muscle_sets[muscle].direct - had.direct) > drift
        if moves and lifter.emphasis_of(muscle) == "hold":
            yield from (p for p in _cells(old) if muscle in context.catalogue.lifts[p[0]].direct)


def _with_effort(week: Week, rir: float, context: EditContext) -> Week:
    """The week at the effort the block has there; sets to failure stay so, and what a caution
    keeps in reserve is kept."""

    def at(entry: Entry) -> Entry:
        kept = context.catalogue.lifts[entry.lift].rir_for(rir)
        rows = (replace(r, rir=kept) if r.rir >= week.rir else r for r in entry.sets)
        return replace(entry, sets=tuple(rows))

    return replace(remade(week, lambda _, entry: [at(entry)]), rir=rir)


def _with_cells_kept(
    week: Week, old: Week, kept: Collection[tuple[str, str]], context: EditContext
) -> Week:
    """What the coach named or locked stays as it stood: sets, range, reserve, load. A lift that
    the new week does in turn with another, with other sets, is done alone again where there is
    time; else the number of sets is the pair's."""
    had = _cells(old)
    for place, (session, _) in _cells(week).items():
        if place in kept and place in had:
            week = _with_cell_kept(week, session.session, had[place][1], context)
    return week


def _with_cell_kept(week: Week, number: int, was: Entry, context: EditContext) -> Week:
    known = (context.catalogue, context.policy)
    session = next(s for s in week.sessions if s.session == number)
    entry = next(e for e in session.entries if e.lift == was.lift)
    rows = was
    if entry.pair is not None and len(was.sets) != len(entry.sets):
        apart = tuple(with_own_rest(e, *known) if e.pair == entry.pair else e
                      for e in session.entries)  # fmt: skip
        if session_minutes(replace(session, entries=apart), *known) <= session.minutes_available:
            sessions = tuple(
                replace(s, entries=apart) if s is session else s for s in week.sessions
            )
            week, entry = replace(week, sessions=sessions), with_own_rest(entry, *known)
        else:
            rows = with_sets(was, len(entry.sets))
    rest = was.rest_s if entry.pair is None and was.pair is None else entry.rest_s
    stays = replace(entry, zone=was.zone, rest_s=rest, sets=rows.sets)
    return with_entry(week, number, stays)


def _with_lifts_kept(
    week: Week, old: Week, places: Sequence[tuple[str, str]], lifter: Lifter, context: EditContext
) -> Week:
    """The week with the lifts of these places in or out as they stood."""
    known = (context.catalogue, context.policy)
    had = _cells(old)
    sessions = []
    for session in week.sessions:
        entries = session.entries
        for lift, day in places:
            there = next((entry for entry in entries if entry.lift == lift), None)
            stood = had.get((lift, day))
            if day != DAYS[session.day.weekday()]:
                continue
            if there is not None and stood is None:
                entries = without_entry(entries, there, *known)
            elif there is None and stood and stood[0].start_time == session.start_time:
                alone = with_own_rest(stood[1], *known)
                entries = with_entry_added(entries, alone, lifter, *known)
        sessions.append(replace(session, entries=entries))
    return replace(week, sessions=tuple(sessions))


def _in_order_of(week: Week, old: Week, days: Collection[str]) -> Week:
    """The week with the lifts of some days in the order they had: those it has of them take their
    places in turn. Where that would part a pair, the order stays."""
    had = {(s.day, s.start_time): s for s in old.sessions if DAYS[s.day.weekday()] in days}
    return replace(
        week,
        sessions=tuple(
            _as_before(s, had[at]) if (at := (s.day, s.start_time)) in had else s
            for s in week.sessions
        ),
    )


def _as_before(session: Session, was: Session) -> Session:
    places = {entry.lift: at for at, entry in enumerate(was.entries)}
    known = iter(
        sorted((e for e in session.entries if e.lift in places), key=lambda e: places[e.lift])
    )
    entries = [next(known) if each.lift in places else each for each in session.entries]
    labels = [label for label, _ in groupby(entry.pair for entry in entries) if label is not None]
    if len(labels) != len(set(labels)):
        return session
    return replace(session, entries=renumbered(entries))


def _with_loads(weeks: list[Week], block: Block, first: int, context: EditContext) -> list[Week]:
    """Loads as the block had them where lift, day and repetitions are the same; else from the
    log, the first week on its own and the later ones forecast from it."""
    had = {
        (w.week, s.day.weekday(), e.lift, e.sets[0].reps_low, e.sets[0].reps_high): e.sets[0]
        for w in block.weeks
        for s in w.sessions
        for e in s.entries
    }
    paths: dict[tuple[int, str], list[Found]] = {}
    for week in weeks:
        for session in week.sessions if week.week >= first else ():
            for entry in session.entries:
                place = (week.week, session, entry)
                paths.setdefault((session.session, entry.lift), []).append(place)
    holder = BlockWeeks(replace(block, weeks=tuple(weeks)), context.catalogue, context.policy)
    for (_, name), places in paths.items():
        lift = context.catalogue.lifts[name]
        steps = None if context.paths is None else load_steps(places, lift, context.paths)
        for at, (number, session, entry) in enumerate(places):
            row = entry.sets[0]
            key = (number, session.day.weekday(), entry.lift, row.reps_low, row.reps_high)
            found = had.get(key) or (None if steps is None else steps[at])
            load, forecast = (None, None) if found is None else (found.load_kg, found.forecast_kg)
            rows = tuple(replace(r, load_kg=load, forecast_kg=forecast) for r in entry.sets)
            holder.put(number, session.session, replace(entry, sets=rows))
    return holder.weeks
