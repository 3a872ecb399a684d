"""The order of sets in time, from dates, times, set numbers and the order of the file."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from itertools import groupby

from blockwright.engine.training import Moment, SetDone
from blockwright.files.policy_files import default_policy

LONGEST_SESSION = timedelta(hours=12)
"""Whatever the pauses, a session is over by then (judgement)."""


def with_their_evening(sets: Sequence[SetDone]) -> list[SetDone]:
    """Sets done after midnight get the day of the evening their session began, as on the site.

    By the clock alone a session's second half would be another session: fresh again, and on a
    day that has none planned. What a set gets depends on earlier sets only. Others stay as given.
    A longer pause than the shipped policy's `strength.new_session_hours` begins another session;
    a log is read before anybody's own policy is.
    """
    longest_pause = timedelta(hours=default_policy().number("strength.new_session_hours"))
    timed = [(done.lifter or "", done.moment.at, at) for at, done in enumerate(sets)
             if done.moment.at is not None]  # fmt: skip
    given = list(sets)
    for _, of_one in groupby(sorted(timed), key=lambda one: one[0]):
        began = last = datetime.min
        for _, at, place in of_one:
            if at - last > longest_pause or at - began > LONGEST_SESSION:
                began = at
            last = at
            if began.date() != at.date():
                given[place] = replace(sets[place], moment=Moment(day=began.date(), at=at))
    return given


def in_time_order(sets: Sequence[SetDone]) -> tuple[SetDone, ...]:
    """Sets by day and time; plain dates keep the order given, before the day's timed rows.

    Within one lift on one plain date the set number decides, as long as it names each set once
    (two sessions on a day count from 1 twice, and then the order of the file decides).
    """
    start_of = {day: datetime.combine(day, time()) for day in {done.moment.day for done in sets}}
    by_time = sorted(
        sets, key=lambda done: (done.moment.day, done.moment.at or start_of[done.moment.day])
    )
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
