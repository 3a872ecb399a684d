"""The deload in two parts: about half as many sessions, merged from the usual ones. Their number
wins over the sets: what they cannot hold stays out, and the block says so.

In the first half of the sessions the loads stay and sets and repetitions are halved, rounded up; in
the second the loads are halved too, rounded down to what the kit makes. No session is longer than
in week one, and nothing is trained hard."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise, product

from blockwright.engine.gym import Gym
from blockwright.engine.policy import Policy
from blockwright.engine.rack import hardest_moving, rack_for
from blockwright.engine.training import (
    Entry,
    Lift,
    Session,
    SetPlan,
    effective_load_kg,
)
from .deload_rules import DeloadRules, session_of, straight


def deload_sessions_for(count: int) -> int:
    """How many sessions stay: half, rounded up, two at least (9: 5, 6: 3, 4: 2, 3: 2, 2: 2)."""
    return min(count, max(2, math.ceil(count / 2)))


def merged(count: int, groups: int) -> tuple[tuple[int, ...], ...]:
    """Which sessions of the build week each deload session is made of, the earlier ones more."""
    size, more = divmod(count, groups)
    ends = [0]
    for number in range(groups):
        ends.append(ends[-1] + size + (number < more))
    return tuple(tuple(range(a, b)) for a, b in pairwise(ends))


def halved(entry: Entry) -> Entry:
    """Half the sets at half the repetitions, rounded up; straight, at the deload's RIR of 5."""
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
            for row in entry.sets[: math.ceil(len(entry.sets) / 2)]
        ),
    )


def half_load_kg(
    lift: Lift, load_kg: float, gym: Gym, bodyweight_kg: float | None, policy: Policy
) -> float:
    """Half the load as the kit makes it, rounded down; the easiest there is when half is less.

    What is moved is halved, the body too: what is added to it goes first."""
    effective = effective_load_kg(lift, load_kg, bodyweight_kg)
    if effective is None:
        return load_kg
    half_kg = effective * policy.number("deload.share")
    rack = rack_for(lift, gym, policy)
    return (hardest_moving(rack, lift, half_kg, bodyweight_kg) or rack.easiest).load_kg


def two_part_sessions(last: Sequence[Session], rules: DeloadRules) -> list[Session]:
    """The deload sessions after `last`, the last build week's; the first half of them, rounded up,
    keeps the loads. What finds no room in one is offered to the next."""
    sessions = [session for session in last if session.entries]
    count = deload_sessions_for(len(sessions))
    groups = merged(len(sessions), count)
    homes = max(product(*groups), key=lambda chosen: _spread([sessions[i] for i in chosen]))
    base = _direct_of([e for s in sessions for e in s.entries], rules)
    room = rules.most_sets
    done: dict[str, int] = {}
    made: list[Session] = []
    waiting: list[Entry] = []
    for number, group in enumerate(groups):
        usual = [sessions[i] for i in group]
        home = sessions[homes[number]]
        left = count - number
        sets = sum(len(e.sets) for s in made for e in s.entries)
        share = (max(math.ceil((rules.least_sets - sets) / left), 0), room // left)
        offered = [*(e for s in usual for e in s.entries), *waiting]
        entries = _chosen(offered, home, base, done, share, rules)
        here = {entry.lift for entry in entries}
        waiting = [entry for entry in offered if entry.lift not in here]
        room -= sum(len(e.sets) for e in entries)
        if number >= math.ceil(count / 2):
            entries = [_lightened(entry, rules) for entry in entries]
        made.append(session_of(home, entries, number + 1, rules))
    return made


def _spread(homes: Sequence[Session]) -> tuple[int, int]:
    """What makes days the better ones: apart, then long."""
    apart = [(b.day - a.day).days for a, b in pairwise(homes)]
    return min(apart, default=0), sum(home.minutes_available for home in homes)


def _chosen(
    entries: Sequence[Entry],
    home: Session,
    base: Mapping[str, int],
    done: dict[str, int],
    share: tuple[int, int],
    rules: DeloadRules,
) -> list[Entry]:
    """Lifts of a merged session: main lifts, then what reaches muscles not reached yet, then until
    half of each muscle's direct sets are in; `share` is the least and the most sets. `done`
    (direct sets of the week so far) grows."""
    ranked = sorted(entries, key=rules.order)
    chosen: list[Entry] = []
    for step in ("main", "fresh", "wanted", "more", "short"):
        for entry in ranked:
            if any(entry.lift == e.lift for e in chosen):
                continue
            lift = rules.option_of(entry).lift
            half = straight(halved(entry), rules)
            sets = sum(len(e.sets) for e in chosen)
            fresh = any(not done.get(muscle) for muscle in lift.direct)
            wanted = all(
                done.get(m, 0) + len(half.sets) <= math.ceil(base[m] / 2) for m in lift.direct
            )
            if (
                {
                    "main": lift.compound and (fresh or wanted),
                    "fresh": fresh,
                    "wanted": wanted and len(half.sets) > 1,
                    "more": len(half.sets) > 1,
                    "short": sets < share[0],
                }[step]
                and sets + len(half.sets) <= share[1]
                and rules.fits([*chosen, half], home)
                and not _is_hard([*chosen, half], rules)
            ):
                chosen.append(half)
                for muscle in lift.direct:
                    done[muscle] = done.get(muscle, 0) + len(half.sets)
    return chosen


def _is_hard(entries: Sequence[Entry], rules: DeloadRules) -> bool:
    """Whether a muscle has more direct sets than a deload session gives."""
    most = rules.policy.whole("deload.direct_sets")
    return any(sets > most for sets in _direct_of(entries, rules).values())


def _direct_of(entries: Sequence[Entry], rules: DeloadRules) -> dict[str, int]:
    """Direct sets by muscle."""
    counts: dict[str, int] = {}
    for entry in entries:
        for muscle in rules.option_of(entry).lift.direct:
            counts[muscle] = counts.get(muscle, 0) + len(entry.sets)
    return counts


def _lightened(entry: Entry, rules: DeloadRules) -> Entry:
    lift = rules.option_of(entry).lift

    def lighter(load_kg: float) -> float:
        return half_load_kg(
            lift, load_kg, rules.lifter.gym, rules.lifter.bodyweight_kg, rules.policy
        )

    return replace(
        entry,
        sets=tuple(
            row if row.load_kg is None else replace(row, load_kg=lighter(row.load_kg))
            for row in entry.sets
        ),
    )
