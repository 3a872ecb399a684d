"""A real site for the block's browser tests: a coach, a lifter without a block, and one in the
third week of a whole block.

As a script it fills a data folder: `python block_site.py FOLDER`, and prints who is in it.
"""

import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from phone_site import filled_by, opened, say

SMALL: dict[str, Any] = {
    "name": "Small Invented", "units": "kg", "bodyweight": 70.0, "weeks": 3,
    "slot": [
        {"day": "mon", "start": "18:30", "minutes": 40},
        {"day": "thu", "start": "18:30", "minutes": 40},
    ],
    "gym": {"kit": ["dumbbells"], "dumbbells": {"from": 4, "to": 34, "step": 2}},
}  # fmt: skip


def fill(folder: Path) -> dict[str, Any]:
    """Migrates a data folder and writes both lifters into it."""
    coach = opened(folder)
    import composed_world
    from blockwright.store.models import Lifter, Share

    small = Lifter.objects.create(name=SMALL["name"], document=SMALL)
    Share.objects.create(person=coach, lifter=small, kind=Share.COACH)
    today = date.today()
    block = composed_world.block_from(composed_world.monday_of(today) - timedelta(days=14))
    whole = composed_world.store(block, coach)
    composed_world.log(whole, block, today - timedelta(days=1))
    return {"small": str(small.key), "whole": str(whole.key), "start": block.start.isoformat()}


def filled(folder: Path) -> dict[str, Any]:
    return filled_by(__file__, folder)


if __name__ == "__main__":
    say(fill(Path(sys.argv[1])))
