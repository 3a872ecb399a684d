"""The deload week from the last build week, by arithmetic.

Sets and repetition bounds are halved and rounded up; about half as many sessions, merged from
the usual ones; loads are kept in the first half of the sessions and halved, rounded down to
what the kit makes, in the second. Nothing is trained hard.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import pairwise

from blockwright.engine.planning.order import order_key
from blockwright.engine.planning.request import Option
from blockwright.engine.planning.time_model import minutes_of
from blockwright.engine.policy import Policy
from blockwright.engine.rack import rack_for
from blockwright.engine.training import (
    Entry,
    Gym,
    Lift,
    Session,
    SetPlan,
    effective_load_kg,
    written_load_kg,
)


def deload_sessions_for(count: int) -> int:
    """How many sessions stay: half, rounded up, two at least (9: 5, 6: 3, 4: 2, 3: 2, 2: 2)."""
    return min(count, max(2, math.ceil(count / 2)))


def merged(count: int) -> tuple[tuple[int, ...], ...]:
    """Which sessions of the build week each deload session is made of, the earlier ones more."""
    groups = deload_sessions_for(count)
    if groups == 0:
        return ()
    size, more = divmod(count, groups)
    ends = [0]
    for number in range(groups):
        ends.append(ends[-1] + size + (number < more))
    return tuple(tuple(range(a, b)) for a, b in pairwise(ends))


def halved(entry: Entry) -> Entry:
    """Half the sets at half the repetitions, rounded up; straight, at the deload's RIR of 5."""
    rows = entry.sets[: math.ceil(len(entry.sets) / 2)]
    return replace(
        entry,
        method="straight",
        pair=None,
        sets=tuple(
            SetPlan(
                load_kg=row.load_kg,
                reps_low=math.ceil(row.reps_low / 2),
                reps_high=math.ceil(row.reps_high / 2),
                rir=5.0,
            )
            for row in rows
        ),
    )


def half_load_kg(
    lift: Lift, load_kg: float, gym: Gym, bodyweight_kg: float | None, policy: Policy
) -> float:
    """Half the load as the kit makes it, rounded down; the easiest there is when half is less.

    External and added loads are halved as written (bodyweight itself stays); an assisted lift
    is given the assistance that halves its effective load, or the most the machine has.
    """
    share = policy.number("deload.share")
    rack = rack_for(lift, gym, policy)
    wanted: float | None = load_kg * share
    if lift.load_kind == "assisted":
        effective = effective_load_kg(lift, load_kg, bodyweight_kg)
        wanted = (
            None if effective is None else written_load_kg(lift, effective * share, bodyweight_kg)
        )
    if wanted is None:
        return load_kg
    setting = rack.not_harder_than(max(wanted, 0.0)) or rack.easiest
    return setting.load_kg


@dataclass(frozen=True, slots=True, kw_only=True)
class DeloadRules:
    """What the merging needs to know of lifter and policy."""

    option_of: Callable[[Entry], Option]
    leads: frozenset[str]
    gym: Gym
    bodyweight_kg: float | None
    policy: Policy
    most_lifts: int


def deload_week(
    last: Sequence[Session], rules: DeloadRules
) -> tuple[tuple[Session, ...], tuple[str, ...]]:
    """The deload sessions after `last`, the last build week's; and the lifts left out."""
    sessions = [session for session in last if session.entries]
    groups = merged(len(sessions))
    full = math.ceil(len(groups) / 2)
    base = _direct_of([e for s in sessions for e in s.entries], rules)
    done: dict[str, int] = {}
    made: list[Session] = []
    kept_lifts: set[str] = set()
    for number, group in enumerate(groups):
        usual = [sessions[i] for i in group]
        home = max(usual, key=lambda s: (s.minutes_available, -s.session))
        entries = _chosen([e for s in usual for e in s.entries], home, base, done, rules)
        if number >= full:
            entries = [_lightened(entry, rules) for entry in entries]
        kept_lifts |= {entry.lift for entry in entries}
        made.append(_session(home, entries, number + 1, rules))
    left_out = {e.lift for s in sessions for e in s.entries} - kept_lifts
    return tuple(made), tuple(sorted(left_out))


def _session(home: Session, entries: list[Entry], number: int, rules: DeloadRules) -> Session:
    ranked = sorted(entries, key=lambda e: order_key(rules.option_of(e), rules.leads))
    seconds = _seconds(ranked, rules)
    return Session(
        session=number,
        day=home.day + timedelta(days=7),
        start_time=home.start_time,
        minutes_available=home.minutes_available,
        minutes_planned=minutes_of(seconds),
        entries=tuple(replace(e, order=i) for i, e in enumerate(ranked, start=1)),
    )


def _chosen(
    entries: Sequence[Entry],
    home: Session,
    base: Mapping[str, int],
    done: dict[str, int],
    rules: DeloadRules,
) -> list[Entry]:
    """Lifts of a merged session: first what reaches muscles not reached yet, then until half
    of each muscle's direct sets are in. `done` (direct sets of the week so far) grows."""
    ranked = sorted(entries, key=lambda e: order_key(rules.option_of(e), rules.leads))
    chosen: list[Entry] = []
    for fresh_only in (True, False):
        for entry in ranked:
            lift = rules.option_of(entry).lift
            half = halved(entry)
            fresh = any(not done.get(muscle) for muscle in lift.direct)
            wanted = all(
                done.get(m, 0) + len(half.sets) <= math.ceil(base[m] / 2) for m in lift.direct
            )
            if (fresh if fresh_only else wanted) and _fits(half, chosen, home, rules):
                chosen.append(replace(half, rest_s=rules.option_of(entry).time.rest_s))
                for muscle in lift.direct:
                    done[muscle] = done.get(muscle, 0) + len(half.sets)
    return chosen


def _fits(entry: Entry, chosen: list[Entry], home: Session, rules: DeloadRules) -> bool:
    lift = rules.option_of(entry).lift
    if any(rules.option_of(e).lift.family == lift.family for e in chosen):
        return False
    with_it = [*chosen, entry]
    if len(with_it) > rules.most_lifts:
        return False
    most = rules.policy.whole("deload.direct_sets")
    if any(sets > most for sets in _direct_of(with_it, rules).values()):
        return False
    return _seconds(with_it, rules) <= 60 * home.minutes_available


def _direct_of(entries: Sequence[Entry], rules: DeloadRules) -> dict[str, int]:
    counts: dict[str, int] = {}
    for entry in entries:
        for muscle in rules.option_of(entry).lift.direct:
            counts[muscle] = counts.get(muscle, 0) + len(entry.sets)
    return counts


def _seconds(entries: Sequence[Entry], rules: DeloadRules) -> int:
    """Set-up, warm-ups and rests as usual: an easy week is no reason to hurry."""
    seconds = rules.policy.whole("time.session_start")
    for entry in entries:
        time = rules.option_of(entry).time
        seconds += time.seconds(len(entry.sets))
    return seconds


def _lightened(entry: Entry, rules: DeloadRules) -> Entry:
    lift = rules.option_of(entry).lift
    return replace(
        entry,
        sets=tuple(
            row
            if row.load_kg is None
            else replace(
                row,
                load_kg=half_load_kg(
                    lift, row.load_kg, rules.gym, rules.bodyweight_kg, rules.policy
                ),
            )
            for row in entry.sets
        ),
    )
