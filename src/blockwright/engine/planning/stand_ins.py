"""Lifts that may stand in today for what cannot be done, and how far each is from it.

Likest first: the same pattern and zone, on kit that is not what is missing, as well suited. What
two lifts that are gone have in common, and nothing that stays uses, is taken to be missing.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from blockwright.engine.planning.likeness import unlike
from blockwright.engine.planning.problem import Item, Option
from blockwright.engine.planning.replan_week import WeekAtHand
from blockwright.engine.planning.trouble import Trouble


@dataclass(frozen=True, slots=True)
class StandIn:
    """An option that may come in."""

    price: int
    """Points against it."""
    counts: Mapping[str, int]
    """Quarter sets by muscle that a set is held against the plan: no more than what it replaces
    gives, so that a stand-in set for set is never too much."""


def stand_ins(hand: WeekAtHand, trouble: Trouble) -> dict[int, StandIn]:
    """By option, what may come into the session; empty where no lift is missing or hurts."""
    here = {hand.problem.options[item.option].lift.name for item in hand.in_order}
    gone = [i for i in hand.in_order if _is_gone(hand, i, trouble)]
    missing = _missing_kit(hand, trouble)
    found: dict[int, StandIn] = {}
    for item in gone:
        left = hand.problem.options[item.option]
        fit = [
            index
            for index, option in enumerate(hand.problem.options)
            if option.lift.name not in here
            and _may_replace(hand, option, left, trouble)
            and not missing & set(option.lift.kit)
        ]
        best = max((hand.problem.scores.get(_name(hand, i), 0) for i in fit), default=0)
        for index in fit:
            less = best - hand.problem.scores.get(_name(hand, index), 0)
            far = _far(hand, hand.problem.options[index], left, less)
            found[index] = _nearer(found.get(index), far, hand.problem.options[index], left)
    return found


def _name(hand: WeekAtHand, option: int) -> str:
    return hand.problem.options[option].lift.name


def _nearer(known: StandIn | None, far: int, option: Option, left: Option) -> StandIn:
    counts = {m: min(q, left.quarters.get(m, 0)) for m, q in option.quarters.items()}
    if known is None:
        return StandIn(far, counts)
    return StandIn(min(far, known.price), {m: max(q, counts[m]) for m, q in known.counts.items()})


def _is_gone(hand: WeekAtHand, item: Item, trouble: Trouble) -> bool:
    return _name(hand, item.option) in (*trouble.without, *trouble.hurts)


def _may_replace(hand: WeekAtHand, other: Option, gone: Option, trouble: Trouble) -> bool:
    """For a lift that hurts only those that may stand in for it."""
    if not trouble.spares(other.lift, hand.catalogue):
        return False
    if gone.lift.name in trouble.hurts:
        return other.lift.name in trouble.stand_ins and gone.muscle in other.direct
    alike = other.muscle == gone.muscle or (other.basic == gone.basic and gone.basic is not None)
    return alike and other.is_main == gone.is_main


def _missing_kit(hand: WeekAtHand, trouble: Trouble) -> set[str]:
    """Kit of at least two lifts that are gone and of none that stays."""
    gone = [i for i in hand.in_order if _name(hand, i.option) in trouble.without]
    kits = [set(hand.problem.options[i.option].lift.kit) for i in gone]
    shared = {word for kit in kits for word in kit if sum(word in other for other in kits) > 1}
    return shared - _kit_in_use(hand, gone)


def _kit_in_use(hand: WeekAtHand, gone: list[Item]) -> set[str]:
    stays = [item for item in hand.in_order if item not in gone]
    return {word for item in stays for word in hand.problem.options[item.option].lift.kit}


def _far(hand: WeekAtHand, other: Option, gone: Option, less_suited: int) -> int:
    """Points against a lift that is unlike, in another zone, less suited by so many points, or new
    to the week."""
    differs = {
        "other_zone": other.zone != gone.zone,
        "less_suited": less_suited,
        "swapped": all(hand.problem.options[i.option].lift != other.lift for i in hand.plan),
    }
    number = hand.policy.number
    points = sum(number(f"replan.price.{key}") * much for key, much in differs.items())
    return round(points + unlike(gone.lift, other.lift, hand.policy, taken=True))
