"""The OpenAPI document against the running server, by schemathesis: all its checks, all phases.

`python tests/api/contract.py [EXAMPLES]` runs it at length (`make contract`).
"""

import json
import os
import re
import subprocess
import sys
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
            "spare_name": SPARE,
            "start": block["start"],
            "letter": client.post_json(f"{one}/letters", {}).json()["id"],
            "share": _partner(client, Client(site.address), one),
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
    world: World, examples: int, folder: Path, *, signed_in: bool
) -> subprocess.CompletedProcess[str]:
    """Schemathesis' own command on the world; its process."""
    command = [
        str(Path(sys.executable).with_name("schemathesis")), "run",
        f"{world.address}/api/openapi.json", "--checks", "all", "--max-examples", str(examples),
        "--seed", str(SEED), "--workers", "1", "--no-color", "--continue-on-failure",
    ]  # fmt: skip
    if signed_in:
        config = folder / "signed_in.toml"
        config.write_text(_signed_in(world.client.cookies()), encoding="utf-8")
        command = [command[0], "--config-file", str(config), *command[1:]]
    environment = os.environ | {
        "SCHEMATHESIS_HOOKS": "contract_hooks",
        "CONTRACT_WORLD": json.dumps(world.ids),
        "CONTRACT_TOKEN": world.client.cookies()["csrftoken"] if signed_in else "",
        "PYTHONPATH": str(HERE),
    }
    return subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, timeout=1800
    )


def _signed_in(cookies: dict[str, str]) -> str:
    """How schemathesis carries the session, and the page's token beside it."""
    return (
        f'[auth.openapi.SignedIn]\napi_key = "{cookies["sessionid"]}"\n'
        f'[auth.openapi.PageToken]\napi_key = "{cookies["csrftoken"]}"\n'
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
