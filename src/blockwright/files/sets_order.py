"""The order of sets in time, from dates, times, set numbers and the order of the file."""

from collections.abc import Sequence
from datetime import date, datetime, time

from blockwright.engine.training import SetDone


def in_time_order(sets: Sequence[SetDone]) -> tuple[SetDone, ...]:
    """Sets by day and time; plain dates keep the order given, before the day's timed rows.

    Within one lift on one plain date the set number decides, as long as it names each set once
    (two sessions on a day count from 1 twice, and then the order of the file decides).
    """
    start_of = {day: datetime.combine(day, time()) for day in {done.moment.day for done in sets}}
    by_time = sorted(sets, key=lambda done: done.moment.at or start_of[done.moment.day])
    places: dict[tuple[date, str, str | None], list[int]] = {}
    for place, done in enumerate(by_time):
        if done.moment.at is None:
            places.setdefault((done.moment.day, done.lift, done.lifter), []).append(place)
    ordered = list(by_time)
    for group in places.values():
        numbers = [by_time[place].set_number for place in group]
        by_number = sorted(group, key=lambda place: by_time[place].set_number)
        if by_number != group and len(set(numbers)) == len(numbers):
            for place, source in zip(group, by_number, strict=True):
                ordered[place] = by_time[source]
    return tuple(ordered)
