"""Kills the real server in the middle of syncs, again and again: nothing lost, nothing doubled.

A phone's queue sends sets to `blockwright serve`; at a random moment of the exchange every process
of the server gets SIGKILL. The queue keeps what was not acknowledged, the server starts again on
the same folder, the queue sends again. At the end each event must stand in the database once, in
order, and everything the server ever acknowledged must be there. The database must be sound after
every kill.

    python benchmarks/sync_kill.py [KILLS]        (200 by default)
"""

import json
import random
import sqlite3
import sys
import threading
import time
from contextlib import closing
from dataclasses import dataclass, field
from http.client import HTTPException
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from uuid import uuid4

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from site_process import Client, Site  # noqa: E402 (the tests' own server and client)

KILLS = 200
SEED = 20270104
SETS_A_SYNC = 12
MOST_SYNCS_LONG = 1.3
"""Kills fall at any moment up to this many usual syncs after the request left: before, during and
after the commit, and after the answer."""
AIMED_FROM = 0.7


@dataclass
class Phone:
    """A queue: what waits, and what the server has acknowledged."""

    lifter: str
    device: str = field(default_factory=lambda: str(uuid4()))
    n: int = 0
    waiting: dict[str, dict[str, Any]] = field(default_factory=dict)
    stored: dict[str, int] = field(default_factory=dict)

    def log(self, count: int) -> None:
        for _ in range(count):
            self.n += 1
            event = _set_event(self.lifter, self.device, self.n)
            self.waiting[event["id"]] = event

    def sync(self, client: Client) -> None:
        """Sends everything that waits; forgets only what the answer names."""
        message = {
            "format": "blockwright/sync/1",
            "sent_at": time.strftime("%Y-%m-%dT%H:%M:%S+00:00", time.gmtime()),
            "events": list(self.waiting.values())[:200],
            "seen": {},
        }
        answer = client.post_json("/api/sync", message, timeout=10)
        if answer.status != 200:
            raise OSError(f"{answer.status}: {answer.body[:200]!r}")
        for one in answer.json()["answers"]:
            if one["state"] not in ("stored", "already stored"):
                raise AssertionError(one)
            self.stored[one["id"]] = one["seq"]
            del self.waiting[one["id"]]


def _set_event(lifter: str, device: str, n: int) -> dict[str, Any]:
    minute, second = divmod(n, 60)
    return {
        "id": str(uuid4()), "kind": "set", "lifter": lifter, "device": device, "n": n,
        "at": f"2026-01-{5 + minute // 1440:02d}T{minute // 60 % 24:02d}:{minute % 60:02d}:"
        f"{second:02d}+00:00",
        "zone": "UTC", "began": None, "amends": None, "withdrawn": False, "plan": None,
        "set": {
            "lift": "bench press", "set": n % 200 + 1, "load": "50", "unit": "kg", "reps": "8",
            "rir": "2", "rest_s": 120, "method": "straight", "full_range": True, "pain": None,
            "note": "", "confirmed": False,
        },
    }  # fmt: skip


@dataclass
class Outcome:
    kills: int
    in_flight: int
    """Kills after which the request had no answer."""
    committed_unheard: int
    """Kills after which the server had stored sets without the phone hearing of it."""
    events: int
    lost: int
    doubled: int
    out_of_order: int
    seconds: float


def run(kills: int, folder: Path) -> Outcome:
    """Kills the server `kills` times while a phone syncs; counts what the database holds."""
    chance = random.Random(SEED)
    began = time.monotonic()
    site = Site(folder / "data").start()
    try:
        client = Client(site.address)
        assert site.owner_link is not None
        client.make_owner(site.owner_link)
        phone = Phone(client.make_lifter({"lifter.toml": b'name = "Mara Invented"\n'}))
        in_flight = unheard = 0
        usual_s = _usual_sync_s(phone, client)
        for number in range(kills):
            phone.log(1)
            phone.sync(client)  # a server that has just started is slow once
            phone.log(SETS_A_SYNC)
            # Every other kill is aimed at the end, where commit and answer are.
            earliest = AIMED_FROM if number % 2 else 0.0
            wait_s = chance.uniform(earliest, MOST_SYNCS_LONG) * usual_s
            in_flight += _sync_and_kill(phone, client, site, wait_s)
            unheard += _check_after_kill(folder / "data", phone) > 0
            site.start()
        while phone.waiting:
            phone.sync(client)
        lost, doubled, out_of_order = _counted(folder / "data", phone)
    finally:
        site.kill()
    return Outcome(
        kills=kills, in_flight=in_flight, committed_unheard=unheard, events=phone.n, lost=lost,
        doubled=doubled, out_of_order=out_of_order, seconds=time.monotonic() - began,
    )  # fmt: skip


def _usual_sync_s(phone: Phone, client: Client) -> float:
    """The middle of a few undisturbed syncs, seconds."""
    took = []
    for _ in range(7):
        phone.log(SETS_A_SYNC)
        began = time.monotonic()
        phone.sync(client)
        took.append(time.monotonic() - began)
    return sorted(took)[len(took) // 2]


def _sync_and_kill(phone: Phone, client: Client, site: Site, wait_s: float) -> int:
    """1 when the server died before its answer was heard, else 0."""
    killer = threading.Timer(wait_s, site.kill)
    killer.start()
    try:
        phone.sync(client)
    except (OSError, HTTPException, ValueError):  # no answer, half of one, or one that is none
        return 1
    else:
        return 0
    finally:
        killer.join()


def _rows(data: Path) -> list[tuple[str, int, int]]:
    """id, n and seq of every fact, read as a newcomer would: recovery included."""
    with closing(sqlite3.connect(data / "site.sqlite3", timeout=20)) as opened:
        assert opened.execute("PRAGMA quick_check").fetchall() == [("ok",)]
        return opened.execute("SELECT id, n, seq FROM store_fact ORDER BY seq").fetchall()


def _check_after_kill(data: Path, phone: Phone) -> int:
    """Everything acknowledged is there; how many are there that the phone still holds."""
    there = {key for key, _, _ in _rows(data)}
    missing = [key for key in phone.stored if key.replace("-", "") not in there]
    assert not missing, f"acknowledged and gone: {missing}"
    return sum(key.replace("-", "") in there for key in phone.waiting)


def _counted(data: Path, phone: Phone) -> tuple[int, int, int]:
    rows = _rows(data)
    numbers = [n for _, n, _ in rows]
    lost = phone.n - len(set(numbers))
    doubled = len(numbers) - len(set(numbers))
    return lost, doubled, sum(a > b for a, b in pairwise(numbers))


def main() -> None:
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else KILLS
    with TemporaryDirectory() as folder:
        found = run(kills, Path(folder))
    sets, kills = f"of {found.events} sets", f"of {found.kills} SIGKILLs"
    for name, value, unit, reference in (
        ("lost", found.lost, sets, 0),
        ("doubled", found.doubled, sets, 0),
        ("out_of_order", found.out_of_order, sets, 0),
        ("unanswered", found.in_flight, kills, None),
        ("stored_unheard", found.committed_unheard, kills, None),
        ("seconds", round(found.seconds), "s", None),
    ):
        line = {
            "bench": f"sync_kill_{name}",
            "value": value,
            "unit": unit,
            "reference": reference,
            "ratio": None,
        }
        print(json.dumps(line))
    if found.lost or found.doubled or found.out_of_order:
        sys.exit(1)


if __name__ == "__main__":
    main()
