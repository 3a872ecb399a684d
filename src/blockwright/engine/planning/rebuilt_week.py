"""A replanned week from its plan: entries made from places, with everything that did not change
left as it was."""

from collections.abc import Sequence
from dataclasses import replace

from blockwright.engine.training import Entry, Session, SetPlan, Week
from .order import ordered
from .problem import Place, Plan
from .replan_week import WeekAtHand, in_slot, saved_s, slot_index
from .supersets import Pair, pair_labels
from .week_figures import session_minutes, sets_of


def rebuilt_week(hand: WeekAtHand, plan: Plan) -> Week:
    """The week with `plan` in place of what was planned; unchanged sessions stay as they are."""
    sessions = []
    for session in hand.week.sessions:
        slot = slot_index(hand.block, session)
        minutes = hand.trouble.minutes if slot == hand.slot else None
        here = in_slot(plan, slot)
        if slot == hand.slot and hand.trouble.missed:
            session = replace(session, entries=(), missed=True, minutes_planned=0.0)
        elif in_slot(hand.plan, slot) != here or minutes is not None:
            session = _session(hand, session, here, minutes)
        sessions.append(session)
    return replace(hand.week, sessions=tuple(sessions))


def _session(hand: WeekAtHand, session: Session, plan: Plan, minutes: int | None) -> Session:
    slot = slot_index(hand.block, session)
    pairs = hand.kept_pairs(plan, slot)
    if minutes is not None and hand.straight_s(plan) - saved_s(pairs, plan) > 60 * minutes:
        pairs = hand.new_pairs(plan)
    order = ordered(
        list(plan),
        {place: hand.option(place) for place in plan},
        [(first, second) for first, second, _ in pairs],
        hand.block.lifter.leads,
        pre_exhaust=hand.block.lifter.allow.pre_exhaust,
    )
    if slot != hand.slot:
        order = _carried_last(hand, order, pairs)
    made = replace(session, entries=_entries(hand, plan, order, pairs))
    if minutes is not None:
        made = replace(made, minutes_available=minutes)
    return replace(made, minutes_planned=session_minutes(made, hand.catalogue, hand.policy))


def _carried_last(hand: WeekAtHand, order: list[Place], pairs: Sequence[Pair]) -> list[Place]:
    """A later session's own main lifts in their order, then those carried into it; a pinned one
    keeps its rank, and so does a squat or a hinge that loads the spine."""
    mains = [place for place in order if hand.option(place).is_main]
    carried = [
        place
        for place in mains
        if place not in hand.entries
        and place.option not in hand.pinned
        and not hand.option(place).opens_early
    ]
    own = [place for place in order if place not in carried]
    paired = {second for _, second, _ in pairs}
    at = max((n + 1 for n, place in enumerate(own) if place in mains), default=0)
    while at < len(own) and own[at] in paired:
        at += 1
    return [*own[:at], *carried, *own[at:]]


def _entries(
    hand: WeekAtHand, plan: Plan, order: Sequence[Place], pairs: Sequence[Pair]
) -> tuple[Entry, ...]:
    turns = pair_labels(pairs, order)
    entries = []
    for number, place in enumerate(order, start=1):
        entry = _entry(hand, place, plan[place])
        pair, rest_s = turns.get(place, (None, hand.option(place).time.rest_s))
        method = entry.method
        if pair is not None:
            method = "superset"
        elif method == "superset":
            method = "straight"
        entries.append(replace(entry, order=number, pair=pair, rest_s=rest_s, method=method))
    return tuple(entries)


def _entry(hand: WeekAtHand, place: Place, sets: int) -> Entry:
    """The entry of a place: as planned, shortened, lengthened, moved from today, or new."""
    here = hand.entries.get(place)
    if here is not None and sets_of(here) == sets:
        return here
    alike = (entry for other, entry in hand.entries.items() if other.option == place.option)
    known, option = here or next(alike, None), hand.option(place)
    if known is not None:
        row = replace(known.sets[0], counts_as=1.0)
        return replace(known, method="straight", pair=None, sets=(row,) * sets)
    row = SetPlan.of(option.reps, option.lift.rir_for(hand.week.rir))
    return Entry(
        order=1,
        lift=option.lift.name,
        method="straight",
        rest_s=option.time.rest_s,
        sets=(row,) * sets,
        zone=option.zone,
    )
