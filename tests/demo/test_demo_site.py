"""The demo as a newcomer has it: one command, one link, a gym on an ordinary day."""

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from http.cookiejar import CookieJar
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import HTTPCookieProcessor, build_opener, urlopen

import pytest
from django.test import Client

import people
from blockwright.demo.cast import CAST, COACH
from blockwright.demo.folder import Folder
from blockwright.demo.together import is_played, note_played, trains


@contextmanager
def started(root: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The demo's process and its link, today by the clock."""
    command = [sys.executable, "-m", "blockwright", "demo", "--dir", str(root), "--port", "0"]
    environment = {n: v for n, v in os.environ.items() if not n.startswith(("BLOCKW", "DJANGO"))}
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environment
    )
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        assert "http://127.0.0.1:" in line
        yield process, line.split()[-1]
        process.send_signal(signal.SIGINT)
        assert process.wait(timeout=30) == 0
        assert process.stdout.read() == ""
    finally:
        if process.poll() is None:
            process.kill()
            process.wait()
        if process.stdout is not None:
            process.stdout.close()


def is_missing(address: str) -> bool:
    with pytest.raises(HTTPError) as caught:
        urlopen(address, timeout=30)
    caught.value.close()
    return caught.value.code == 404


def first_page(link: str) -> str:
    opener = build_opener(HTTPCookieProcessor(CookieJar()))
    deadline = time.monotonic() + 30
    while True:
        try:
            with opener.open(link, timeout=30) as answer:
                return str(answer.read().decode())
        except ConnectionError:
            pass
        except OSError as error:
            if isinstance(error, HTTPError) or time.monotonic() > deadline:
                raise
        time.sleep(0.2)


def test_one_link_signs_in_to_a_gym_with_something_to_do(tmp_path: Path) -> None:
    root = tmp_path / "demo"
    only_files = [sys.executable, "-m", "blockwright", "demo", "--no-serve", "--dir", str(root)]
    subprocess.run(only_files, capture_output=True, check=True)
    logs = [Folder(root / person.key).sets.stat().st_mtime_ns for person in CAST]
    with started(root) as (_, link):
        page = first_page(link)
        assert is_missing(link[:-2] + "/")
    today = date.today()
    assert "Your next session" in page, "the coach trains too"
    assert trains(root, today), "somebody trains today"
    roster = page.partition("<h1>Roster</h1>")[2]
    assert roster.count("to decide") == 2
    assert "Liv Aune" in roster
    assert "Not screened" in roster
    # A lift that hurt more last week is told before the shoulder that hurts less this morning.
    assert re.search(r"shoulder( press)?: pain \d of 10", roster.lower())
    for person in CAST:
        lines = Folder(root / person.key).sets.read_text(encoding="utf-8").splitlines()[1:]
        assert max(line[:10] for line in lines) < today.isoformat(), person.key
    with started(root) as (_, again):
        assert again.rpartition("/demo/")[2] != link.rpartition("/demo/")[2]
        assert "Roster" in first_page(again)
        assert is_missing(again.rpartition("/demo/")[0] + "/demo/" + link.split("/demo/")[1])
    times = [Folder(root / person.key).sets.stat().st_mtime_ns for person in CAST]
    assert times == logs, "started again without playing anew"


def test_another_day_is_played_anew(tmp_path: Path) -> None:
    today = date(2026, 11, 29)
    assert not is_played(tmp_path, today, site=False)
    note_played(tmp_path, today, site=False)
    assert is_played(tmp_path, today, site=False)
    assert not is_played(tmp_path, today, site=True)
    note_played(tmp_path, today, site=True)
    assert is_played(tmp_path, today, site=True)
    assert is_played(tmp_path, today, site=False)
    assert not is_played(tmp_path, today + timedelta(days=1), site=False)


@pytest.mark.django_db
def test_only_a_site_of_the_demo_has_the_link(client: Client, settings: object) -> None:
    people.make_world()
    settings.DEMO_SIGN_IN = ""  # type: ignore[attr-defined]
    assert client.get("/demo/secret/").status_code == 404
    settings.DEMO_SIGN_IN = "orla secret"  # type: ignore[attr-defined]
    assert client.get("/demo/other/").status_code == 404
    assert "_auth_user_id" not in client.session
    assert client.get("/demo/secret/").headers["Location"] == "/"
    assert "_auth_user_id" in client.session
    assert COACH in CAST
