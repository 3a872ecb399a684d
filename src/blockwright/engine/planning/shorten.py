"""Short of time in the gym: what leaving sets costs, in numbers small enough for a phone without
signal to find which to leave (`web/static/blockwright/shorten.js`).

What stays is the best there is for the day: of all ways to fit the minutes, the one that loses the
fewest of the points a shorter week is weighed with (benefit of the week's sets, the floor, a price
for every set that changes). A lift keeps at least the policy's least sets or none; a pair keeps as
many of one as of the other. `replan` at the desk may lose less, because it also moves sets to later
days."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    Entry,
    Lift,
    Session,
    Week,
)
from .baseline import muscle_aims, reaching
from .benefit import muscle_points, points_of
from .limits import QUARTERS, PlanningLimits
from .log_facts import LogFacts
from .replan_week import pinned_on
from .time_model import lift_time

MAIN = "main lifts"
"""Stands beside the muscles: sets of main lifts are worth more than what they give each muscle."""
_PRICES = ("changed", "main", "short", "opener", "pinned", "largest")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortEntry:
    """An entry of the session: its time, and what its sets give."""

    sets: int
    pair: str | None
    set_s: int  # A set at the top of its range, and the rest after it
    ready_s: int  # Set-up and warm-ups, before the first set
    rest_s: int
    """The rest after the last set, which nobody takes: the next lift is made ready instead."""
    gives: Mapping[str, tuple[int, ...]]
    """By muscle: quarter sets given by the first 0, 1, 2, ... sets."""
    gone: int = 0
    """Points lost on top when no set of it is kept: a lift the coach pinned is the last to go, the
    main lift that opens the last before."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortening:
    """A session and what leaving sets of it costs. Whole numbers only, so that phone and server
    agree to the set."""

    start_s: int  # The general warm-up, while no set is done
    least: int  # Sets a lift keeps if it keeps any
    changed: int  # Points for every set left out
    entries: Mapping[int, ShortEntry]  # By their order
    loss: Mapping[str, tuple[int, ...]]
    """By muscle, and for `main lifts`: points lost when the session gives it 0, 1, 2, ... quarter
    sets."""


def shortening(
    block: Block,
    week: Week,
    session: int,
    catalogue: Catalogue,
    policy: Policy,
) -> Shortening:
    """Session number `session` of `week` as something to shorten. Raises ValueError for a lift
    that the catalogue does not hold."""
    ours = next(s for s in week.sessions if s.session == session)
    entries = sorted(ours.entries, key=lambda e: e.order)
    limits = PlanningLimits(policy)
    made = {entry.order: _short_entry(entry, entries, catalogue, policy) for entry in entries}
    pinned = pinned_on(block.lifter, ours, catalogue)
    price = {key: round(policy.number(f"replan.price.{key}")) for key in _PRICES}
    sets_of_main = sum(entry.gives.get(MAIN, (0,))[-1] for entry in made.values())
    main = price["main"] + price["short"]
    opener = entries[0].order if MAIN in made[entries[0].order].gives else None
    for entry in entries:
        if entry.lift in pinned or entry.order == opener:
            gone = price["pinned" if entry.lift in pinned else "opener"]
            made[entry.order] = replace(made[entry.order], gone=gone)
    mains = [entry for entry in entries if MAIN in made[entry.order].gives]
    if mains and not _comes_again(most := max(mains, key=lambda e: len(e.sets)), ours, week):
        gone = made[most.order].gone + price["largest"]
        made[most.order] = replace(made[most.order], gone=gone)
    elsewhere = _sums(
        [e for s in week.sessions if s.session != session and not s.missed for e in s.entries],
        catalogue,
    )
    today = _sums(entries, catalogue)
    aims = muscle_aims(block.lifter, LogFacts(), limits)
    planned = {muscle: elsewhere[muscle] + today[muscle] for muscle in MUSCLES}
    points = muscle_points(block.lifter, reaching(aims, planned), limits)
    return Shortening(
        start_s=policy.whole("time.session_start"),
        least=limits.sets_least,
        changed=price["changed"],
        entries=made,
        loss={
            muscle: _loss(points[muscle], elsewhere[muscle], today[muscle])
            for muscle in MUSCLES
            if any(muscle in entry.gives for entry in made.values())
        }
        | {MAIN: tuple(main * (sets_of_main - n) for n in range(sets_of_main + 1))},
    )


def _comes_again(entry: Entry, session: Session, week: Week) -> bool:
    """Whether a later session of the week has the lift in the same zone."""
    return any(
        (other.lift, other.zone) == (entry.lift, entry.zone)
        for later in week.sessions
        if later.session > session.session and not later.missed
        for other in later.entries
    )


def _loss(table: tuple[int, ...], elsewhere: int, today: int) -> tuple[int, ...]:
    """Points lost against the whole session, for 0, 1, 2, ... quarter sets of it."""
    full = points_of(table, elsewhere + today)
    return tuple(full - points_of(table, elsewhere + q) for q in range(today + 1))


def _sums(entries: Sequence[Entry], catalogue: Catalogue) -> dict[str, int]:
    """Quarter sets by muscle."""
    sums = dict.fromkeys(MUSCLES, 0)
    for entry in entries:
        for muscle, quarters in _given(entry, len(entry.sets), catalogue).items():
            sums[muscle] += quarters
    return sums


def _short_entry(
    entry: Entry, entries: list[Entry], catalogue: Catalogue, policy: Policy
) -> ShortEntry:
    lift, first = _lift(entry, catalogue), entry.sets[0]
    time = lift_time(lift, entry.zone, first.reps, policy)
    given = [_given(entry, sets, catalogue) for sets in range(len(entry.sets) + 1)]
    second = any(e.pair == entry.pair and e.order > entry.order for e in entries if e.pair)
    return ShortEntry(
        sets=len(entry.sets),
        pair=entry.pair,
        set_s=time.work_s + entry.rest_s,
        ready_s=time.ready_s,
        # after a first of a pair there is the change to the second, even the last time
        rest_s=0 if second else entry.rest_s,
        gives={
            muscle: tuple(one.get(muscle, 0) for one in given)
            for muscle in MUSCLES
            if given[-1].get(muscle)
        }
        | ({MAIN: tuple(range(len(given)))} if lift.compound else {}),
    )


def _given(entry: Entry, sets: int, catalogue: Catalogue) -> dict[str, int]:
    """Quarter sets by muscle that the first `sets` of an entry give."""
    counted = sum(planned.counts_as for planned in entry.sets[:sets])
    muscles = _lift(entry, catalogue).muscles
    return {muscle: round(share * QUARTERS * counted) for muscle, share in muscles.items()}


def _lift(entry: Entry, catalogue: Catalogue) -> Lift:
    lift = catalogue.find(entry.lift)
    if lift is None:
        raise ValueError(f"the block names {entry.lift}, which no catalogue has")
    return lift
