"""Invented logs: a usual week, written out for some weeks before the block's start.

A week is text, a line a day: `mon: barbell back squat 4x6@100, leg press 3x12@160`. The loads are
the last week's; earlier weeks did a repetition less for every three weeks back, and each week one
set of a lift is a repetition short, so that no two sessions are alike.
"""

import re
from collections.abc import Iterator
from datetime import date, timedelta

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
HEADER = "when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,note"
_DONE = re.compile(r"\s*(.+?) (\d+)x(\d+)@([\d.]+)\s*")


def log_rows(week: str, weeks: int, start: date, unit: str) -> Iterator[str]:
    """The rows of `weeks` such weeks that end on the day before `start`, in time order."""
    for back in range(weeks, 0, -1):
        for line in filter(str.strip, week.splitlines()):
            day, _, lifts = line.partition(":")
            when = start - timedelta(weeks=back) + timedelta(days=DAYS.index(day.strip()))
            for text in lifts.split(","):
                yield from _lift_rows(text, when, back, unit)


def _lift_rows(text: str, when: date, back: int, unit: str) -> Iterator[str]:
    match = _DONE.fullmatch(text)
    assert match is not None, text
    name, sets, reps, load = match[1], int(match[2]), int(match[3]), match[4]
    for number in range(1, sets + 1):
        done = max(reps - (back - 1) // 3 - (number == 1 + back % 3), 1)
        rir = 3 if number == 1 else 2
        yield f"{when},{name},{number},{load},{unit},{done},{rir},,straight,yes,,"
