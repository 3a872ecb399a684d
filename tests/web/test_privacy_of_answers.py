"""What is said of somebody's health is kept nowhere on the way, and a desk left alone closes."""

import time

import pytest
from django.test import Client

import people
from blockwright.accounts.idle import IDLE

pytestmark = pytest.mark.django_db


def signed_in(person: object) -> Client:
    client = Client()
    client.force_login(person)
    return client


def test_health_is_kept_in_no_store(world: people.World) -> None:
    coach, one = signed_in(world.cato), f"/lifters/{world.lifter.key}/"
    start = people.MONDAY.isoformat()
    for path in ("/", one, f"{one}sheet/{start}/1/1/", f"{one}block/{start}/", f"{one}file/",
                 f"{one}strength/", f"/api{one}facts", f"/api{one}sheets/{start}/1/1",
                 "/api/phone", "/api/lifters", "/api/roster"):  # fmt: skip
        answer = coach.get(path)
        assert answer.status_code == 200, path
        assert "no-store" in answer["Cache-Control"], path


def left_alone(client: Client, seconds: float) -> None:
    session = client.session
    session["seen"] = time.time() - seconds
    session.save()


@pytest.mark.parametrize("who", ["orla", "cato", "pim", "mara"])
def test_who_was_away_too_long_signs_in_anew(world: people.World, who: str) -> None:
    person = getattr(world, who)
    limit_s, client = IDLE[person.role].total_seconds(), signed_in(person)
    assert client.get("/account/").status_code == 200
    left_alone(client, limit_s - 60)
    assert client.get("/account/").status_code == 200
    left_alone(client, limit_s + 60)
    assert client.get("/api/phone").status_code == 401, "the phone's queue waits"
    away = client.get("/account/")
    assert away.status_code == 302
    assert away["Location"].startswith("/sign-in/")


def test_who_comes_back_in_time_stays(world: people.World) -> None:
    client = signed_in(world.cato)
    client.get("/account/")
    for _ in range(5):
        left_alone(client, IDLE["coach"].total_seconds() / 2)
        assert client.get("/account/").status_code == 200
        assert time.time() - client.session["seen"] < 5


def test_the_list_of_calls_is_for_the_signed_in(world: people.World) -> None:
    assert Client().get("/api/openapi.json").status_code == 401
    assert signed_in(world.mara).get("/api/openapi.json").status_code == 200
