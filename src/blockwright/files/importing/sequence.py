"""Cells that follow a lift without any heading, by their order, to sets."""

import re
from collections.abc import Sequence

from .cells import read_cell, read_load
from .grids import Cell
from .line import MOST_SETS_A_CELL
from .parts import Unread, sets_of
from .told import NO_SETS, OneSet, Weight, all_so, last_so, read_effort

_A_LOAD = 1.5
"""Times the repetitions behind it a bare number is their load; "8 | 7 | 6" may be three sets."""
WHICH_IS_LOAD = "which of these numbers is the load is not said"


def sets_of_sequence(
    cells: Sequence[Cell], load_first: bool
) -> tuple[tuple[OneSet, ...], str] | Unread:
    """The sets of cells that follow a lift without any heading, and the note behind them."""
    notes = [cell.text for cell in cells if isinstance(cell.value, str) and _is_note(cell)]
    values = [cell for cell in cells if not (isinstance(cell.value, str) and _is_note(cell))]
    if not values:
        return Unread(cells[0], "no set stands beside the lift")
    efforts = [cell for cell in values if _is_effort(cell)]
    rir = read_effort(efforts[-1].text, True) if efforts else None
    values = [cell for cell in values if cell not in efforts]
    told = _sequence(values, load_first) if values else Unread(cells[0], "no set stands here")
    if isinstance(told, Unread):
        return told
    if rir is not None and told[-1].rir is None:
        told = last_so(told, rir=rir)
    return told, "; ".join(notes)


def _sequence(values: Sequence[Cell], load_first: bool) -> tuple[OneSet, ...] | Unread:
    beside = len(values) > 1
    told = [read_cell(cell.text, None if beside else load_first) for cell in values]
    first, second = told[0], told[1] if beside else NO_SETS
    listed = bool(first) and (first.kind in ("scheme", "pair") or len(first.sets) > 1)
    if not beside and first.kind in ("scheme", "reps") and listed:
        # Whether the lift needs a load is the catalogue's to say.
        return sets_of(values[0], first, None, None)
    if len(values) == 2 and first and first.kind != "sets" and listed and read_load(values[1].text):
        return sets_of(values[0], first, None, values[1])
    if beside and all(one.kind in ("sets", "pair") for one in told):
        told = [read_cell(cell.text, True) for cell in values]
    if all(one.kind == "sets" for one in told):
        begun, *others = (cell.sets for cell in told)
        return (*as_warmups(begun, others), *(one for sets in others for one in sets))
    if second.kind in ("scheme", "pair") and len(values) == 2:
        return sets_of(values[1], second, None, values[0])
    numbers = [read_load(cell.text) for cell in values]
    if all(number is not None for number in numbers):
        return _numbers(values, [number for number in numbers if number is not None])
    if numbers[0] is not None and second.kind == "reps":
        reps = [one.reps for cell in told[1:] for one in cell.sets]
        return tuple(OneSet(parts, (numbers[0],)) for parts in reps)
    bad = next((cell for cell, one in zip(values, told, strict=True) if not one), values[0])
    return Unread(bad, "these cells make no set we know how to read")


def as_warmups(first: tuple[OneSet, ...], rest: Sequence[tuple[OneSet, ...]]) -> tuple[OneSet, ...]:
    """The sets of a lift's first cell, all warm-ups where it begins with one ("wu 60x5, 80x3") and
    none is as heavy as those of the cells beside or below it."""
    loads = [w.amount for sets in rest for one in sets for w in one.weights]
    heaviest = max((w.amount for one in first for w in one.weights), default=0)
    if not (first[0].warmup and loads and heaviest < min(loads)):
        return first
    return all_so(first, warmup=True)


def _pairs_of(numbers: list[Weight]) -> tuple[OneSet, ...] | None:
    """Loads and repetitions in turn ("100 | 5 | 105 | 4"), where the loads are of one size."""
    loads, reps = numbers[::2], [number.amount for number in numbers[1::2]]
    if len(numbers) < 4 or len(loads) != len(reps):
        return None
    if not all(count == int(count) and 0 < count <= 60 for count in reps):
        return None
    amounts = [load.amount for load in loads]
    alike = min(amounts) * 2 >= max(amounts) > max(reps)
    if not alike and not all(load.bodyweight for load in loads):
        return None
    return tuple(OneSet((int(count),), (load,)) for load, count in zip(loads, reps, strict=True))


def _numbers(values: Sequence[Cell], numbers: list[Weight]) -> tuple[OneSet, ...] | Unread:
    """Bare numbers: sets, repetitions, load; a load and its repetitions; pairs of both."""
    if (pairs := _pairs_of(numbers)) is not None:
        return pairs
    amounts = [number.amount for number in numbers]
    whole = [amount == int(amount) and 0 < amount <= 60 for amount in amounts]
    if len(amounts) == 3 and whole[0] and whole[1] and amounts[0] <= MOST_SETS_A_CELL:
        heavier = amounts[2] > max(amounts[:2]) or numbers[2].bodyweight or not whole[2]
        if heavier:
            return tuple(OneSet((int(amounts[1]),), (numbers[2],)) for _ in range(int(amounts[0])))
    if (
        len(amounts) >= 2
        and all(whole[1:])
        and (amounts[0] >= _A_LOAD * max(amounts[1:]) or numbers[0].bodyweight)
    ):
        return tuple(OneSet((int(amount),), (numbers[0],)) for amount in amounts[1:])
    return Unread(values[0], WHICH_IS_LOAD)


def _is_note(cell: Cell) -> bool:
    return not read_cell(cell.text) and read_load(cell.text) is None and not _is_effort(cell)


def _is_effort(cell: Cell) -> bool:
    return (
        re.search(r"rpe|rir|^@\s*\d", cell.text, re.I) is not None
        and read_effort(cell.text, True) is not None
        and read_cell(cell.text).kind != "sets"
    )
