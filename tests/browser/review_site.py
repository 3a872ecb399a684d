"""A real site with one invented lifter whose first week is done: for the review's browser test.

As a script it fills a data folder: `python review_site.py FOLDER`, and prints who is in it.
"""

import json
import os
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from phone_site import COACH, PASSWORD, TESTS


def fill(folder: Path) -> dict[str, Any]:
    """Migrates a data folder; a coach, and a lifter in the second week of their block."""
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
    row = desk_people.desk_lifter(coach, 1, start=start, pain={"leg curl": 4})
    return {"lifter": str(row.key), "name": row.name, "today": today.isoformat()}


def filled(folder: Path) -> dict[str, Any]:
    """Fills a data folder in a process of its own."""
    ran = subprocess.run(
        [sys.executable, __file__, str(folder)], capture_output=True, text=True, check=True
    )
    return dict(json.loads(ran.stdout))


if __name__ == "__main__":
    print(json.dumps(fill(Path(sys.argv[1]))))
