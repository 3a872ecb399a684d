"""The order of a session: compound before single-joint, a loaded spine early, trunk and grip
last, lead muscles before others of their kind; pairs stay together."""

from collections.abc import Collection, Mapping, Sequence
from typing import TypeVar

from blockwright.engine.planning.request import Option, main_muscle
from blockwright.engine.training import ZONES

T = TypeVar("T")

_TRUNK_AND_GRIP = ("abs", "forearms", "spinal_erectors")


def order_key(option: Option, leads: Collection[str]) -> tuple[bool, bool, bool, int, int, str]:
    """What sorts a session; smaller comes first. `leads` are muscle names."""
    lift = option.lift
    main = main_muscle(lift)
    return (
        not lift.compound,
        lift.axial < 2 if lift.compound else main in _TRUNK_AND_GRIP,
        main not in leads,
        -lift.axial if lift.compound else 0,
        ZONES.index(option.zone),
        lift.name,
    )


def ordered(
    items: Sequence[T],
    option_of: Mapping[T, Option],
    pairs: Sequence[tuple[T, T]],
    leads: Collection[str],
    *,
    pre_exhaust: bool = False,
) -> list[T]:
    """The items in order; the second of a pair follows the first at once."""
    rank = sorted(items, key=lambda item: order_key(option_of[item], leads))
    if pre_exhaust:
        rank = _with_pre_exhaust(rank, option_of, pairs, leads)
    partner = dict(pairs) | {b: a for a, b in pairs}
    done: list[T] = []
    for item in rank:
        if item in done:
            continue
        done.append(item)
        if item in partner:
            done.append(partner[item])
    return done


def _with_pre_exhaust(
    rank: list[T],
    option_of: Mapping[T, Option],
    pairs: Sequence[tuple[T, T]],
    leads: Collection[str],
) -> list[T]:
    """Moves one single-joint lift of a lead muscle before that muscle's first compound.

    Only before lifts that are steadied by a machine or a bench and spare the spine: tired
    muscles under a free bar are not what pre-exhaust is for.
    """
    paired = {item for pair in pairs for item in pair}
    for single in rank:
        lift = option_of[single].lift
        if lift.compound or single in paired or main_muscle(lift) not in leads:
            continue
        for compound in rank:
            other = option_of[compound].lift
            if (
                other.compound
                and compound not in paired
                and other.axial <= 1
                and other.stability != "free"
                and main_muscle(other) == main_muscle(lift)
            ):
                moved = [item for item in rank if item != single]
                moved.insert(moved.index(compound), single)
                return moved
    return rank
