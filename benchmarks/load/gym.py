"""The gym of `site_load.py`: so many lifters with an account, a block and a log, each signed in.

`python gym.py fill LIFTERS` fills the data folder (or database) that the environment names and
prints what each phone needs; `python gym.py check` counts what phones have stored.
"""

import json
import sys
from collections import Counter
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any
from uuid import uuid4

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "tests"))

WEEKS_DONE = 2


def fill(count: int) -> list[dict[str, Any]]:
    from blockwright.server.run import open_site
    from blockwright.store.folder import made_folder, secret_key

    secret_key(made_folder())
    open_site()
    from django.utils.crypto import get_random_string

    import desk_people
    from blockwright.accounts.models import User
    from blockwright.store.models import BlockRevision, Fact, Share

    today = date.today()
    start = today - timedelta(days=today.weekday() + 7 * WEEKS_DONE)
    coach = User.objects.create_user("cato", None, name="Cato", role="coach")
    first = desk_people.desk_lifter(coach, WEEKS_DONE, start=start)
    block = BlockRevision.objects.get(lifter=first)
    facts = list(Fact.objects.filter(lifter=first))
    week = block.document["weeks"][WEEKS_DONE]
    session = next(one for one in week["sessions"] if one["entries"])
    phones = []
    for number in range(count):
        row = first if number == 0 else _copied(first, block, facts, number)
        user = User.objects.create_user(f"lifter-{number}", None, name=row.name, role="lifter")
        Share.objects.create(lifter=row, person=user, kind=Share.SELF)
        phones.append(
            {
                "lifter": str(row.key),
                "sessionid": _signed_in(user),
                "csrftoken": get_random_string(32),
                "start": start.isoformat(),
                "week": week["week"],
                "session": session["session"],
                "lift": session["entries"][0]["lift"],
            }
        )
    return phones


def _copied(first: Any, block: Any, facts: list[Any], number: int) -> Any:
    """A lifter like the first, under another name."""
    from blockwright.store.models import BlockRevision, Fact, Lifter

    name = f"Lifter {number}"
    row = Lifter.objects.create(name=name, document=first.document | {"name": name})
    lifter = block.document["lifter"] | {"name": name}
    BlockRevision(
        lifter=row, start=block.start, revision=1, ends=block.ends, status=block.status,
        document=block.document | {"lifter": lifter}, made_by=None,
    ).save()  # fmt: skip
    Fact.objects.bulk_create(
        [
            Fact(
                id=uuid4(), lifter=row, kind=fact.kind, day=fact.day, at=fact.at, zone=fact.zone,
                n=fact.n, body=fact.body, digest=fact.digest, received_at=fact.received_at,
            )
            for fact in facts
        ],
        batch_size=500,
    )  # fmt: skip
    return row


def _signed_in(user: Any) -> str:
    """A session like the one the sign-in page makes; checking 200 passwords is no load of ours."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    store = SessionStore()
    store[SESSION_KEY] = str(user.pk)
    store[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    store[HASH_SESSION_KEY] = user.get_session_auth_hash()
    store.create()
    return str(store.session_key)


def check() -> dict[str, int]:
    """What the phones' devices have stored: how many, how often, in which order."""
    import django

    django.setup()
    from blockwright.store.models import Fact

    facts = list(Fact.objects.filter(device__isnull=False).order_by("seq").values("device", "n"))
    by_device: dict[Any, list[int]] = {}
    for fact in facts:
        by_device.setdefault(fact["device"], []).append(fact["n"])
    doubled = Counter((fact["device"], fact["n"]) for fact in facts)
    return {
        "stored": len(facts),
        "doubled": sum(count - 1 for count in doubled.values()),
        "out_of_order": sum(
            later < earlier
            for numbers in by_device.values()
            for earlier, later in pairwise(numbers)
        ),
    }


if __name__ == "__main__":
    answer: Any = fill(int(sys.argv[2])) if sys.argv[1] == "fill" else check()
    json.dump(answer, sys.stdout)
