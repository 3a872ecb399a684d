"""Repetitions in one cell beside loads in another: "5,5,4" beside "95-105-110"."""

import re
from functools import lru_cache
from typing import NamedTuple

from .cells import read_cell, read_load
from .days import reps_of_a_date
from .grids import Cell
from .told import OneSet, Told, Weight

_MISSED = re.compile(r"(?:\d+(?:[.,]\d+)? ?(?:kg|lbs?)? ?)?(?:f|fail|failed|missed|x)")
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=(?:25|75|5)(?!\d))")
_NO_LOAD = frozenset(
    {"none", "nil", "ohne", "sin lastre", "sem lastre", "sans lest", "senza zavorra"}
)


class Unread(NamedTuple):
    """Why cells tell no set, and the cell to name."""

    cell: Cell
    why: str


def sets_of(
    reps: Cell, told: Told, count: int | None, load: Cell | None
) -> tuple[OneSet, ...] | Unread:
    """The sets of a cell of repetitions beside their load, with the efforts that it tells."""
    if not told and load is not None and read_load(load.text) is not None:
        # "12/12 drop 30x8", at the load beside it.
        both = read_cell(f"{load.text} x {reps.text}")
        if both.kind == "sets":
            return both.sets
    sets = with_loads(repetitions(reps, told, count), load)
    says_efforts = any(own.rir or own.row_rir for own in told.sets)
    if isinstance(sets, Unread) or len(told.sets) != len(sets) or not says_efforts:
        return sets
    return tuple(
        one._replace(rir=own.rir, row_rir=own.row_rir)
        for one, own in zip(sets, told.sets, strict=True)
    )


def repetitions(cell: Cell, told: Told, count: int | None) -> list[tuple[int, ...]] | Unread:
    """The repetitions of each set: a list, a scheme, or one number for `count` sets."""
    if (parts := reps_of_a_date(cell)) is not None:
        return parts
    if re.fullmatch(r"\d{1,2}(?:-\d{1,2})+", cell.text):
        dashed = [int(part) for part in cell.text.split("-")]
        if len(dashed) > 2 or dashed[0] >= dashed[1]:
            # "8-10" is a range, "8-8" and "10-8" are none.
            return [(reps,) for reps in dashed]
    if told.kind in ("scheme", "pair"):
        return [(told.numbers[1],)] * told.numbers[0]
    if told.kind == "reps":
        listed = [one.reps for one in told.sets]
        return listed * (count or 1) if len(listed) == 1 else listed
    if re.fullmatch(r"\s*\d+\s*-\s*\d+\s*", cell.text):
        return Unread(cell, "a range is what was planned, not what was done")
    return Unread(cell, "these are no repetitions we know how to read")


def with_loads(
    counts: list[tuple[int, ...]] | Unread, load: Cell | None
) -> tuple[OneSet, ...] | Unread:
    if isinstance(counts, Unread):
        return counts
    if load is None:
        return tuple(OneSet(parts) for parts in counts)
    if (weight := read_load("BW" if load.text.lower() in _NO_LOAD else load.text)) is not None:
        return tuple(OneSet(parts, (weight,)) for parts in counts)
    parts = [read_load(part) for part in load.text.split("+")]
    if len(counts) == 1 and len(parts) == len(counts[0]) > 1 and None not in parts:
        return (OneSet(counts[0], tuple(part for part in parts if part)),)
    weights = loads_of(load.text)
    if len(weights) > 1:
        if len(counts) == 1:
            counts = counts * len(weights)
        if len(counts) == len(weights):
            return tuple(
                OneSet((0,) if weight is None else parts, (weight,) if weight else ())
                for parts, weight in zip(counts, weights, strict=True)
            )
        return Unread(load, f"{len(weights)} loads stand beside {len(counts)} sets")
    return Unread(load, "this is no load we know how to read")


@lru_cache(maxsize=32768)
def loads_of(text: str) -> tuple[Weight | None, ...]:
    """The loads of a list ("95-105-110", "bw, +5, +5"), None for a missed one ("350F"); () where
    it is no list of loads. One load is a list too."""
    if "/" in text or ";" in text:
        text = _DECIMAL_COMMA.sub(".", text)
    parts = re.split(
        r"\s*[/;,>]\s*|\s+-\s+|(?<=\d)-(?=\d)|(?<=bw)-(?=bw|\+)|(?<=\d)\s+(?=\d)|\n", text.lower()
    )
    parts = [part.strip() for part in parts]
    done = [part for part in parts if not _MISSED.fullmatch(part)]
    if not done or not all(map(read_load, done)):
        return ()
    return tuple(read_load(part) if part in done else None for part in parts)
