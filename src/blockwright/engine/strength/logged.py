"""What was logged of each set, as arrays, and the order of time."""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from datetime import date
from operator import attrgetter, itemgetter

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.training import Moment, SetDone

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Whole = NDArray[np.int64]

METHODS = {"warmup": 1, "rest-pause": 2, "drop": 3, "try": 4}

BLOCK = 4096
"""Sets read together: as many as keep them in the processor's cache while each column is read."""


@dataclass(frozen=True, slots=True)
class Logged:
    """What was logged of each set, as numbers; nan where nothing was."""

    set_number: Whole
    load: Floats  # Of the first part, as is `reps`
    reps: Floats
    parts: Whole
    rir_low: Floats
    rir_high: Floats
    rest_s: Floats
    pain: Floats
    method: Whole
    full_range: Bools
    confirmed: Bools

    @classmethod
    def of(cls, sets: Sequence[SetDone]) -> "Logged":
        kinds = (np.int64, float, float, np.int64, *(float,) * 4, np.int64, bool, bool)
        made = cls(*(np.zeros(len(sets), dtype=kind) for kind in kinds))
        made.parts[:], made.full_range[:], made.pain[:] = 1, True, np.nan
        for start in range(0, len(sets), BLOCK):
            made._read(slice(start, start + BLOCK), sets[start : start + BLOCK])
        return made

    def _read(self, where: slice, sets: Sequence[SetDone]) -> None:
        for name in ("set_number", "rir_low", "rir_high", "rest_s"):
            into = getattr(self, name)
            into[where] = np.fromiter(map(attrgetter(name), sets), into.dtype, len(sets))
        loads, reps = map(attrgetter("loads_kg"), sets), list(map(attrgetter("reps"), sets))
        self.load[where] = np.fromiter(map(itemgetter(0), loads), float, len(sets))
        self.reps[where] = np.fromiter(map(itemgetter(0), reps), float, len(sets))
        parts = list(map(len, reps))
        if parts.count(1) < len(parts):
            self.parts[where] = parts
        # the rest seldom differs from what it is to start with
        for name, usual in (("pain", None), ("full_range", True), ("confirmed", False)):
            said = list(map(attrgetter(name), sets))
            if said.count(usual) < len(said):
                getattr(self, name)[where] = said
        method = list(map(attrgetter("method"), sets))
        if method.count("straight") < len(method):
            self.method[where] = [METHODS.get(name, 0) for name in method]

    def sorted_by(self, order: Whole) -> "Logged":
        return Logged(*(getattr(self, each.name)[order] for each in fields(self)))


@dataclass(frozen=True, slots=True)
class Moments:
    day: Whole
    second: Floats  # Into the day it belongs to: past 24 hours for an evening's set after midnight

    @classmethod
    def of(cls, sets: Sequence[SetDone]) -> "Moments":
        made = cls(np.zeros(len(sets), dtype=np.int64), np.zeros(len(sets)))
        for start in range(0, len(sets), BLOCK):
            moments = list(map(attrgetter("moment"), sets[start : start + BLOCK]))
            where = slice(start, start + BLOCK)
            made.day[where] = list(map(date.toordinal, map(attrgetter("day"), moments)))
            timed = list(map(attrgetter("at"), moments))
            if timed.count(None) < len(timed):
                made.second[where] = list(map(_second_of, moments))
        return made


def _second_of(moment: Moment) -> float:
    if moment.at is None:
        return 0.0
    at, nights = moment.at, moment.at.toordinal() - moment.day.toordinal()
    return nights * 86400.0 + at.hour * 3600.0 + at.minute * 60.0 + at.second


def in_time(
    sets: Sequence[SetDone], log: Logged, moments: Moments, series_of: Whole
) -> tuple[Whole, Bools]:
    """The order of time within series, and in it where a second session of one plain date starts.

    The set number decides within one moment; where it names a set twice the sets were counted from
    1 twice, and the order of the file decides: anew after warm-ups or tries is no session."""
    day, second, number = moments.day, moments.second, log.set_number
    # one key for the day of a series: a stable sort by each key in turn is what takes the time
    days = series_of * (int(np.max(day, initial=0)) + 1) + day
    keys = (second, days) if second.any() else (days,)
    order = np.lexsort((number, *keys))
    again = np.zeros(len(order), dtype=bool)
    moment = np.cumsum(differs(days[order]) | (np.diff(second[order], prepend=-1) != 0))
    twice = (np.diff(moment, prepend=-1) == 0) & ~differs(number[order])
    if twice.any():
        doubled = np.isin(moment, moment[twice])
        numbers = np.empty_like(number)
        numbers[order] = np.where(doubled, 0, number[order])
        order = np.lexsort(([one.row for one in sets], numbers, *keys))
        restart = np.diff(number[order], prepend=0) <= 0
        again = doubled & (np.diff(moment, prepend=-1) == 0) & restart & (number[order] == 1)
        light = np.array([one.method in ("warmup", "try") for one in sets])[order]
        again &= ~np.append(False, light[:-1])
    return order, again


def differs(values: Whole) -> Bools:
    """Whether each value differs from the one before it; the first always does."""
    return np.asarray(np.diff(values, prepend=values[:1] - 1) != 0)
