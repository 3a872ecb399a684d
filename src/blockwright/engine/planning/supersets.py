"""Which lifts of a session may be done in turn, and the pairs that save most time."""

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TypeVar

from blockwright.engine.planning.constraints import PlacePair, WeekVariables
from blockwright.engine.planning.patterns import PULL, PUSH
from blockwright.engine.planning.problem import Item, Option
from blockwright.engine.planning.time_model import PairTime, pair_time
from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift

T = TypeVar("T", bound=Hashable)

_BARS = ("bar", "ez bar", "trap bar", "squat rack", "landmine")
_SHARED = ("bench", "dumbbells", "plates", "bands", "box", "kettlebells", "cable")
"""Kit words two lifts may both need: there is enough of it, or it is the same station."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairing:
    """Two items of one slot done in turn."""

    first: Item
    second: Item
    time: PairTime

    @property
    def total_saved_s(self) -> int:
        return self.time.saved_in(self.first.sets)


def may_pair(first: Option, second: Option) -> bool:
    """Whether two lifts do not compete: other muscles, no loaded spine, kit at hand for both.

    A compound is paired with a compound and a single-joint lift with its like, so that pairs
    never push a compound behind a single-joint lift.
    """
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
    if all(bars):
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
    share = week.problem.limits.policy.number("time.pair_from_share")
    busy = {place for pair in taken for place in (pair.first, pair.second)}
    found: list[PlacePair] = []
    for slot in week.slots:
        here = [i for i in week.here(slot) if i in sets]
        seconds = sum(week.options[i].time.seconds(sets[i][1]) for i in here)
        if seconds < share * budget_s[slot]:
            continue
        free = [i for i in here if i not in busy and (mains or not week.options[i].is_main)]
        found += _best_places(week, slot, free, sets)
    return tuple(found)


def _possible(options: Sequence[Option], policy: Policy) -> Iterator[tuple[int, int, PairTime]]:
    for (a, one), (b, two) in combinations(enumerate(options), 2):
        if may_pair(one, two):
            yield a, b, pair_time(one.time, two.time, policy)


def _best_places(
    week: WeekVariables, slot: int, places: Sequence[int], sets: Mapping[int, tuple[int, int]]
) -> list[PlacePair]:
    options = [week.options[i] for i in places]
    possible: dict[tuple[int, int], PlacePair] = {}
    for a, b, time in _possible(options, week.problem.limits.policy):
        one, two = sets[places[a]], sets[places[b]]
        near = all(abs(x - y) <= 1 for x, y in zip(one, two, strict=True))
        if near and time.saved_in(min(one[0], two[0])) > 0:
            possible[a, b] = PlacePair(slot, places[a], places[b], time)
    chosen = most_saving(
        {key: 2 * pair.time.saved_s - pair.time.change_s for key, pair in possible.items()},
        frozenset(range(len(places))),
    )
    return [possible[key] for key in chosen]


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


def best_pairs(
    options: Sequence[Option], items: Sequence[Item], policy: Policy
) -> tuple[Pairing, ...]:
    """The set of disjoint pairs of one session that saves most, by trying all (few lifts)."""
    found = _possible([options[item.option] for item in items], policy)
    possible = {
        (a, b): Pairing(first=items[a], second=items[b], time=time)
        for a, b, time in found
        # equal sets keep a pair a pair to its last round
        if items[a].sets == items[b].sets and time.saved_in(items[a].sets) > 0
    }
    saved = {key: pairing.total_saved_s for key, pairing in possible.items()}
    return tuple(possible[key] for key in most_saving(saved, frozenset(range(len(items)))))


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
) -> dict[T, tuple[str, PairTime, int]]:
    """By item done in turn: the pair's name, counted in the order of the sheet, its time, and the
    seconds after a set of the item."""
    place = {item: index for index, item in enumerate(order)}
    found = {}
    ranked = sorted(pairs, key=lambda pair: min(place[pair[0]], place[pair[1]]))
    for number, (one, two, time) in enumerate(ranked, start=1):
        first, second = sorted((one, two), key=lambda item: place[item])
        found[first] = f"pair {number}", time, time.change_s
        found[second] = f"pair {number}", time, time.rest_s
    return found
