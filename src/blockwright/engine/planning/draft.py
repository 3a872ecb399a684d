"""A build week on its way to a `Week`: items in order, with sets, pairs and methods."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.engine.planning.fill import Filled
from blockwright.engine.planning.order import ordered
from blockwright.engine.planning.problem import Option
from blockwright.engine.planning.supersets import pair_labels
from blockwright.engine.planning.time_model import LiftTime, PairTime
from blockwright.engine.policy import Policy
from blockwright.engine.training import Lifter, Method


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftEntry:
    """One lift of one session of one week, before loads."""

    option: Option
    slot: int
    sets: int
    """Rows on the sheet."""
    pair: str | None = None
    pair_time: PairTime | None = None
    rest_s: int = 0
    method: Method = "straight"
    last_counts_as: float = 1.0
    """What the last row counts as; above 1 for a rest-pause or drop set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DraftSession:
    slot: int
    day: date
    entries: tuple[DraftEntry, ...]
    seconds: int


def draft_sessions(
    filled: Filled, lifter: Lifter, sets: Mapping[int, int], policy: Policy, week: int
) -> tuple[DraftSession, ...]:
    """The sessions of build week `week` (from 1), in the order of the week; `sets` by place."""
    if lifter.start is None:
        raise ValueError("a block needs a start")
    made = []
    slots = filled.week.problem.slots
    for slot in filled.frame.visits:
        places = [place for place in filled.week.here(slot) if place in sets]
        if not places:
            continue
        entries = _entries(filled, lifter, places, sets, slot)
        made.append(
            DraftSession(
                slot=slot,
                day=lifter.start + timedelta(days=7 * (week - 1) + slots[slot].day_index),
                entries=entries,
                seconds=session_seconds(entries, policy),
            )
        )
    return tuple(made)


def lead_names(lifter: Lifter) -> frozenset[str]:
    """Muscles on lead."""
    return frozenset(m for m, emphasis in lifter.emphasis.items() if emphasis == "lead")


def _entries(
    filled: Filled, lifter: Lifter, places: Sequence[int], sets: Mapping[int, int], slot: int
) -> tuple[DraftEntry, ...]:
    option_of = {place: filled.week.options[place] for place in places}
    pairs = [pair for pair in filled.pairs if pair.slot == slot]
    order = ordered(
        places,
        option_of,
        [(p.first, p.second) for p in pairs],
        lead_names(lifter),
        pre_exhaust=lifter.allow.pre_exhaust,
    )
    turns = pair_labels([(p.first, p.second, p.time) for p in pairs], order)
    made = []
    for place in order:
        option = option_of[place]
        label, time, rest_s = turns.get(place, (None, None, option.time.rest_s))
        made.append(
            DraftEntry(
                option=option,
                slot=slot,
                sets=sets[place],
                pair=label,
                pair_time=time,
                rest_s=rest_s,
                method="straight" if label is None else "superset",
            )
        )
    return tuple(made)


def session_seconds(entries: Sequence[DraftEntry], policy: Policy) -> int:
    """How long a session takes, coming in included."""
    seconds = policy.whole("time.session_start")
    saved: dict[str, int] = {}
    for entry in entries:
        seconds += entry.option.time.seconds(entry.sets)
        if entry.method in ("rest-pause", "drop"):
            seconds += parts_seconds(entry.option.time, policy)
        if entry.pair is not None and entry.pair_time is not None:
            saved[entry.pair] = entry.pair_time.saved_in(entry.sets)
    return seconds - sum(saved.values())


def parts_seconds(time: LiftTime, policy: Policy) -> int:
    """Seconds the further parts of a rest-pause or drop set take, a third of a set each."""
    parts = policy.whole("method.parts") - 1
    return parts * (policy.whole("time.mini_pause") + time.work_s // 3)
