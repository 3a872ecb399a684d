"""Sets that stand apart from the rest of their file: misread, more often than done.

A wrong set is far worse than one that is asked about. So what was read is held against all else of
the file once more, as a careful reader would; the numbers are judgement."""

import itertools
from collections import defaultdict
from collections.abc import Sequence
from datetime import date
from statistics import median

from blockwright.engine.training import Catalogue, SetDone

_MOST_REPS = 50
_MOST_KG = 500.0
_LIGHT_BAR_KG = 12.0
_REPS_OF_A_LIGHT_BAR = 25
_APART = 3.0  # Times the middle load of its lift and person, or the middle's as many times it
_STEP_KG = 25.0  # Less apart is a lift that is new or loads a body
_FEWEST = 4  # Sets of a lift, and days of a file, from which on one can stand apart
_EASIEST = 6.0  # Repetitions in reserve that nobody notes of a work set
_LIGHT_DAY = 0.95  # Times the middle load of its lift
_LONGEST_GAP_DAYS = 400
_POUND_PLATES = frozenset({45, 65, 95, 115, 135, 155, 185, 205, 225, 245, 275, 295, 315, 365, 405})
"""Loads a 45 lb bar makes with pairs of 45, 35, 25 and 10 lb plates; arithmetic."""


def doubts(sets: Sequence[SetDone], catalogue: Catalogue) -> dict[int, str]:
    """Why a set looks misread, by its place in `sets`."""
    far = _far_days([done.moment.day for done in sets])
    loads: dict[tuple[str, str | None], list[float]] = defaultdict(list)
    tops: dict[tuple[str, str | None, date], float] = defaultdict(float)
    for one in sets:
        at_day = (one.lift, one.lifter, one.moment.day)
        tops[at_day] = max(tops[at_day], *one.loads_kg)
        if one.method != "warmup":
            loads[one.lift, one.lifter].append(max(one.loads_kg))
    middles = {key: median(one) for key, one in loads.items() if len(one) >= _FEWEST}
    found = {}
    for at, done in enumerate(sets):
        known = catalogue.lifts.get(done.lift)
        load, reps = max(done.loads_kg), max(done.reps)
        middle = middles.get((done.lift, done.lifter), load)
        # The heaviest of a light day, as in a deload; a warm-up has heavier ones behind it.
        is_light = tops[done.lift, done.lifter, done.moment.day] <= _LIGHT_DAY * middle
        bar = known is not None and "bar" in known.kit
        if reps > _MOST_REPS or (bar and load <= _LIGHT_BAR_KG and reps >= _REPS_OF_A_LIGHT_BAR):
            found[at] = "its load and repetitions look like another's"
        elif load > _MOST_KG or (load - middle > _STEP_KG and load > _APART * middle > 0):
            found[at] = "its load is far from the others of the lift"
        elif done.method != "warmup" and (done.rir_low or 0) >= _EASIEST and not is_light:
            found[at] = "nobody notes so low an effort"
        elif done.moment.day in far:
            found[at] = "its day is far from the others"
    return found


def _far_days(days: Sequence[date]) -> set[date]:
    """The days before or behind the longest gap, where they are few and it is far longer than the
    rest of the file."""
    ordered = sorted(set(days))
    if len(ordered) < _FEWEST:
        return set()
    gaps = [(later - day).days for day, later in itertools.pairwise(ordered)]
    at = max(range(len(gaps)), key=lambda at: gaps[at]) + 1
    few = min(ordered[:at], ordered[at:], key=len)
    return set(few) if gaps[at - 1] > _LONGEST_GAP_DAYS and len(few) * 4 <= len(ordered) else set()


def looks_like_pounds(loads: Sequence[float]) -> bool:
    """Many heavy loads are what a 45 lb bar makes with large plates; few are what only kg are."""
    heavy = [load for load in loads if load >= 95]
    only_kilos = sum(load % 5 == 2.5 or load % 1 not in (0, 0.5) for load in loads)
    if only_kilos * 10 > len(loads):
        return False
    kilos = sum(load % 10 == 0 for load in heavy)
    pounds = sum(load in _POUND_PLATES for load in heavy)
    large = sum(load >= 225 for load in loads) * 4 > len(loads)
    return (len(heavy) >= 3 and pounds * 3 > len(heavy) and pounds > kilos) or large
