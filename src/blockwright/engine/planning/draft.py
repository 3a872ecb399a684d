"""The sessions of a build week: lifts in order, with sets and pairs, their loads still open."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

from blockwright.engine.policy import Policy
from blockwright.engine.training import Catalogue, Entry, Lifter, Session, SetPlan
from .fill import Filled
from .order import ordered
from .supersets import pair_labels
from .week_figures import session_minutes


def draft_sessions(
    filled: Filled,
    lifter: Lifter,
    catalogue: Catalogue,
    policy: Policy,
    week: tuple[int, float, Mapping[int, int]],
) -> tuple[Session, ...]:
    """The sessions of build week `week`: its number (from 1), its reserve, its sets by place."""
    if lifter.start is None:
        raise ValueError("a block needs a start")
    number, rir, sets = week
    made: list[Session] = []
    for index in filled.frame.visits:
        entries = _entries(filled, lifter, sets, index, rir)
        slot = filled.week.problem.slots[index]
        if entries:
            session = Session(
                session=len(made) + 1,
                day=lifter.start + timedelta(days=7 * (number - 1) + slot.day_index),
                start_time=slot.start_time,
                minutes_available=slot.minutes,
                minutes_planned=0.0,
                entries=entries,
            )
            minutes = session_minutes(session, catalogue, policy)
            made.append(replace(session, minutes_planned=minutes))
    return tuple(made)


def _entries(
    filled: Filled, lifter: Lifter, sets: Mapping[int, int], slot: int, rir: float
) -> tuple[Entry, ...]:
    option_of = {i: filled.week.options[i] for i in filled.week.here(slot) if i in sets}
    pairs = [pair for pair in filled.pairs if pair.slot == slot]
    order = ordered(
        list(option_of),
        option_of,
        [(p.first, p.second) for p in pairs],
        lifter.leads,
        pre_exhaust=lifter.allow.pre_exhaust,
    )
    turns = pair_labels([(p.first, p.second, p.time) for p in pairs], order)
    made = []
    for number, place in enumerate(order, start=1):
        option = option_of[place]
        pair, rest_s = turns.get(place, (None, option.time.rest_s))
        row = SetPlan.of(option.reps, option.lift.rir_for(rir))
        made.append(
            Entry(
                order=number,
                lift=option.lift.name,
                method="straight" if pair is None else "superset",
                rest_s=rest_s,
                sets=(row,) * sets[place],
                pair=pair,
                zone=option.zone,
            )
        )
    return tuple(made)
