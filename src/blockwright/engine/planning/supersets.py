"""Which lifts of a session may be done in turn, and the pairs that save most time."""

from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.engine.planning.request import Item, Option, Request, WeekPlan
from blockwright.engine.planning.time_model import PairTime, pair_time
from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift

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
    if one.compound and "low" in (first.zone, second.zone):
        return False
    return not _shares_muscles(one, two) and _kit_allows(one, two)


def _shares_muscles(one: Lift, two: Lift) -> bool:
    for muscle in one.muscles.keys() & two.muscles.keys():
        if max(one.muscles[muscle], two.muscles[muscle]) >= 1.0:
            return True
    return False


def _kit_allows(one: Lift, two: Lift) -> bool:
    bars = [any(word in _BARS for word in lift.kit) for lift in (one, two)]
    if all(bars):
        return False
    stations = [_stations(lift) for lift in (one, two)]
    # holding two machines at once is rude in any gym
    return not (stations[0] and stations[1])


def _stations(lift: Lift) -> tuple[str, ...]:
    return tuple(word for word in lift.kit if word not in _SHARED and word not in _BARS)


def pairs_of(
    request: Request,
    free: WeekPlan,
    policy: Policy,
    plan: WeekPlan,
    budget_s: tuple[int, ...],
) -> tuple[Pairing, ...]:
    """The pairs among `free` items that save most time, in slots that `plan` nearly fills."""
    found: list[Pairing] = []
    share = policy.number("time.pair_from_share")
    for slot in range(len(request.slots)):
        seconds = sum(
            int(request.fixed_s[i.option]) + i.sets * int(request.per_set_s[i.option])
            for i in plan
            if i.slot == slot
        )
        if seconds >= share * budget_s[slot]:
            items = [item for item in free if item.slot == slot]
            found += best_pairs(request.options, items, policy)
    return tuple(found)


def best_pairs(
    options: Sequence[Option], items: Sequence[Item], policy: Policy
) -> tuple[Pairing, ...]:
    """The set of disjoint pairs of one session that saves most, by trying all (few lifts)."""
    possible: dict[tuple[int, int], Pairing] = {}
    for a, first in enumerate(items):
        for b in range(a + 1, len(items)):
            second = items[b]
            one, two = options[first.option], options[second.option]
            # equal sets keep a pair a pair to its last round
            if first.sets == second.sets and may_pair(one, two):
                pairing = Pairing(
                    first=first, second=second, time=pair_time(one.time, two.time, policy)
                )
                if pairing.total_saved_s > 0:
                    possible[a, b] = pairing
    return _most_saving(possible, frozenset(range(len(items))))


def _most_saving(
    possible: dict[tuple[int, int], Pairing], left: frozenset[int]
) -> tuple[Pairing, ...]:
    if not left:
        return ()
    lowest = min(left)
    rest = left - {lowest}
    best = _most_saving(possible, rest)
    best_saved = sum(pairing.total_saved_s for pairing in best)
    for other in sorted(rest):
        pairing = possible.get((lowest, other))
        if pairing is None:
            continue
        chosen = (pairing, *_most_saving(possible, rest - {other}))
        saved = sum(p.total_saved_s for p in chosen)
        if saved > best_saved:
            best, best_saved = chosen, saved
    return best


def saved_by_slot(pairs: Sequence[Pairing], slots: int) -> tuple[int, ...]:
    """Seconds the pairs give back in each slot."""
    return tuple(
        sum(p.total_saved_s for p in pairs if p.first.slot == slot) for slot in range(slots)
    )
