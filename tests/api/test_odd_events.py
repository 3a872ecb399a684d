"""Whatever a phone sends is stored or parked with a sentence, and every page still answers."""

import json
from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings
from django.utils import timezone
from odd_events import odd_events

import people
from blockwright.files.limits import what_cannot_be_kept
from blockwright.store.facts import facts_of
from blockwright.store.models import Lifter

pytestmark = pytest.mark.django_db
AT_ONCE = 20
PAGES = (
    "/", "/account/", "/phones/", "/phone/", "/rack/?lifter={key}", "/lifts/?lifter={key}",
    "/lifters/{key}/", "/lifters/{key}/file/", "/lifters/{key}/erase/", "/lifters/{key}/compose/",
    "/lifters/{key}/block/", "/lifters/{key}/block/{start}/",
    "/lifters/{key}/block/{start}/session/1/1/", "/lifters/{key}/block/{start}/rest/",
    "/lifters/{key}/block/{start}/change/1/1/2/", "/lifters/{key}/block/{start}/revisions/",
    "/lifters/{key}/block/{start}/revisions/1/", "/lifters/{key}/strength/",
    "/lifters/{key}/sets/", "/lifters/{key}/sets/?block={start}", "/lifters/{key}/report/{start}/",
    "/lifters/{key}/report/{start}/pdf/", "/lifters/{key}/review/", "/lifters/{key}/ledger/",
    "/lifters/{key}/sheet/{start}/1/1/", "/lifters/{key}/export/",
)  # fmt: skip
CALLS = (
    "/api/me", "/api/phone", "/api/roster", "/api/lifters", "/api/lifters/{key}",
    "/api/lifters/{key}/facts", "/api/lifters/{key}/blocks", "/api/lifters/{key}/blocks/{start}",
    "/api/lifters/{key}/sheets/{start}/1/1", "/api/lifters/{key}/sheets/{start}/1/2",
    "/api/lifters/{key}/letters", "/api/lifters/{key}/ledger", "/api/lifters/{key}/estimate",
    "/api/lifters/{key}/backtest", "/api/lifters/{key}/blocks/{start}/report",
    "/api/lifters/{key}/blocks/{start}/sets", "/api/lifters/{key}/export",
    "/api/lifters/{key}/blocks/{start}/weeks/1/sessions/1/sheet",
)  # fmt: skip


def batches(lifter: Lifter) -> Iterator[list[tuple[str, Any]]]:
    """Odd events, a sound one before every fourth."""
    batch: list[tuple[str, Any]] = []
    for n, (told, event) in enumerate(odd_events(lifter), 1):
        sound = people.set_event(lifter, 10_000 + n, note=f"sound {n}")
        batch += [("sound", sound)] * (n % 4 == 1) + [(told, event)]
        if len(batch) >= AT_ONCE:
            yield batch
            batch = []
    yield batch


def every_address_answers(world: people.World, person: Any, addresses: Sequence[str]) -> None:
    client = people.client_of(person)
    told = {"key": world.lifter.key, "start": people.MONDAY.isoformat()}
    wrong = {}
    for address in addresses:
        answer = client.get(address.format(**told), follow=True)
        body = b"".join(answer.streaming_content) if answer.streaming else answer.content
        if answer.status_code != 200 or not body:
            wrong[address] = answer.status_code
    assert not wrong


def test_odd_events_stop_no_neighbour_and_no_page(world: people.World) -> None:
    phone, key = people.client_of(world.mara), str(world.lifter.key)
    count = {"stored": 0, "parked": 0}
    for batch in batches(world.lifter):
        body = json.dumps(people.message(*(event for _, event in batch)))
        answer = phone.post("/api/sync", body, content_type="application/json")
        assert answer.status_code == 200, (answer.content, [told for told, _ in batch])
        for (told, event), one in zip(batch, answer.json()["answers"], strict=True):
            assert one["state"] in (("stored",) if told == "sound" else count), (told, one)
            if told == "sound":
                continue
            count[one["state"]] += 1
            if one["state"] == "parked":
                assert one["says"], told
                assert one["mend"], told
                assert what_cannot_be_kept(one["says"] + one["mend"]) is None, told
            else:
                assert one["id"] == event["id"], told
    assert count["parked"] > 400, count
    assert count["stored"] > 100, count
    stored = facts_of(world.lifter)
    assert all(what_cannot_be_kept(fact.event) is None for fact in stored)
    seen = phone.post(
        "/api/sync", people.message(seen={key: 0}), content_type="application/json"
    ).json()["facts"][key]
    assert [UUID(fact["id"]) for fact in seen["facts"]] == [fact.id for fact in stored[:500]]
    if settings.DATABASES["default"]["ENGINE"].endswith("postgresql"):
        return  # what a page makes of what was read is asked once
    # Both read the lifter by the same code: who may is asked of every address in test_access.py.
    every_address_answers(world, world.cato, PAGES)
    every_address_answers(world, world.orla, CALLS)
    letter = people.client_of(world.cato).post(
        f"/api/lifters/{key}/letters", {"through": "2026-01-09"}, content_type="application/json"
    )
    assert letter.status_code in (200, 201), letter.content


@pytest.mark.parametrize("number", ["1e999", "-1e999", "9" * 5000])
def test_a_number_without_end_is_parked_alone_or_refused_whole(
    world: people.World, number: str
) -> None:
    sound, odd = people.set_event(world.lifter, 1), people.set_event(world.lifter, 2, rest_s=77)
    body = json.dumps(people.message(sound, odd)).replace('"rest_s": 77', f'"rest_s": {number}')
    answer = people.client_of(world.mara).post("/api/sync", body, content_type="application/json")
    if answer.status_code == 200:
        assert [one["state"] for one in answer.json()["answers"]] == ["stored", "parked"]
    else:
        # The phone's queue then sends one by one (tests/browser_js/outbox.test.mjs).
        assert answer.status_code == 400
        assert answer.json()["error"]["mend"]


@pytest.mark.parametrize("hours", [-100_000, -40, -3, 3, 40, 1000])
def test_a_wrong_clock_is_taken_off_whatever_it_says(world: people.World, hours: int) -> None:
    off, now = timedelta(hours=hours), timezone.now()
    event = people.set_event(world.lifter, at=(now + off).isoformat(), began=None, plan=None)
    answer = (
        people.client_of(world.mara)
        .post(
            "/api/sync",
            people.message(event, sent_at=(now + off).isoformat()),
            content_type="application/json",
        )
        .json()
    )
    assert [one["state"] for one in answer["answers"]] == ["stored"]
    assert "without that difference" in answer["clock_says"]
    (fact,) = facts_of(world.lifter)
    assert fact.day == now.astimezone(ZoneInfo(people.ZONE)).date()
