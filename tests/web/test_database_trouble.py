"""A full disk or a damaged database is told in words, and the phone keeps what it sent."""

import time
from typing import Any

import pytest
from django.db import OperationalError, connection
from django.test import Client

import people
from blockwright.store.folder import database_trouble

pytestmark = pytest.mark.django_db


@pytest.mark.skipif(connection.vendor != "sqlite", reason="SQLite can be told to be full")
def test_a_full_disk_is_told_by_name() -> None:
    world = people.make_world()
    client = Client(raise_request_exception=False)
    client.force_login(world.cato)
    client.get("/account/")
    events = [people.set_event(world.lifter.key, n, set=n + 1) for n in range(60)]
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA page_count")
        pages = cursor.fetchone()[0]
        cursor.execute(f"PRAGMA max_page_count={pages}")
    try:
        call = client.post("/api/sync", people.message(*events), content_type="application/json")
        named = {"name": "n" * 100, "units": "kg", "zone": "UTC"}
        assert client.post("/account/", named).status_code in (302, 507)
    finally:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA max_page_count=1073741823")
    assert call.status_code == 507
    assert "disk is full" in call.json()["error"]["says"]
    assert "free space" in call.json()["error"]["mend"]


def _full(execute: Any, sql: str, *more: Any) -> Any:
    if not sql.startswith(("SELECT", "SAVEPOINT", "ROLLBACK", "RELEASE", "BEGIN")):
        raise OperationalError("database or disk is full")
    return execute(sql, *more)


def test_on_a_full_disk_the_roster_can_be_read(
    world: people.World, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By somebody who was last here an hour ago: neither that nor what was seen can be kept."""
    client = Client(raise_request_exception=False)
    client.force_login(world.cato)
    client.get("/account/")
    later = time.time() + 3600
    monkeypatch.setattr("time.time", lambda: later)
    with connection.execute_wrapper(_full):
        answer = client.get("/")
    assert answer.status_code == 200
    assert "Mara Invented" in answer.content.decode()


@pytest.mark.parametrize(
    ("theirs", "ours"),
    [
        ("database or disk is full", "the disk is full"),
        ("database disk image is malformed", "the database is damaged"),
        ("attempt to write a readonly database", "may not be written"),
        ("database is locked", "somebody else is writing"),
        ("canceling statement due to lock timeout", "somebody else is writing"),
        ("canceling statement due to statement timeout", "somebody else is writing"),
        ("could not extend file: No space left on device", "the disk is full"),
        ("couldn't get a connection after 5.00 sec", "PostgreSQL does not answer"),
        ("server closed the connection unexpectedly", "PostgreSQL does not answer"),
    ],
)
def test_troubles_have_their_words(theirs: str, ours: str) -> None:
    told = database_trouble(OperationalError(theirs))
    assert told is not None
    assert ours in told[0]


def test_other_errors_are_not_the_databases() -> None:
    assert database_trouble(ValueError("the glass is full")) is None
    assert database_trouble(OperationalError("no such table: t")) is None


@pytest.mark.parametrize(
    ("says", "status"),
    [("the connection is closed", 503), ("database disk image is malformed", 507)],
)
def test_who_asks_is_not_looked_up_to_say_so(
    world: people.World, monkeypatch: pytest.MonkeyPatch, says: str, status: int
) -> None:
    def gone(*_given: object, **_named: object) -> None:
        raise OperationalError(says)

    client = Client(raise_request_exception=False)
    client.force_login(world.cato)
    with monkeypatch.context() as patched:
        patched.setattr("django.db.backends.utils.CursorWrapper.execute", gone)
        page, call = client.get("/"), client.get("/api/phone")
    assert (page.status_code, call.status_code) == (status, status)
    assert "Nothing was changed." in page.content.decode()
    assert call.json()["error"]["mend"]
    assert client.get("/api/phone").status_code == 200, "still signed in"


def test_a_page_says_it_too(monkeypatch: pytest.MonkeyPatch) -> None:
    world = people.make_world()
    client = Client(raise_request_exception=False)
    client.force_login(world.cato)

    def full(*_given: object, **_named: object) -> None:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr("blockwright.web.pages.sign_in.save_account", full)
    answer = client.post("/account/", {"name": "Cato", "units": "kg", "zone": "UTC"})
    assert answer.status_code == 507
    assert "The disk is full. Nothing was changed." in answer.content.decode()
