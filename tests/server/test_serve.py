"""The real server, as a person starts it: first link, phone, sync, stop, and the CLI beside it."""

import json
import stat
import sys
import tomllib
import zipfile
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from io import BytesIO
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any
from uuid import UUID

import pytest

import people
import throwaway_postgres
import warm
from blockwright.files.json_text import dumps
from blockwright.files.lifter_file import toml_text
from blockwright.server import run
from site_process import Client, Site
from throwaway_postgres import postgres

pytestmark = pytest.mark.slow


def files() -> dict[str, bytes]:
    return {
        "lifter.toml": toml_text(people.MARA_TABLE).encode(),
        "block.json": dumps(people.block_document()).encode(),
    }


def command(*arguments: str) -> Any:
    with NamedTemporaryFile("r") as log:
        done = warm.started(*arguments, "--json", log=Path(log.name))
        code = done.code()
        said = done.stdout.read_text(encoding="utf-8")
        return code, json.loads(said) if said else log.read()


def test_from_the_first_start_to_a_restored_backup(tmp_path: Path) -> None:
    data, copy = tmp_path / "data", tmp_path / "copy.sqlite3"
    site = Site(data, cold=True).start()
    try:
        assert site.address.startswith("http://127.0.0.1:")
        assert site.owner_link is not None
        coach = Client(site.address)
        _everything_on_disk_is_private(data)
        _static_files_come_for_ever(coach)
        coach.make_owner(site.owner_link)
        lifter = coach.make_lifter(files())
        shell = coach.get("/phone/")
        assert shell.status == 200
        event = people.set_event(UUID(lifter))
        sent = people.message(event, sent_at="2026-01-05T18:10:00+00:00")
        for state in ("stored", "already stored"):
            answer = coach.post_json("/api/sync", sent)
            assert [one["state"] for one in answer.json()["answers"]] == [state]
        assert Client(site.address).get("/api/phone").status == 401
        archive = zipfile.ZipFile(BytesIO(coach.get(f"/lifters/{lifter}/export/").body))
        assert tomllib.loads(archive.read("lifter.toml").decode())["name"] == "Mara Invented"
        code, backed_up = command("backup", str(copy), "--data", str(data))
        assert code == 0
        assert backed_up["rows"]["store_fact"] == 1
        code, says = command("restore", str(copy), "--data", str(data))
        assert code == 2
        assert "stop that server" in says
        assert command("serve", "--port", str(site.port), "--data", str(data))[0] == 2
        later = people.message(people.set_event(UUID(lifter), 2))
        coach.post_json("/api/sync", later | {"sent_at": "2026-01-05T18:20:00+00:00"})
    finally:
        site.stop()
    code, restored = command("restore", str(copy), "--data", str(data))
    assert code == 0
    assert restored["rows"]["store_fact"] == 1
    with site:
        assert site.owner_link is None
        coach.sign_in("orla")
        answer = coach.post_json("/api/sync", people.message(seen={lifter: 2})).json()
        assert answer["facts"][lifter]["through"] == 1, "the phone learns that it must send again"
    assert "Traceback" not in site.log.read_text()


def _everything_on_disk_is_private(data: Path) -> None:
    for file in data.iterdir():
        assert stat.S_IMODE(file.stat().st_mode) & 0o077 == 0, file.name


def _static_files_come_for_ever(client: Client) -> None:
    page = client.get("/sign-in/").body.decode()
    found = client.get(page.split('rel="stylesheet" href="')[1].split('"')[0])
    assert found.status == 200
    caching = {name.lower(): value for name, value in found.headers.items()}["cache-control"]
    assert "immutable" in caching


def test_https_with_its_own_certificate(tmp_path: Path) -> None:
    data = tmp_path / "data"
    # The client checks the certificate, so it must be there before the first question.
    from datetime import UTC, datetime

    from blockwright.server.certificate import certificate_for
    from blockwright.store.folder import made_folder

    certificate_for(made_folder(data), [], datetime.now(UTC))
    authority = data / "certificate" / "authority.crt"
    site = Site(data, "--https", certificate=authority)
    with site:
        assert site.address.startswith("https://127.0.0.1:")
        client = Client(site.address, authority)
        assert site.owner_link is not None
        client.make_owner(site.owner_link)
        assert client.get("/own-certificate.crt").body == authority.read_bytes()
        with pytest.raises(OSError, match="CERTIFICATE_VERIFY_FAILED"):
            Client(site.address).get("/sign-in/")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--host", "203.0.113.9"], "not an address of this machine"),
        (["--host", "nowhere.invalid"], "not an address of this machine"),
        (["--data", "{file}"], "data folder"),
    ],
)
def test_what_cannot_be_served_is_said(tmp_path: Path, arguments: list[str], says: str) -> None:
    file = tmp_path / "file"
    file.write_text("")
    given = [one.format(file=file) for one in arguments]
    if "--data" not in given:
        given += ["--data", str(tmp_path / "data")]
    code, said = command("serve", "--port", "0", *given)
    assert code == 2
    assert says in said


@pytest.mark.parametrize("database", ["sqlite", "postgres"])
def test_many_phones_at_once_store_each_set_once(tmp_path: Path, database: str) -> None:
    """Eight phones send overlapping queues, several times over, at the same moment."""
    if database == "postgres" and throwaway_postgres.binaries() is None:
        pytest.skip("no PostgreSQL here; tests/store/test_on_postgres.py says so loudly")
    with ExitStack() as stack:
        url = stack.enter_context(postgres()) if database == "postgres" else None
        site = stack.enter_context(Site(tmp_path / "data", database=url))
        assert site.owner_link is not None
        coach = Client(site.address)
        coach.make_owner(site.owner_link)
        lifter = coach.make_lifter(files())
        events = [people.set_event(UUID(lifter), n, set=n + 1) for n in range(40)]

        def phone(number: int) -> set[str]:
            client = Client(site.address)
            client.sign_in("orla")
            states: set[str] = set()
            for turn in range(4):
                mine = events[(number * 3 + turn * 5) % 20 :][:20]
                message = people.message(*mine, sent_at="2026-01-05T19:00:00+00:00")
                answer = client.post_json("/api/sync", message)
                assert answer.status == 200, answer.body
                states |= {one["state"] for one in answer.json()["answers"]}
            return states

        with ThreadPoolExecutor(8) as pool:
            states = set().union(*pool.map(phone, range(8)))
        coach.post_json("/api/sync", people.message(*events, sent_at="2026-01-05T19:00:00+00:00"))
        facts = coach.post_json("/api/sync", people.message(seen={lifter: 0})).json()
    assert states == {"stored", "already stored"}
    stored = facts["facts"][lifter]["facts"]
    assert sorted(fact["id"] for fact in stored) == sorted(event["id"] for event in events)
    assert [fact["seq"] for fact in stored] == sorted({fact["seq"] for fact in stored})


def test_a_handful_of_kills_lose_nothing(tmp_path: Path) -> None:
    """A slice of benchmarks/sync_kill.py, which kills 200 times."""
    sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "benchmarks"))
    try:
        from sync_kill import run
    finally:
        sys.path.pop(0)
    found = run(4, tmp_path)
    assert (found.lost, found.doubled, found.out_of_order) == (0, 0, 0)
    assert found.events > 4 * 12


def test_the_addresses_are_told_when_everything_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """The link of a demo was printed seconds before anything listened behind it."""
    told: list[str] = []

    class Server:
        def __init__(self, *_: object, **__: object) -> None:
            self.hooks: list[Callable[[], None]] = []

        def on_startup(self, hook: Callable[[], None]) -> None:
            self.hooks.append(hook)

        def serve(self) -> None:
            assert told == []
            for hook in self.hooks:
                hook()

    monkeypatch.setattr("granian.Granian", Server)
    run._run("127.0.0.1", 0, None, lambda: told.append("listens"))
    assert told == ["listens"]
