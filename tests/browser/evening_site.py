"""A real site with invented lifters whose first week is done and whose letters are due, some of
them with pain, a sign in a note, or a set that cannot be true: for the evening page's tests.

As a script it fills a data folder: `python evening_site.py FOLDER COUNT`, and prints who is in it.
"""

import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from phone_site import filled_by, opened, say

WEEKS: tuple[dict[str, Any], ...] = (
    {},
    {"pain": {"leg curl": 4}},
    {"notes": {"barbell back squat": "felt faint after the last"}},
    {"pain": {"barbell back squat": 8}},
)


def fill(folder: Path, count: int) -> dict[str, Any]:
    """Migrates a data folder; a coach, and `count` lifters in the second week of their block."""
    coach = opened(folder)
    import desk_people

    today = date.today()
    start = today - timedelta(days=today.weekday() + 7)
    for number in range(count):
        more = WEEKS[number % len(WEEKS)]
        row = desk_people.desk_lifter(coach, 1, start=start, **more)
        row.name = f"{row.name} {number + 1}"
        row.save(update_fields=["name"])
    return {"count": count, "today": today.isoformat()}


def filled(folder: Path, count: int) -> dict[str, Any]:
    return filled_by(__file__, folder, count)


if __name__ == "__main__":
    say(fill(Path(sys.argv[1]), int(sys.argv[2])))
