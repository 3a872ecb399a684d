"""Which lifts of a session may be done in turn, and the pairs that save most time."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from itertools import combinations
from typing import TypeVar

from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift
from .constraints import PlacePair, WeekVariables
from .patterns import PULL, PUSH
from .problem import Option, Place, Plan
from .time_model import PairTime, pair_time

T = TypeVar("T", bound=Hashable)

_BARS = ("bar", "ez bar", "trap bar", "squat rack", "landmine")
_SHARED = ("bench", "dumbbells", "plates", "bands", "box", "kettlebells")
"""Kit words two lifts may both need: there is enough of it."""


Pair = tuple[Place, Place, PairTime]  # Two places of one slot done in turn


def may_pair(first: Option, second: Option) -> bool:
    """Whether two lifts do not compete: other muscles, no loaded spine, kit at hand for both.

    A compound is paired with a compound and a single-joint lift with its like, so that pairs never
    push a compound behind a single-joint lift."""
    one, two = first.lift, second.lift
    if one.compound != two.compound or one.name == two.name:
        return False
    if max(one.axial, two.axial) >= 2 or min(one.axial, two.axial) >= 1:
        return False
    if one.compound and ("low" in (first.zone, second.zone) or not _is_antagonist(first, second)):
        return False
    return not _shares_muscles(one, two) and _kit_allows(one, two)


def _is_antagonist(first: Option, second: Option) -> bool:
    """Whether one main lift pushes and the other pulls: legs are not done in turn."""
    sides = {first.basic, second.basic}
    return bool(sides & {*PUSH}) and bool(sides & {*PULL})


def _shares_muscles(one: Lift, two: Lift) -> bool:
    both = one.muscles.keys() & two.muscles.keys()
    return any(max(one.muscles[muscle], two.muscles[muscle]) >= 1.0 for muscle in both)


def _kit_allows(one: Lift, two: Lift) -> bool:
    bars = [any(word in _BARS for word in lift.kit) for lift in (one, two)]
    benches = [any(word.endswith("bench") for word in lift.kit) for lift in (one, two)]
    if all(bars) or (any(bars) and all(benches)):  # a bench under a bar stays there
        return False
    stations = [_stations(lift) for lift in (one, two)]
    # holding two machines at once is rude in any gym
    return not (stations[0] and stations[1])


def _stations(lift: Lift) -> tuple[str, ...]:
    return tuple(word for word in lift.kit if word not in _SHARED and word not in _BARS)


def new_pairs(
    week: WeekVariables,
    sets: Mapping[int, tuple[int, int]],
    taken: Sequence[PlacePair],
    budget_s: Sequence[int],
    *,
    mains: bool,
) -> tuple[PlacePair, ...]:
    """Further pairs in slots whose minutes nearly bind, those that save most time; of main lifts
    only where `mains` says that something is missing else."""
    limits = week.problem.limits
    share = limits.policy.number("time.pair_from_share")
    busy = {place for pair in taken for place in (pair.first, pair.second)}
    found: list[PlacePair] = []
    for slot in week.slots:
        here = [i for i in week.here(slot) if i in sets]
        seconds = sum(week.options[i].time.seconds(sets[i][1]) for i in here)
        if seconds < share * budget_s[slot]:
            continue
        free = [i for i in here if i not in busy and (mains or not week.options[i].is_main)]
        best = _best([week.options[i] for i in free], [sets[i] for i in free], 1, limits.policy)
        found += [PlacePair(slot, free[a], free[b], time) for a, b, time in best]
    return tuple(found)


def _best(
    options: Sequence[Option], sets: Sequence[tuple[int, ...]], apart: int, policy: Policy
) -> list[tuple[int, int, PairTime]]:
    """The disjoint pairs that save most, of lifts whose sets are at most so many apart, in each of
    the weeks told."""
    found: dict[tuple[int, int], tuple[int, PairTime]] = {}
    for (a, one), (b, two) in combinations(enumerate(options), 2):
        far = any(abs(x - y) > apart for x, y in zip(sets[a], sets[b], strict=True))
        if far or not may_pair(one, two):
            continue
        time = pair_time(one.time, two.time, policy)
        saved = time.saved_in(min(sets[a][0], sets[b][0]))
        if saved > 0:
            found[a, b] = saved, time
    chosen = most_saving({k: saved for k, (saved, _) in found.items()}, frozenset(range(len(sets))))
    return [(a, b, found[a, b][1]) for a, b in chosen]


def with_equal_sets(
    sets: Mapping[int, tuple[int, int]], pairs: Sequence[PlacePair]
) -> dict[int, tuple[int, int]]:
    """The sets with both of a pair at the smaller number."""
    equal = dict(sets)
    for pair in pairs:
        both = equal[pair.first], equal[pair.second]
        least = (min(both[0][0], both[1][0]), min(both[0][1], both[1][1]))
        equal[pair.first] = equal[pair.second] = least
    return equal


def best_pairs(session: Plan, options: Sequence[Option], policy: Policy) -> list[Pair]:
    """The set of disjoint pairs of one session that saves most, by trying all (few lifts)."""
    places, sets = list(session), [(count,) for count in session.values()]
    # equal sets keep a pair a pair to its last round
    best = _best([options[place.option] for place in places], sets, 0, policy)
    return [(places[a], places[b], time) for a, b, time in best]


def most_saving(
    saved: Mapping[tuple[int, int], int], left: frozenset[int]
) -> tuple[tuple[int, int], ...]:
    """The disjoint pairs of `left` that together save most."""
    if not left:
        return ()
    lowest = min(left)
    rest = left - {lowest}
    best = most_saving(saved, rest)
    best_saved = sum(saved[key] for key in best)
    for other in sorted(rest):
        key = (lowest, other)
        if key not in saved:
            continue
        chosen = (key, *most_saving(saved, rest - {other}))
        total = sum(saved[one] for one in chosen)
        if total > best_saved:
            best, best_saved = chosen, total
    return best


def pair_labels(
    pairs: Iterable[tuple[T, T, PairTime]], order: Sequence[T]
) -> dict[T, tuple[str, int]]:
    """By item done in turn: the pair's name, counted in the order of the sheet, and the seconds
    after a set of the item."""
    place = {item: index for index, item in enumerate(order)}
    found = {}
    ranked = sorted(pairs, key=lambda pair: min(place[pair[0]], place[pair[1]]))
    for number, (one, two, time) in enumerate(ranked, start=1):
        first, second = sorted((one, two), key=lambda item: place[item])
        found[first] = f"pair {number}", time.change_s
        found[second] = f"pair {number}", time.rest_s
    return found
