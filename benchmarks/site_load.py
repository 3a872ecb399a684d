"""A gym on one evening: every lifter syncs sets at once and browses, on SQLite and on PostgreSQL.

The server is the one `blockwright serve` runs. Each lifter has two weeks of a block behind them, a
phone with a connection of its own, and asks without a pause: the phone's first page, the session's
sheet, four messages of three sets each (saying how far the phone has seen the log, as the phone
page does), between them the sheet's page and the block's page. In the same run the same phones ask
for a bare Django page (one view, no middleware, the same server, processes and threads). What a
request waits for is mostly the others: the reference says how much of it is Django's and the
server's own. In the end every set must stand in the database once, in order.

    python benchmarks/site_load.py [LIFTERS]        (200 by default)
"""

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4

ROOT = Path(__file__).resolve().parents[1]
LOAD = ROOT / "benchmarks" / "load"
sys.path.insert(0, str(ROOT / "tests"))

import throwaway_postgres  # noqa: E402
from site_process import Site  # noqa: E402 (the tests' own server)

LIFTERS = 200
SYNCS, SETS_A_SYNC = 4, 3
KINDS = ("phone_home", "phone_sheet", "sync", "sheet_page", "block_page")
BARE_REQUESTS = 8
"""As many a phone as it asks of the site."""


@dataclass(frozen=True)
class Measured:
    """What all phones together saw."""

    wall_s: float
    client_cpu_s: float
    ms: dict[str, list[float]]

    @property
    def count(self) -> int:
        return sum(map(len, self.ms.values()))

    @property
    def per_s(self) -> float:
        return self.count / self.wall_s

    def quantile_ms(self, kind: str, share: float) -> float:
        ordered = sorted(self.ms[kind])
        return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


# -------------------------------------------------------------------------------- what phones do


def site_requests(phone: dict[str, Any]) -> list[tuple[str, str, str, Any]]:
    """One lifter's evening."""
    one = f"/lifters/{phone['lifter']}"
    session = f"{phone['start']}/{phone['week']}/{phone['session']}"
    device = str(uuid4())
    syncs = [("sync", "POST", "/api/sync", _message(phone, device, k)) for k in range(SYNCS)]
    return [
        ("phone_home", "GET", "/api/phone", None),
        ("phone_sheet", "GET", f"/api{one}/sheets/{session}", None),
        syncs[0],
        ("block_page", "GET", f"{one}/block/{phone['start']}/", None),
        syncs[1],
        ("sheet_page", "GET", f"{one}/sheet/{session}/", None),
        *syncs[2:],
    ]


def _message(phone: dict[str, Any], device: str, number: int) -> dict[str, Any]:
    now = datetime.now(UTC)
    first = number * SETS_A_SYNC + 1
    events = [
        {
            "id": str(uuid4()), "kind": "set", "lifter": phone["lifter"], "device": device, "n": n,
            "at": (now + timedelta(seconds=n)).isoformat(), "zone": "UTC", "began": now.isoformat(),
            "amends": None, "withdrawn": False, "plan": None,
            "set": {
                "lift": phone["lift"], "set": n, "load": "50", "unit": "kg", "reps": "8",
                "rir": "2", "rest_s": 120, "method": "straight", "full_range": True, "pain": None,
                "note": "", "confirmed": False,
            },
        }
        for n in range(first, first + SETS_A_SYNC)
    ]  # fmt: skip
    return {
        "format": "blockwright/sync/1",
        "sent_at": now.isoformat(),
        "events": events,
    }


def _headers(phone: dict[str, Any]) -> dict[str, str]:
    return {
        "Cookie": f"sessionid={phone['sessionid']}; csrftoken={phone['csrftoken']}",
        "X-CSRFToken": phone["csrftoken"],
        "Content-Type": "application/json",
        "Accept-Encoding": "gzip",
    }


def driven(address: str, phones: Sequence[dict[str, Any]]) -> Measured:
    """All phones at once, from a process of their own. Anything but success ends the run."""
    place = urlsplit(address)
    plan = {"host": place.hostname, "port": place.port, "phones": phones}
    ran = subprocess.run(
        [sys.executable, str(LOAD / "phones.py")], input=json.dumps(plan), capture_output=True,
        text=True, check=True,
    )  # fmt: skip
    found = json.loads(ran.stdout)
    if found["failures"]:
        sys.exit(f"{len(found['failures'])} requests failed: {found['failures'][:3]}")
    ms: dict[str, list[float]] = {}
    for kind, took in found["ms"]:
        ms.setdefault(kind, []).append(took)
    return Measured(found["wall_s"], found["cpu_s"], ms)


# -------------------------------------------------------------------------------------- servers


@contextmanager
def bare_page() -> Iterator[str]:
    """Django with one view, served; its address."""
    serving = subprocess.Popen(
        [sys.executable, "hello.py"], cwd=LOAD, stdout=subprocess.PIPE, text=True,
        start_new_session=True,
    )  # fmt: skip
    assert serving.stdout is not None
    try:
        port = serving.stdout.readline().strip()
        yield f"http://127.0.0.1:{port}"
    finally:
        os.killpg(serving.pid, 9)
        serving.wait()
        serving.stdout.close()


def _gym(folder: Path, database: str | None, *arguments: str) -> Any:
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "blockwright.server.settings",
        "BLOCKWRIGHT_DATA": str(folder),
    }
    if database is not None:
        environment["BLOCKWRIGHT_DATABASE_URL"] = database
    command = [sys.executable, str(LOAD / "gym.py"), *arguments]
    ran = subprocess.run(command, env=environment, stdout=subprocess.PIPE, text=True, check=True)
    return json.loads(ran.stdout)


def measured_bare(lifters: int) -> Measured:
    with bare_page() as address:
        phone = {"headers": {}, "requests": [("bare", "GET", "/", None)] * BARE_REQUESTS}
        _until_answering(address)
        driven(address, [phone] * 4)
        return driven(address, [phone] * lifters)


def _until_answering(address: str) -> None:
    import urllib.error
    import urllib.request

    for _ in range(200):
        try:
            urllib.request.urlopen(address, timeout=5).close()
        except (urllib.error.URLError, OSError):
            time.sleep(0.05)
        else:
            return
    sys.exit("the bare page does not answer")


def measured_site(lifters: int, database: str | None) -> tuple[Measured, dict[str, int]]:
    """The load on a fresh site, and what stands in its database afterwards."""
    with TemporaryDirectory() as name:
        folder = Path(name) / "data"
        # One more, whose evening warms the server up.
        phones = _gym(folder, database, "fill", str(lifters + 1))
        ready = [{"headers": _headers(phone), "requests": site_requests(phone)} for phone in phones]
        with Site(folder, database=database, cold=True) as site:
            driven(site.address, ready[:1])
            found = driven(site.address, ready[1:])
        stored = _gym(folder, database, "check")
    wanted = (lifters + 1) * SYNCS * SETS_A_SYNC
    if stored != {"stored": wanted, "doubled": 0, "out_of_order": 0}:
        sys.exit(f"{wanted} sets were sent, and in the database stand {stored}")
    return found, stored


# ---------------------------------------------------------------------------------------- lines


def line(bench: str, value: float, unit: str, reference: float | None) -> None:
    ratio = None if not reference else round(value / reference, 3)
    rounded = None if reference is None else round(reference, 2)
    found = {"value": round(value, 2), "unit": unit, "reference": rounded, "ratio": ratio}
    print(json.dumps({"bench": bench, **found}), flush=True)


def _tell_site(name: str, found: Measured, bare: Measured, stored: int) -> None:
    line(f"site_load_{name}_all", found.per_s, "requests/s", bare.per_s)
    for kind in KINDS:
        count = len(found.ms[kind])
        line(f"site_load_{name}_{kind}", count / found.wall_s, "requests/s", bare.per_s)
        for word, share in (("p50", 0.5), ("p95", 0.95)):
            value, beside = found.quantile_ms(kind, share), bare.quantile_ms("bare", share)
            line(f"site_load_{name}_{kind}_{word}", value, "ms", beside)
    line(f"site_load_{name}_client_cpu", 1000 * found.client_cpu_s / found.count,
         "ms/request", 1000 * bare.client_cpu_s / bare.count)  # fmt: skip
    line(f"site_load_{name}_sets_stored_once", stored, "sets", stored)


def main() -> None:
    lifters = int(sys.argv[1]) if len(sys.argv) > 1 else LIFTERS
    bare = measured_bare(lifters)
    line("site_load_bare_django", bare.per_s, "requests/s", None)
    for word, share in (("p50", 0.5), ("p95", 0.95)):
        line(f"site_load_bare_django_{word}", bare.quantile_ms("bare", share), "ms", None)
    found, stored = measured_site(lifters, None)
    _tell_site("sqlite", found, bare, stored["stored"])
    if throwaway_postgres.binaries() is None:
        print("PostgreSQL is not installed: not measured", file=sys.stderr)
        return
    with throwaway_postgres.postgres() as url:
        found, stored = measured_site(lifters, url)
    _tell_site("postgres", found, bare, stored["stored"])


if __name__ == "__main__":
    main()
