"""A site with something of everything in a data folder of its own, and what every address of a
site answers to everyone. Run in a process of its own, in which `make` and `again` end with those
answers:

    python -m archive_world make|erase DIR
    python -m archive_world again ARCHIVE DIR FILE
    python -m archive_world refuse DIR FILE...
"""

import json
import logging
import os
import re
import sqlite3
import sys
from contextlib import closing, redirect_stderr, redirect_stdout
from datetime import timedelta
from io import StringIO
from pathlib import Path
from typing import Any

from blockwright.verbs.open_store import open_store

NEVER = {"join/<str:token>/", "demo/<str:token>/"}
"""What a link leads to, which is in no archive."""
_TOKENS = re.compile(r'(name="csrfmiddlewaretoken" value=")[^"]+|("csrf_token": ")[^"]+')
_SETS = "when,lift,set,load,unit,reps,rir,note\n2026-01-02,bench press,1,50,kg,8,2,at home\n"
_SHEET = b"Date,Exercise,Weight (kg),Reps\n2025-12-05,Bench press,45,8\n"


def make() -> None:
    """Mara's gym with a log by phone and by file, corrected and taken back; letter, decisions,
    a search that ended, imports in every state, a remembered name, somebody erased."""
    from django.utils import timezone

    import desk_people
    import people
    from blockwright.store.blocks import add_search, end_search
    from blockwright.store.facts import facts_of
    from blockwright.store.models import HouseFrame, Lifter, LiftName
    from blockwright.verbs.amend_fact import amend
    from blockwright.verbs.decide_letter import all_open, decide_letter
    from blockwright.verbs.erase_lifter import erase_lifter
    from blockwright.verbs.import_batches import batches_of, hold_sheets, take_back
    from blockwright.verbs.import_files import Given, import_files
    from blockwright.verbs.take_log import Sent, take_log
    from blockwright.verbs.write_letter import write_letter

    world = people.make_world()
    row, now = world.lifter, timezone.now()
    import_files(world.cato, row, [Given("log.csv", _SETS.encode())], now)
    again = _SETS.replace("2026-01-02", "2026-01-03").encode()
    import_files(world.cato, row, [Given("wrong.csv", again)], now + timedelta(seconds=1))
    take_back(world.cato, row, batches_of(row)[0], now + timedelta(seconds=2))
    sets = [
        people.set_event(row, n, lift=lift, set=1 + n % 3, load="60", reps=reps, rir="1")
        for n, (lift, reps) in enumerate(
            [("bench press", "9"), ("bench press", "8"), ("barbell back squat", "7")], 1
        )
    ]
    events = [
        *sets,
        people.checkin_event(row, 8),
        people.checkin_event(row, 9, measure="bodyweight", about="", value="150", unit="lb"),
        sets[0] | {"id": str(people.OTHER_PHONE), "n": 10, "amends": sets[0]["id"]},
    ]
    answer = take_log(world.mara, Sent(now, events, {}), now)
    assert {one["state"] for one in answer["answers"]} == {"stored"}, answer
    first = facts_of(row)[-5]
    amend(world.cato, row, first, now, knew=0, amends=first.id, withdrawn=True)
    visit = {"day": "mon", "start": "18:30", "patterns": ["squat"], "heavy": ["squat"]}
    HouseFrame.objects.create(name="Our first day", by=world.cato, visits=[visit])
    LiftName.objects.create(by=world.cato, typed="my bench", lift="bench press")
    write_letter(row, people.MONDAY + timedelta(days=8))
    trained = desk_people.desk_lifter(world.cato, 1)
    letter = write_letter(trained, desk_people.sunday(1) + timedelta(days=1)).letter
    decide_letter(world.cato, trained, letter.pk, all_open(trained, letter.pk, "as usual"), 1)
    search = add_search(row, "block", people.MONDAY, {}, world.cato, now)
    end_search(search.pk, "failed", {"problems": ["The search was stopped."]})
    hold_sheets(world.cato, row, [Given("mine.csv", _SHEET)])
    erase_lifter(Lifter.objects.create(name="Gone", document=world.other.document))


def pages() -> dict[str, str]:
    """By who asked and address: status and body, of every address that can be read. The owner asks
    for all, everybody else for one in three, each for others."""
    from django.test import Client

    from blockwright.accounts.models import User
    from blockwright.store.models import Lifter

    found: dict[str, str] = {}
    logging.disable(logging.CRITICAL)  # refusals are asked for, hundreds of them
    for number, person in enumerate(User.objects.order_by("pk")):
        client = Client(raise_request_exception=False)
        client.force_login(person)
        every = [a for row in Lifter.objects.order_by("pk") for a in addresses(row)]
        some = every if person.role == User.OWNER else every[number % 3 :: 3]
        for address in dict.fromkeys(some):  # some name no lifter
            answer = client.get(address, HTTP_HOST="localhost")
            if answer.status_code != 405:
                body = b"".join(answer) if answer.streaming else answer.content  # type: ignore[arg-type]
                text = _TOKENS.sub("", body.decode("utf-8", "backslashreplace"))
                found[f"{person.sign_in_name} {address}"] = f"{answer.status_code} {text}"
    return found


def addresses(row: Any) -> list[str]:
    """Every address of the site's own table, filled with what is there of this lifter."""
    from blockwright.store.models import Batch, Share

    letter, block = row.proposals.first(), row.revisions.first()
    start = block.start if block else "2026-01-05"
    search = row.composings.first()
    batch = Batch.objects.filter(lifter=row, state=Batch.WAITING).first()
    values = {
        "key": row.key, "lifter": row.key, "letter": letter.pk if letter else 1,
        "search": search.pk if search else 1, "composing": search.pk if search else 1,
        "batch": batch.key if batch else row.key, "start": start, "block": start,
        "share": Share.objects.filter(lifter=row).earliest("pk").pk, "invitation": 1, "week": 1,
        "session": 1, "entry": 1, "revision": 1, "rest": "nowhere", "person": 1, "template": 1,
    }  # fmt: skip
    filled = [
        re.sub(r"<(?:\w+:)?(\w+)>", lambda name: str(values[name[1]]), route)
        for route in _routes() if route not in NEVER
    ]  # fmt: skip
    return [f"/{address}" + ("?load=80" if address == "api/rack" else "") for address in filled]


def _routes(resolver: Any = None, before: str = "") -> list[str]:
    from django.urls import URLPattern, get_resolver

    found = []
    for pattern in (resolver or get_resolver()).url_patterns:
        here = before + str(pattern.pattern)
        found += [here] if isinstance(pattern, URLPattern) else _routes(pattern, here)
    return found


def refused(data: Path, files: list[str]) -> dict[str, list[Any]]:
    """By archive that is none: the exit code of `restore`, what it says, accounts there after."""
    from blockwright.cli.main import exit_code
    from blockwright.store.folder import database_file

    found: dict[str, list[Any]] = {}
    for file in files:
        with redirect_stderr(StringIO()) as said:
            code, count = exit_code(["restore", file, "--data", str(data)]), 0
        if database_file(data).is_file():
            with closing(sqlite3.connect(database_file(data))) as opened:
                (count,) = opened.execute("SELECT count(*) FROM accounts_user").fetchone()
        found[file] = [code, said.getvalue(), count]
    return found


def made_again(archive: str, data: str, file: str) -> dict[str, str]:
    """What the site answers that came from an archive, which is archived again."""
    from blockwright.cli.main import exit_code

    with redirect_stdout(sys.stderr):
        assert exit_code(["restore", archive, "--data", data]) == 0
        assert exit_code(["archive", file, "--data", data]) == 0
    return pages()


def _erase() -> None:
    from blockwright.store.models import Lifter
    from blockwright.verbs.erase_lifter import erase_lifter

    erase_lifter(Lifter.objects.get(name="Mara Invented"))


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["refuse", folder, *files]:
            print(json.dumps(refused(Path(folder), files)))
        case [what, *words]:
            os.environ["DJANGO_SETTINGS_MODULE"] = "site_settings"
            if what == "again":
                print(json.dumps(made_again(*words)))
            else:
                open_store(Path(words[0]))
                (make if what == "make" else _erase)()
                if what == "make":
                    print(json.dumps(pages()))
