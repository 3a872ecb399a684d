"""Who is away for long is signed out: at a desk within half a day, on one's own phone in weeks."""

from datetime import timedelta
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.test import Client

import people
from blockwright.accounts import idle

pytestmark = pytest.mark.django_db

SECOND = timedelta(seconds=1)
HALF_A_DAY, THREE_WEEKS = timedelta(hours=12), timedelta(days=21)


@pytest.fixture(autouse=True)
def _sessions_in_rows(settings: Any) -> None:
    """As a site keeps them."""
    settings.SESSION_ENGINE = "django.contrib.sessions.backends.db"


class Clock:
    """What `idle` takes for the time."""

    def __init__(self) -> None:
        self.now = 1_700_000_000.0

    def time(self) -> float:
        return self.now

    def pass_by(self, away: timedelta) -> None:
        self.now += away.total_seconds()


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    made = Clock()
    monkeypatch.setattr(idle, "time", made)
    return made


def signed_in(world: people.World, name: str) -> Client:
    client = Client()
    client.force_login(getattr(world, name))
    assert is_in(client)
    return client


def is_in(client: Client) -> bool:
    return client.get("/api/phone").status_code == 200


@pytest.mark.parametrize(
    ("name", "most"),
    [("orla", HALF_A_DAY), ("cato", HALF_A_DAY), ("pim", THREE_WEEKS), ("mara", THREE_WEEKS)],
)
def test_one_may_be_away_so_long_to_the_second(
    world: people.World, clock: Clock, name: str, most: timedelta
) -> None:
    stays, leaves = signed_in(world, name), signed_in(world, name)
    clock.pass_by(most)
    assert is_in(stays)
    clock.pass_by(SECOND)
    assert not is_in(leaves)
    assert is_in(stays), "was here a second ago"


def test_who_comes_back_in_time_stays_for_ever(world: people.World, clock: Clock) -> None:
    coach = signed_in(world, "cato")
    for _ in range(5):
        clock.pass_by(HALF_A_DAY - SECOND)
        assert is_in(coach)
    clock.pass_by(HALF_A_DAY + SECOND)
    assert not is_in(coach)
    assert not is_in(coach), "and stays out"


def test_being_here_is_written_down_every_five_minutes_only(
    world: people.World, clock: Clock
) -> None:
    def seen() -> float:
        return float(Session.objects.get().get_decoded()["seen"])

    coach = signed_in(world, "cato")
    began = seen()
    clock.pass_by(timedelta(minutes=5))
    assert is_in(coach)
    assert seen() == began
    clock.pass_by(SECOND)
    assert is_in(coach)
    assert seen() == clock.now


def test_a_phone_page_left_open_keeps_nobody_in(world: people.World, clock: Clock) -> None:
    def synced(client: Client, *events: object) -> int:
        sent = {"format": "blockwright/sync/1", "sent_at": "2026-01-05T19:00:00+00:00"}
        message = sent | {"events": list(events)}
        return client.post("/api/sync", message, "application/json").status_code

    left, logs = signed_in(world, "cato"), signed_in(world, "cato")
    for hour in range(1, 14):
        clock.pass_by(timedelta(hours=1))
        assert synced(logs, {"id": "a set, well or badly written"}) == 200
        assert synced(left) == (200 if hour <= 12 else 401), hour
    assert not is_in(left)
    assert is_in(logs)


@pytest.mark.parametrize("path", ["/api/me", "/api/sync"])
def test_a_clock_that_is_set_back_keeps_nobody_in(
    world: people.World, clock: Clock, path: str
) -> None:
    coach = signed_in(world, "cato")
    clock.pass_by(-timedelta(days=365))
    coach.get(path)
    clock.pass_by(HALF_A_DAY + SECOND)
    assert not is_in(coach)


def test_nobody_signed_in_is_asked_nothing(clock: Clock) -> None:
    answer = Client().get("/sign-in/")
    assert answer.status_code == 200
    assert not Session.objects.exists()
