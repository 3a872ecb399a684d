"""The roster of a coach with 200 lifters, each with 15 weeks of log (invented): processor seconds.

The first view ever looks at everybody's last weeks and at ten lifters' whole logs (policy
`roster.looks_at_once`); later views look only where something changed. The reference of a view is
the second a person waits without losing their thread (Nielsen 1993, from memory).
"""

import json
import os
import re
import shutil
import sys
import tempfile
import time
import uuid
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

LIFTERS, REFERENCE_S = 200, 1.0


def main() -> None:
    folder = Path(tempfile.mkdtemp(prefix="bwroster"))
    os.environ["DJANGO_SETTINGS_MODULE"] = "blockwright.server.settings"
    os.environ["BLOCKWRIGHT_DATA"] = str(folder)
    try:
        _measure()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _measure() -> None:
    from blockwright.server.run import open_site
    from blockwright.store.folder import made_folder, secret_key

    secret_key(made_folder(Path(os.environ["BLOCKWRIGHT_DATA"])))
    open_site()
    from blockwright.accounts.models import User
    from blockwright.store.models import RosterLook
    from blockwright.verbs.roster import roster

    coach = User.objects.create_user("cato", "a long word", name="Cato", role="coach")
    today = date.today()
    _fill(coach, today)
    _timed("first view of 200", lambda: roster(coach, today))
    while roster(coach, today).unwatched:
        pass
    _timed("later view of 200", lambda: roster(coach, today))
    some = list(RosterLook.objects.values_list("pk", flat=True)[:20])
    RosterLook.objects.filter(pk__in=some).update(key="", watch_key="")
    _timed("view after 20 of 200 logged", lambda: roster(coach, today))


def _timed(name: str, view: object) -> None:
    assert callable(view)
    start = time.process_time()
    view()
    took = time.process_time() - start
    row = {"bench": f"roster: {name}", "value": round(took, 3), "unit": "s of one processor",
           "reference": REFERENCE_S, "ratio": round(took / REFERENCE_S, 3)}  # fmt: skip
    print(json.dumps(row), flush=True)


def _fill(coach: object, today: date) -> None:
    """One lifter by the front door, the others as copies of the rows."""
    from django.utils import timezone

    import desk_people
    from blockwright.store.models import BlockRevision, Fact, Lifter, Share
    from blockwright.verbs.import_files import Given, import_files

    start = today - timedelta(days=today.weekday() + 28)
    first = desk_people.desk_lifter(coach, 4, start=start)  # type: ignore[arg-type]
    log = (desk_people.ROOT / "examples" / "log.csv").read_text(encoding="utf-8")
    moved = start - timedelta(weeks=11) - date(2026, 10, 12)
    log = re.sub(
        r"2026-\d\d-\d\d", lambda m: (date.fromisoformat(m.group()) + moved).isoformat(), log
    )
    import_files(coach, first, [Given("log.csv", log.encode())], timezone.now())  # type: ignore[arg-type]
    block = BlockRevision.objects.get(lifter=first)
    facts = list(Fact.objects.filter(lifter=first))
    for number in range(1, LIFTERS):
        name = f"Invented {number:03d}"
        row = Lifter.objects.create(name=name, document=first.document | {"name": name})
        Share.objects.create(lifter=row, person=coach, kind=Share.COACH)
        BlockRevision(
            lifter=row, start=block.start, revision=1, ends=block.ends, status="ready",
            document=block.document,
        ).save()  # fmt: skip
        copies = [
            Fact(
                id=uuid.uuid4(), lifter=row, kind=one.kind, day=one.day, at=one.at, body=one.body,
                digest=one.digest, n=one.n, received_at=one.received_at,
            )
            for one in facts
        ]  # fmt: skip
        Fact.objects.bulk_create(copies, batch_size=500)


if __name__ == "__main__":
    main()
