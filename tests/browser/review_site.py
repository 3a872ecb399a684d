"""A real site with one invented lifter whose first week is done: for the review's browser test.

As a script it fills a data folder: `python review_site.py FOLDER`, and prints who is in it.
"""

import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from phone_site import filled_by, opened, say


def fill(folder: Path) -> dict[str, Any]:
    """Migrates a data folder; a coach, and a lifter in the second week of their block."""
    coach = opened(folder)
    import desk_people

    today = date.today()
    start = today - timedelta(days=today.weekday() + 7)
    row = desk_people.desk_lifter(coach, 1, start=start, pain={"leg curl": 4})
    return {"lifter": str(row.key), "name": row.name, "today": today.isoformat()}


def filled(folder: Path) -> dict[str, Any]:
    return filled_by(__file__, folder)


if __name__ == "__main__":
    say(fill(Path(sys.argv[1])))
