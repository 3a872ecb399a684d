"""A build week on its way to a `Week`: items in order, with sets, pairs and methods."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from blockwright.engine.planning.order import ordered
from blockwright.engine.planning.request import Item, Option, Request, WeekPlan
from blockwright.engine.planning.supersets import Pairing
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
    request: Request,
    lifter: Lifter,
    plan: WeekPlan,
    sets: Sequence[int],
    pairs: Sequence[Pairing],
    policy: Policy,
    week: int,
) -> tuple[DraftSession, ...]:
    """The sessions of build week `week` (from 1), in the order of the week."""
    if lifter.start is None:
        raise ValueError("a block needs a start")
    leads = lead_names(lifter)
    made = []
    by_item = dict(zip(plan, sets, strict=True))
    for slot in range(len(request.slots)):
        items = [item for item in plan if item.slot == slot]
        if not items:
            continue
        here = [p for p in pairs if p.first.slot == slot]
        entries = _entries(request, lifter, items, by_item, here, leads)
        made.append(
            DraftSession(
                slot=slot,
                day=lifter.start + timedelta(days=7 * (week - 1) + request.slots[slot].day_index),
                entries=entries,
                seconds=session_seconds(entries, policy),
            )
        )
    return tuple(made)


def lead_names(lifter: Lifter) -> frozenset[str]:
    """Muscles on lead."""
    return frozenset(m for m, emphasis in lifter.emphasis.items() if emphasis == "lead")


def _entries(
    request: Request,
    lifter: Lifter,
    items: list[Item],
    sets: dict[Item, int],
    pairs: list[Pairing],
    leads: Collection[str],
) -> tuple[DraftEntry, ...]:
    option_of = {item: request.options[item.option] for item in items}
    order = ordered(
        items,
        option_of,
        [(p.first, p.second) for p in pairs],
        leads,
        pre_exhaust=lifter.allow.pre_exhaust,
    )
    rest_of = {item: option_of[item].time.rest_s for item in items}
    label_of: dict[Item, str] = {}
    time_of: dict[Item, PairTime] = {}
    pairs_in_order = sorted(pairs, key=lambda p: min(order.index(p.first), order.index(p.second)))
    for number, pairing in enumerate(pairs_in_order, start=1):
        first, second = sorted((pairing.first, pairing.second), key=order.index)
        label_of[first] = label_of[second] = f"pair {number}"
        time_of[first] = time_of[second] = pairing.time
        rest_of[first], rest_of[second] = pairing.time.change_s, pairing.time.rest_s
    return tuple(
        DraftEntry(
            option=option_of[item],
            slot=item.slot,
            sets=sets[item],
            pair=label_of.get(item),
            pair_time=time_of.get(item),
            rest_s=rest_of[item],
            method="superset" if item in label_of else "straight",
        )
        for item in order
    )


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
