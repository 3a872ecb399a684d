"""The order of a session: main lifts before small ones, a heavy squat or hinge first, rows after
it, a lead's lifts before others of their kind, trunk and grip last; pairs stay together."""

from collections.abc import Collection, Mapping, Sequence
from typing import TypeVar

from blockwright.engine.lifts import ZONES
from blockwright.engine.training import MUSCLES
from .patterns import BASICS, is_loadable
from .problem import Option

T = TypeVar("T")

_LATE = ("calves", "abs", "forearms", "spinal_erectors")
"""Muscles whose small lifts wait for the others, in this order."""


def opening_rank(option: Option, leads: Collection[str]) -> tuple[int | str, ...]:
    """What sorts the main lifts of a session; smaller comes first. `leads` are muscle names.

    What is pinned, the main lifts that are mostly for a lead, squats before others, then heavy
    squats and hinges, a lead's lighter hinge, what else loads the spine, rows after all of these;
    what cannot be loaded in steps, or heavier, opens nothing. Of two alike a bench press is before
    a dip."""
    lift = option.lift
    own = option.muscle in leads or (option.opens_early and any(m in leads for m in option.direct))
    if not is_loadable(lift):
        rank = 9
    elif option.at_the_end:
        rank = 8
    elif option.pinned and option.basic not in ("row", "pull"):
        rank = -1
    elif own and option.basic != "row":
        after_squats = lift.pattern == "hinge" and not option.heavy
        rank = 0 if option.basic == "knee" else 1 + after_squats
    elif option.opens_early:
        rank = 2 if option.heavy else 3
    elif own:
        rank = 4
    else:
        rank = 6 if option.basic in ("row", "pull") else 5
    basic = BASICS.index(option.basic) if option.basic else len(BASICS)
    axial = -lift.axial if lift.axial >= 2 else 0
    return rank, int(lift.role != "main"), ZONES.index(option.zone), axial, basic, lift.name


def order_key(option: Option, leads: Collection[str]) -> tuple[object, ...]:
    """What sorts a session; smaller comes first. `leads` are muscle names."""
    if option.is_main:
        return (False, False, False, *opening_rank(option, leads))
    lead = any(muscle in leads for muscle in option.direct)
    late = _LATE.index(option.muscle) if option.muscle in _LATE else -1
    return (True, late, not lead, MUSCLES.index(option.muscle),
            ZONES.index(option.zone), option.lift.name)  # fmt: skip


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

    Only before lifts that are steadied by a machine or a bench and spare the spine: tired muscles
    under a free bar are not what pre-exhaust is for."""
    paired = {item for pair in pairs for item in pair}
    for single in rank:
        lift = option_of[single].lift
        if lift.compound or single in paired or option_of[single].muscle not in leads:
            continue
        for compound in rank:
            other = option_of[compound].lift
            if (
                other.compound
                and compound not in paired
                and other.axial <= 1
                and other.stability != "free"
                and option_of[compound].muscle == option_of[single].muscle
            ):
                moved = [item for item in rank if item != single]
                moved.insert(moved.index(compound), single)
                return moved
    return rank
