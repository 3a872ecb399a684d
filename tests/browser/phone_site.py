"""A real site with invented people for the phone page: made, served, stopped, served again.

Used by the browser tests, `benchmarks/phone_page.py` and `tools/screenshots.py`. Run as a script
it fills a data folder: `python phone_site.py FOLDER`, and prints who and what is in it; without a
folder it answers what the folders hold that it is asked about.
"""

import json
import os
import signal
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

TESTS = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TESTS))

import warm  # noqa: E402

NEWER = TESTS / "browser" / "newer_site.py"
NAME, PASSWORD = "mara", "a long word for tests"
COACH, ALONE, SECOND = "cato", "ines", "cora"
SPARE = (
    "ada", "bo", "cleo", "dov", "eva", "finn", "gil", "hana", "ivo", "jule", "kira", "kim",
)  # fmt: skip
"""More lifters like Ines, each with a phone of their own, so that tests on one site leave each
other alone and no phone fetches sheets that nobody looks at."""
FEW = ("ines", "jon", "ada", "bo")
"""Whom a second coach has: a phone of hers need not fetch everybody's sheets."""
TWO_MACHINES = {"Kim Invented": {"leg extension": 60.0}}
"""Who does a lift on another machine every second week, and what that one reads."""


# ------------------------------------------------------------------------------ filling a folder


def opened(folder: Path) -> Any:
    """Migrates a data folder for the script that fills it; its coach."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "blockwright.server.settings"
    os.environ["BLOCKWRIGHT_DATA"] = str(folder)
    from blockwright.server.run import open_site
    from blockwright.store.folder import made_folder, secret_key

    secret_key(made_folder(folder))
    open_site()
    from blockwright.accounts.models import User

    return User.objects.create_user(COACH, PASSWORD, name="Cato", role="coach")


def filled_by(script: str, folder: Path, *words: object) -> dict[str, Any]:
    """Fills a data folder by a script in a process of its own; what that printed."""
    return dict(warm.started(script, folder, *words).document())


def say(found: dict[str, Any]) -> None:
    """Prints who is in a folder, and what a browser carries that has signed in as each."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    from blockwright.accounts.models import User

    cookies = {}
    for user in User.objects.all():
        session = SessionStore()
        session[SESSION_KEY] = str(user.pk)
        session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
        session[HASH_SESSION_KEY] = user.get_session_auth_hash()
        session.save()
        cookies[user.sign_in_name] = {"sessionid": session.session_key, "person": str(user.pk)}
    print(json.dumps(found | {"cookies": cookies}))


def fill(folder: Path) -> dict[str, Any]:
    """Migrates a data folder and writes two lifters with a session today into it."""
    coach = opened(folder)
    from blockwright.accounts.models import User

    mara = User.objects.create_user(NAME, PASSWORD, name="Mara", role="lifter")

    def account(name: str, role: str = "lifter") -> User:
        """To make a password's digest is dear: all have the same."""
        return User.objects.create(
            sign_in_name=name, name=name.capitalize(), role=role, password=mara.password
        )

    few = {coach: "coach", account(SECOND, "coach"): "coach"}
    lifters = {
        "ines": _lifter("Ines Invented", {**few, mara: "partner", account(ALONE): "self"}, 1.0),
        "jon": _lifter("Jon Invented", few, 1.2),
    }
    for name in SPARE:
        shares = {**(few if name in FEW else {coach: "coach"}), account(name): "self"}
        lifters[name] = _lifter(f"{name.capitalize()} Invented", shares, 1.0)
    return {"lifters": lifters, "today": date.today().isoformat()}


def _lifter(name: str, shares: dict[Any, str], heavier: float) -> dict[str, str]:
    import sheet_people as people
    from blockwright.files.block_json import block_to_json
    from blockwright.files.json_text import plain
    from blockwright.files.lifter_file import lifter_to_table
    from blockwright.store.models import BlockRevision, Lifter, Share

    today = date.today()
    value = people.lifter(name, start=today - timedelta(days=today.weekday()))
    row = Lifter.objects.create(name=name, document=dict(plain(lifter_to_table(value))))
    for user, kind in shares.items():
        Share.objects.create(person=user, lifter=row, kind=kind)
    block = people.block(value, weeks=1, start=value.start)
    sessions = [
        people.session(1, today, [_scaled(entry, heavier) for entry in people.LOWER_DAY]),
        people.session(2, today + timedelta(days=2), people.UPPER_DAY, "18:00", 60),
    ]
    block = replace(block, weeks=(replace(block.weeks[0], sessions=tuple(sessions)),))
    BlockRevision(
        lifter=row, start=value.start, revision=1, ends=value.start + timedelta(days=13),
        status="ready", document=dict(plain(block_to_json(block))), made_by=None,
    ).save()  # fmt: skip
    _log(row, today)
    return {"id": str(row.key), "key": f"{row.key}/{value.start}/1/1"}


def _scaled(entry: Any, heavier: float) -> Any:
    if heavier == 1.0:
        return entry
    sets = tuple(
        one
        if one.load_kg is None
        else replace(one, load_kg=2.5 * round(one.load_kg * heavier / 2.5))
        for one in entry.sets
    )
    return replace(entry, sets=sets)


def _log(row: Any, today: date) -> None:
    """Some weeks before the block, so that advice has something to go by."""
    import uuid

    import sheet_people as people
    from blockwright.store.convert import set_body
    from blockwright.store.facts import append_all
    from blockwright.store.models import Fact

    facts = []
    for entry in people.LOWER_DAY:
        load = entry.sets[0].load_kg
        if load is None:
            continue
        other = TWO_MACHINES.get(row.name, {}).get(entry.lift)
        reps = entry.sets[0].reps_high
        log = (
            people.logged(entry.lift, load, reps)
            if other is None
            else people.on_two_machines(entry.lift, load, other, reps)
        )
        for done in log:
            day = done.moment.day - people.MONDAY + today
            body = set_body(done)
            key = uuid.uuid4()
            facts.append(
                Fact(id=key, kind="set", day=day, at=None, body=body, digest=key.hex, n=len(facts))
            )
    append_all(facts, row, None, datetime.now().astimezone())


# ------------------------------------------------------------------------------- the real server


@dataclass
class Site:
    """The server of one data folder, as `blockwright serve` runs it."""

    folder: Path
    told: dict[str, Any]
    port: int = 0
    host: str = "127.0.0.1"
    process: warm.Started | None = field(default=None, repr=False)
    newer: Path | None = None
    """A folder with what another version gives the browser, to serve that."""
    owner_link: str = ""
    """Where the first account is made, as long as there is none."""
    cookies: dict[str, dict[str, str]] = field(default_factory=dict, repr=False)
    """By sign-in name, of who is in already: further browsers come in with them."""
    cold: bool = False
    """Whether it is started as a person starts it, not by the process that has read the program."""

    def __post_init__(self) -> None:
        self.cookies = dict(self.told.get("cookies", {}))

    @property
    def address(self) -> str:
        return f"http://{self.host}:{self.port}"

    def key(self, lifter: str = "ines") -> str:
        return str(self.told["lifters"][lifter]["key"])

    def start(self) -> None:
        """Starts the server, on the port it had before; returns when it answers."""
        words = ("serve", "--json", "--data", self.folder, "--port", self.port, "--host", self.host)
        script = () if self.newer is None else (NEWER, self.newer)
        begin = warm.started_cold if self.cold else warm.started
        self.process = begin(
            *script, *words, environment=os.environ | {"BLOCKWRIGHT_SEARCH": "quick"}
        )
        said = self.process.document()
        self.owner_link = said["owner_link"] or ""
        self.port = int(said["address"].rstrip("/").rsplit(":", 1)[1])
        for _ in range(200):
            try:
                urllib.request.urlopen(f"{self.address}/sign-in/", timeout=5).close()
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                time.sleep(0.05)
            else:
                return
        self.stop()
        raise RuntimeError("the server does not answer")

    def stop(self) -> None:
        """Kills the server and its worker, as a power cut would."""
        if self.process is not None:
            with suppress(ProcessLookupError):
                os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
            self.process = None

    def facts(self, lifter: str = "ines", kind: str = "set") -> list[dict[str, Any]]:
        """What phones have stored, in the order the engine reads it: event and day."""
        return list(_asked(self.folder, self.told["lifters"][lifter]["id"], kind))

    def end_sign_ins(self) -> None:
        """Every session on the server ends, as if it had run out."""
        self.cookies.clear()
        _asked(self.folder)


def filled(folder: Path) -> dict[str, Any]:
    return filled_by(__file__, folder)


@contextmanager
def made_site(folder: Path) -> Iterator[Site]:
    """A filled and running site; stopped in the end."""
    with running_site(Site(folder, filled(folder))) as site:
        yield site


@contextmanager
def running_site(site: Site) -> Iterator[Site]:
    site.start()
    try:
        yield site
    finally:
        site.stop()


# --------------------------------------------------------------- what a data folder holds by now


def _asked(folder: Path, *words: str) -> Any:
    """Whose facts, and of which kind, the folder holds; without words all sign-ins end."""
    return warm.started(__file__, folder, "asked", *words).document()


def _answer(folder: Path, *words: str) -> Any:
    os.environ["DJANGO_SETTINGS_MODULE"] = "blockwright.server.settings"
    os.environ["BLOCKWRIGHT_DATA"] = str(folder)
    import django

    django.setup()
    return _stored(*words) if words else _end_sign_ins()


def _stored(lifter: str, kind: str) -> list[dict[str, Any]]:
    from blockwright.store.models import Fact
    from blockwright.store.standing import in_done_order, standing

    facts = standing(list(Fact.objects.filter(lifter=lifter)))
    return [
        {"event": fact.event or Fact.objects.get(id=fact.id).event, "day": fact.day.isoformat()}
        for fact in in_done_order([one for one in facts if one.kind == kind])
        if fact.device is not None
    ]


def _end_sign_ins() -> None:
    from django.contrib.sessions.models import Session

    Session.objects.all().delete()


if __name__ == "__main__":
    match sys.argv[1:]:
        case [folder]:
            say(fill(Path(folder)))
        case [folder, _, *words]:
            print(json.dumps(_answer(Path(folder), *words)))
