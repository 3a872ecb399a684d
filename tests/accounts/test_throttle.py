"""Guessing is limited by name, by address and at every form that takes a password."""

import threading
import time
from collections.abc import Iterator
from datetime import timedelta

import pytest
from axes.models import AccessAttempt
from django.conf import settings
from django.test import Client, RequestFactory, override_settings
from django.utils import timezone

import people
from blockwright.accounts import hashing, throttle
from blockwright.accounts.hashing import Crowded, turn
from blockwright.accounts.models import SIGN_IN_NAME_LETTERS

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def throttled() -> Iterator[None]:
    with override_settings(AXES_ENABLED=True):
        yield


def tried(name: str, address: str, password: str = "wrong") -> int:
    form = {"username": name, "password": password}
    return Client(REMOTE_ADDR=address).post("/sign-in/", form).status_code


def test_an_address_runs_out_of_guesses_whatever_names_it_tries(world: people.World) -> None:
    answers = [tried(f"nobody {n}", "203.0.113.5") for n in range(throttle.MOST_OF_AN_ADDRESS)]
    assert set(answers) == {200}
    assert tried("cato", "203.0.113.5", people.PASSWORD) == 429
    assert tried("cato", "203.0.113.6", people.PASSWORD) == 302, "others come in"


def test_a_name_runs_out_of_guesses_from_wherever_they_come(world: people.World) -> None:
    for n in range(throttle.MOST_OF_A_NAME // 4):
        for _ in range(4):
            assert tried("cato", f"203.0.113.{n}") == 200
    assert tried("Cato ", "203.0.113.200", people.PASSWORD) == 429
    assert tried("mara", "203.0.113.200", people.PASSWORD) == 302


def test_one_address_alone_cannot_lock_a_name_out_elsewhere(world: people.World) -> None:
    assert {tried("cato", "203.0.113.5") for _ in range(100)} == {200, 429}
    assert tried("cato", "203.0.113.6", people.PASSWORD) == 302


def test_an_ipv6_client_is_its_whole_network(world: people.World) -> None:
    answers = [tried("cato", f"2001:db8:0:1::{n:x}") for n in range(1, 71)]
    assert set(answers) == {200, 429}
    assert answers.count(200) < throttle.MOST_OF_AN_ADDRESS
    assert tried("cato", "2001:db8:0:2::1", people.PASSWORD) == 302, (
        "and locks nobody out elsewhere"
    )


def test_an_ipv4_client_counts_the_same_however_it_is_written(world: people.World) -> None:
    for _ in range(5):
        tried("cato", "::ffff:203.0.113.5")
    assert tried("cato", "203.0.113.5", people.PASSWORD) == 429
    assert tried("cato", "::ffff:203.0.113.6", people.PASSWORD) == 302


def test_the_password_page_counts_too(world: people.World) -> None:
    client = Client()
    client.post("/sign-in/", {"username": "cato", "password": people.PASSWORD})
    new = "quite another long word"
    form = {"old_password": "wrong", "new_password1": new, "new_password2": new}
    answers = [client.post("/password/", form).status_code for _ in range(7)]
    assert answers[:4] == [200] * 4
    assert set(answers[5:]) == {429}
    right = form | {"old_password": people.PASSWORD}
    assert client.post("/password/", right).status_code == 429


@pytest.mark.parametrize("password", ["elevenchars", "password1234", "123456789012"])
def test_short_and_common_passwords_are_refused(world: people.World, password: str) -> None:
    client = Client()
    client.force_login(world.cato)
    form = {"old_password": people.PASSWORD, "new_password1": password, "new_password2": password}
    assert client.post("/password/", form).status_code == 200
    world.cato.refresh_from_db()
    assert world.cato.check_password(people.PASSWORD)


def test_the_queue_of_password_checks_is_short(world: people.World) -> None:
    leave = threading.Event()

    def hold() -> None:
        with turn():
            leave.wait(10)

    first, second = threading.Thread(target=hold), threading.Thread(target=hold)
    first.start()
    second.start()
    ends = time.monotonic() + 10
    while hashing._places._value and time.monotonic() < ends:
        time.sleep(0.01)
    try:
        with pytest.raises(Crowded), turn():
            pass
        hasher = ["blockwright.accounts.hashing.BoundedArgon2Hasher"]
        with override_settings(PASSWORD_HASHERS=hasher):
            answer = Client().post("/sign-in/", {"username": "x", "password": "wrong"})
        assert answer.status_code == 503
        assert "Wait a few seconds" in answer.content.decode()
    finally:
        leave.set()
        first.join()
        second.join()


def test_failures_of_another_day_count_no_more(world: people.World) -> None:
    """Once the cool-off is over."""
    for n in range(throttle.MOST_OF_A_NAME):
        tried("cato", f"203.0.113.{n % 15}")
    over = timezone.now() - settings.AXES_COOLOFF_TIME
    AccessAttempt.objects.update(attempt_time=over + timedelta(minutes=5))
    assert tried("cato", "203.0.113.200", people.PASSWORD) == 429
    AccessAttempt.objects.update(attempt_time=over - timedelta(minutes=1))
    assert tried("cato", "203.0.113.201", people.PASSWORD) == 302


def test_a_clock_that_is_set_back_locks_nobody_out_for_longer(world: people.World) -> None:
    for _ in range(5):
        tried("cato", "203.0.113.5")
    AccessAttempt.objects.update(attempt_time=timezone.now() + timedelta(days=365))
    assert tried("cato", "203.0.113.5", people.PASSWORD) == 429, "a quarter of an hour from now"
    assert AccessAttempt.objects.get().attempt_time <= timezone.now()


def test_one_account_is_one_count_until_it_is_forgotten(world: people.World) -> None:
    posted = RequestFactory().post("/", {"username": " Mara "})
    assert throttle.counted_name(posted, None) == "mara"
    assert throttle.counted_name(posted, {"username": "CATO"}) == "cato"
    assert throttle.counted_name(posted, {"username": "x" * 300}) == "x" * 255
    assert throttle.counted_name(RequestFactory().post("/"), {}) == ""
    assert {tried("Mara", "203.0.113.7"), tried("cato", "203.0.113.7")} == {200}
    throttle.forget_names(["MARA"])
    assert [one.username for one in AccessAttempt.objects.all()] == ["cato"]
    AccessAttempt.objects.create(username="MARA", failures_since_start=1)
    throttle.forget_names(["MARA"])
    assert [one.username for one in AccessAttempt.objects.all()] == ["cato"], "as it was typed too"


def test_the_longest_name_signs_in_and_a_longer_one_is_nobodys(world: people.World) -> None:
    longest = "x" * SIGN_IN_NAME_LETTERS
    world.cato.sign_in_name = longest
    world.cato.save()
    assert tried(longest, "203.0.113.8", people.PASSWORD) == 302
    assert tried(longest + "x", "203.0.113.8", people.PASSWORD) == 200
