"""The OpenAPI document against the running server, by schemathesis: all its checks, all phases.

`python tests/api/contract.py [EXAMPLES]` runs it at length (`make contract`).
"""

import json
import os
import re
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))

from site_process import PASSWORD, Client, Site  # noqa: E402

SEED = 20270104
EVENTS = "events.ndjson"
SPARE = "Nobody In Particular"
BLOCK = HERE.parent / "goldens" / "block.json"


@dataclass(frozen=True)
class World:
    """A running site with a lifter, her block and log, and one more to be erased."""

    client: Client
    address: str
    ids: dict[str, Any]


@contextmanager
def running_world(folder: Path) -> Iterator[World]:
    block = _begun_last_week()
    with Site(folder / "data", environment={"BLOCKWRIGHT_SEARCH": "quick"}) as site:
        client = Client(site.address)
        assert site.owner_link is not None
        client.make_owner(site.owner_link)
        log = _log(block).encode()
        files = {"block.json": json.dumps(block).encode(), "log.csv": log}
        lifter = client.make_lifter(files)
        spare = client.make_lifter({"lifter.toml": f'name = "{SPARE}"\n'.encode()})
        one = f"/api/lifters/{lifter}"
        ids = {
            "lifter": lifter,
            "spare": spare,
            "start": block["start"],
            "letter": client.post_json(f"{one}/letters", {}).json()["id"],
            "share": _partner(client, Client(site.address), one),
            "bodies": _bodies(block),
            "queries": {
                "DELETE /api/lifters/{lifter}": {"name": SPARE},
                "GET /api/rack": {"load": "82.5", "partner": "60"},
            },
        }
        yield World(client, site.address, ids)


def _begun_last_week() -> dict[str, Any]:
    """The golden block as if it had begun on the Monday of last week."""
    text = BLOCK.read_text(encoding="utf-8")
    today = date.today()
    monday = today - timedelta(days=today.weekday() + 7)
    later = monday - date.fromisoformat(json.loads(text)["start"])
    moved = re.sub(
        r"\b\d{4}-\d\d-\d\d\b",
        lambda found: (date.fromisoformat(found.group()) + later).isoformat(),
        text,
    )
    return dict(json.loads(moved))


def _bodies(block: dict[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """Sound bodies by call, which are too rare among what is drawn."""
    session = block["weeks"][2]["sessions"][0]
    first, second = (entry["lift"] for entry in session["entries"][:2])
    place = {"week": 3, "session": 1, "lift": first}
    changes = [
        {"kind": "set_count", **place, "sets": 2},
        {"kind": "move_lift", **place, "to_session": 2},
        {"kind": "swap_lift", **place, "other": second},
        {"kind": "swap_lift", **place, "other": "leg press"},
        {"kind": "set_range", **place, "reps_low": 6, "reps_high": 9},
        {"kind": "set_reserve", **place, "rir": 2.5},
        {"kind": "set_load", **place, "load": 42.5},
        {"kind": "add_lift", **place, "lift": "hammer curl", "sets": 2},
        {"kind": "remove_lift", **place},
        {"kind": "several", "steps": [{"kind": "set_count", **place, "sets": 2}]},
        {"kind": "pin_lift", **place},
        {"kind": "unpin_lift", **place},
        {"kind": "short_of_time", "week": 3, "session": 1, "minutes": 40},
        {"kind": "missed", "week": 3, "session": 1},
        {"kind": "without", "week": 3, "session": 1, "lifts": [first]},
        {"kind": "sore", "week": 3, "session": 1, "muscles": ["quads"]},
        {"kind": "go_back", "revision": 1},
        {"kind": "take_rest", "composing": 1},
    ]
    wishes = [
        {"revision": revision, "change": change, "insist": True}
        for change in changes
        for revision in (1, 2, 3)
    ]
    coming = date.fromisoformat(block["start"]) + timedelta(days=7 * len(block["weeks"]))
    changing = "POST /api/lifters/{lifter}/blocks/{start}/changes"
    return {
        changing: wishes,
        f"{changing}/preview": wishes,
        "POST /api/lifters/{lifter}/blocks/{start}/rest": [
            {"revision": revision, "other_lifts": revision > 1} for revision in (1, 2, 3)
        ],
        "POST /api/lifters/{lifter}/composings": [
            {"start": coming.isoformat()},
            {"start": coming.isoformat(), "previous": block["start"]},
        ],
        "POST /api/lifters/{lifter}/letters/{letter}/decisions": [
            {"seen_revision": revision, "decisions": [], "accept_open": True} for revision in (1, 2)
        ],
        "PUT /api/lifters/{lifter}": [
            {"version": version, "document": block["lifter"]} for version in (1, 2)
        ],
    }


def _partner(coach: Client, partner: Client, one: str) -> int:
    """Somebody who trains with the lifter; the number of their access."""
    link = coach.post_json(f"{one}/invitations", {"role": "partner"}).json()["path"]
    form = {"name": "Pim", "sign_in_name": "pim", "password": PASSWORD, "zone": ""}
    partner.post_form(link, form)
    shares = coach.get(f"{one}/shares").json()
    return next(int(share["id"]) for share in shares if share["kind"] == "partner")


def _log(block: dict[str, Any]) -> str:
    """The block's first lift, once a week: four weeks before it and its first week."""
    lift = block["weeks"][0]["sessions"][0]["entries"][0]["lift"]
    start = date.fromisoformat(block["start"])
    rows = [
        f"{start - timedelta(days=7 * week)},{lift},{number},50,kg,{12 - week},2"
        for week in (4, 3, 2, 1, 0)
        for number in (1, 2, 3)
    ]
    return "\n".join(["when,lift,set,load,unit,reps,rir", *rows, ""])


def run(
    world: World,
    examples: int,
    folder: Path,
    *,
    signed_in: bool,
    phases: str = "examples,coverage,fuzzing,stateful",
    one_in: int = 1,
) -> subprocess.CompletedProcess[str]:
    """Schemathesis' own command on the world, with one in `one_in` of a change's many bodies; its
    process."""
    schema = folder / "openapi.json"
    schema.write_bytes(world.client.get("/api/openapi.json").body)
    command = [
        str(Path(sys.executable).with_name("schemathesis")), "run",
        str(schema), "--url", world.address, "--checks", "all", "--max-examples", str(examples),
        "--seed", str(SEED), "--workers", "1", "--no-color", "--continue-on-failure",
        "--phases", phases, "--report-ndjson-path", str(folder / EVENTS),
    ]  # fmt: skip
    if signed_in:
        config = folder / "signed_in.toml"
        config.write_text(_signed_in(world.client.cookies()), encoding="utf-8")
        command = [command[0], "--config-file", str(config), *command[1:]]
    environment = os.environ | {
        "SCHEMATHESIS_HOOKS": "contract_hooks",
        "CONTRACT_WORLD": json.dumps(world.ids),
        "CONTRACT_ONE_IN": str(one_in),
        "PYTHONPATH": str(HERE),
    }
    return subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, timeout=1800
    )


def statuses(folder: Path) -> dict[str, set[int]]:
    """By call of the OpenAPI document: every status it answered."""
    found: dict[str, set[int]] = defaultdict(set)
    for line in (folder / EVENTS).read_text(encoding="utf-8").splitlines():
        scenario = json.loads(line).get("ScenarioFinished")
        if scenario is None or "cases" not in scenario["recorder"]:
            continue
        for name, case in scenario["recorder"]["cases"].items():
            answer = scenario["recorder"]["interactions"].get(name, {}).get("response")
            if answer is not None:
                call = f"{case['value']['method']} {case['value']['path']}"
                found[call].add(int(answer["status_code"]))
    # A method that a path does not have is tried too.
    return {call: codes for call, codes in found.items() if codes != {405}}


def _signed_in(cookies: dict[str, str]) -> str:
    """How schemathesis carries the session, and the page's token beside it."""
    return (
        f'[auth.openapi.SignedIn]\napi_key = "{cookies["sessionid"]}"\n'
        f'[auth.openapi.PageToken]\napi_key = "{cookies["csrftoken"]}"\n'
        f'[auth.openapi.TokenCookie]\napi_key = "{cookies["csrftoken"]}"\n'
    )


def main() -> None:
    examples = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    worst = 0
    with TemporaryDirectory() as folder, running_world(Path(folder)) as world:
        for signed_in in (False, True):
            found = run(world, examples, Path(folder), signed_in=signed_in)
            sys.stdout.write(found.stdout + found.stderr)
            worst = max(worst, found.returncode)
    sys.exit(worst)


if __name__ == "__main__":
    main()
