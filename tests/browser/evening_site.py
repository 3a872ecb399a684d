"""A real site with invented lifters whose first week is done and whose letters are due, some of
them with pain, a sign in a note, or a set that cannot be true: for the evening page's tests.

As a script it fills a data folder: `python evening_site.py FOLDER COUNT`, and prints who is in it.
"""

import json
import os
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from phone_site import COACH, PASSWORD, TESTS

WEEKS: tuple[dict[str, Any], ...] = (
    {},
    {"pain": {"leg curl": 4}},
    {"notes": {"barbell back squat": "felt faint after the last"}},
    {"pain": {"barbell back squat": 8}},
)


def fill(folder: Path, count: int) -> dict[str, Any]:
    """Migrates a data folder; a coach, and `count` lifters in the second week of their block."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "blockwright.server.settings"
    os.environ["BLOCKWRIGHT_DATA"] = str(folder)
    sys.path.insert(0, str(TESTS))
    from blockwright.server.run import open_site
    from blockwright.store.folder import made_folder, secret_key

    secret_key(made_folder(folder))
    open_site()
    import desk_people
    from blockwright.accounts.models import User

    coach = User.objects.create_user(COACH, PASSWORD, name="Cato", role="coach")
    today = date.today()
    start = today - timedelta(days=today.weekday() + 7)
    for number in range(count):
        more = WEEKS[number % len(WEEKS)]
        row = desk_people.desk_lifter(coach, 1, start=start, **more)
        row.name = f"{row.name} {number + 1}"
        row.save(update_fields=["name"])
    return {"count": count, "today": today.isoformat()}


def filled(folder: Path, count: int) -> dict[str, Any]:
    """Fills a data folder in a process of its own."""
    command = [sys.executable, __file__, str(folder), str(count)]
    ran = subprocess.run(command, capture_output=True, text=True, check=True)
    return dict(json.loads(ran.stdout))


if __name__ == "__main__":
    print(json.dumps(fill(Path(sys.argv[1]), int(sys.argv[2]))))
