"""What the phone reads before it goes where there is no signal."""

import gzip
import json
from datetime import date, timedelta
from typing import Any

import brotli
import numpy as np
import pytest
from django.test import Client
from django.urls import get_resolver

import people
from blockwright.engine.case import CoachCase
from blockwright.engine.day_sheet.next_set import believing_the_day
from blockwright.engine.strength import unlogged
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.files.schemas import problems_against
from blockwright.store.models import BlockRevision
from blockwright.verbs import phone_home as home
from blockwright.verbs.phone_sheet import SessionName, prepare

pytestmark = pytest.mark.django_db


@pytest.fixture
def phone(world: people.World) -> Client:
    client = Client()
    client.force_login(world.mara)
    return client


def sheet_url(world: people.World, session: int = 1) -> str:
    return f"/api/lifters/{world.lifter.key}/sheets/2026-01-05/1/{session}"


def sheet(world: people.World, phone: Client, session: int = 1) -> dict[str, Any]:
    answer = phone.get(sheet_url(world, session))
    assert answer.status_code == 200, answer.content
    return dict(answer.json())


def test_the_first_page_lists_lifters_rights_and_sessions(
    world: people.World, monkeypatch: pytest.MonkeyPatch
) -> None:
    get_resolver().url_patterns  # noqa: B018 (pages that first load now would keep the lambda)
    monkeypatch.setattr(home, "today_of", lambda _person, _now: date(2026, 1, 7))
    for user, may in (
        (world.orla, ["see", "log", "read", "export", "change"]),
        (world.mara, ["see", "log", "read", "export"]),
        (world.pim, ["see", "log"]),
    ):
        client = Client()
        client.force_login(user)
        document = client.get("/api/phone").json()
        lifter = next(one for one in document["lifters"] if one["name"] == "Mara Invented")
        assert lifter["may"] == may
        assert [one["date"] for one in lifter["sessions"]] == [
            "2026-01-05", "2026-01-08", "2026-01-12",
        ]  # fmt: skip
        assert lifter["block"] == {"start": "2026-01-05", "revision": 1, "status": "ready"}


@pytest.mark.parametrize(
    ("today", "listed"),
    [
        (date(2025, 12, 28), "05 08"),
        (date(2025, 12, 29), "05 08 12"),
        (date(2026, 1, 12), "05 08 12"),
        (date(2026, 1, 13), "08 12"),
    ],
)
def test_sessions_are_listed_from_a_week_ago_to_two_weeks_ahead(
    world: people.World, phone: Client, monkeypatch: pytest.MonkeyPatch, today: date, listed: str
) -> None:
    get_resolver().url_patterns  # noqa: B018 (as above)
    monkeypatch.setattr(home, "today_of", lambda _person, _now: today)
    document = phone.get("/api/phone").json()
    lifter = next(one for one in document["lifters"] if one["name"] == "Mara Invented")
    assert " ".join(one["date"][-2:] for one in lifter["sessions"]) == listed


def test_the_sheet_is_the_command_lines_document(world: people.World, phone: Client) -> None:
    document = sheet(world, phone)
    assert problems_against("sheet", document["sheet"], "sheet") == []
    assert [entry["lift"] for entry in document["sheet"]["entries"]] == [
        "barbell back squat", "bench press", "pull-up",
    ]  # fmt: skip
    assert all(entry["next_set_advice"] == [] for entry in document["sheet"]["entries"]), (
        "the phone works its own out: what nobody reads is not sent"
    )


def test_the_sheet_comes_once(world: people.World, phone: Client) -> None:
    first = phone.get(sheet_url(world), headers={"Accept-Encoding": "gzip"})
    assert first["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(first.content))["format"] == "blockwright/phone-sheet/1"
    smaller = phone.get(sheet_url(world), headers={"Accept-Encoding": "gzip, deflate, br;q=0.9"})
    assert smaller["Content-Encoding"] == "br"
    assert brotli.decompress(smaller.content) == gzip.decompress(first.content)
    assert len(smaller.content) < 0.9 * len(first.content)
    again = phone.get(sheet_url(world), headers={"If-None-Match": first["ETag"]})
    assert again.status_code == 304
    assert again.content == b""


def test_logging_does_not_change_the_sheet_of_the_day(world: people.World, phone: Client) -> None:
    before = phone.get(sheet_url(world))["ETag"]
    phone.post(
        "/api/sync",
        people.message(people.set_event(world.lifter, 1)),
        content_type="application/json",
    )
    assert phone.get(sheet_url(world))["ETag"] == before
    assert phone.get(sheet_url(world, 2)).status_code == 200


def test_the_sheet_is_made_anew_when_what_it_is_made_from_changes(
    world: people.World, phone: Client
) -> None:
    thursday = [phone.get(sheet_url(world, 2))["ETag"]]
    phone.post(
        "/api/sync",
        people.message(people.set_event(world.lifter, 1)),
        content_type="application/json",
    )
    thursday.append(phone.get(sheet_url(world, 2))["ETag"])
    world.lifter.document |= {"units": "lb"}
    world.lifter.version += 1
    world.lifter.save()
    thursday.append(phone.get(sheet_url(world, 2))["ETag"])
    assert sheet(world, phone, 2)["lifter"]["units"] == "lb"
    revision = BlockRevision.objects.get(lifter=world.lifter)
    BlockRevision(
        lifter=world.lifter, start=revision.start, revision=2, ends=revision.ends, status="ready",
        document=revision.document, made_by=None,
    ).save()  # fmt: skip
    thursday.append(phone.get(sheet_url(world, 2))["ETag"])
    assert len(set(thursday)) == 4


def test_swaps_are_possible_and_work_the_same_muscles(world: people.World, phone: Client) -> None:
    document = sheet(world, phone)
    kit = people.mara().gym.kit
    catalogue = prepare(world.lifter, SessionName(people.MONDAY, 1, 1)).case.catalogue
    here = {entry["lift"] for entry in document["sheet"]["entries"]}
    for entry in document["sheet"]["entries"]:
        swaps = document["swaps"][str(entry["order"])]
        assert 1 <= len(swaps) <= 4
        for swap in swaps:
            lift = catalogue.lifts[swap["lift"]]
            assert set(lift.kit) <= kit
            assert set(lift.direct) & set(catalogue.lifts[entry["lift"]].direct)
            assert lift.name not in here
            assert lift.pattern != "upright row"
            assert swap["order"] == entry["order"]
            assert swap["lift"] in document["advice"]["lifts"]
            told = document["others"][lift.load_kind]
            assert lift.name in told
            assert not here & set(told)


def test_advice_starts_from_the_engines_own_numbers(world: people.World, phone: Client) -> None:
    document = sheet(world, phone)
    inputs = document["advice"]["lifts"]["bench press"]
    prepared = prepare(world.lifter, SessionName(people.MONDAY, 1, 1))
    belief = unlogged(
        prepared.case.catalogue.lifts["bench press"], people.MONDAY, prepared.case.policy
    )
    state = believing_the_day(belief, prepared.case.policy).state_on(people.MONDAY)
    assert np.allclose(inputs["belief"]["mean"], state.mean[..., 0], rtol=1e-6)
    assert np.allclose(inputs["belief"]["cov"], state.whole_cov[..., 0], rtol=1e-6)
    loads = [one["load_kg"] for one in document["advice"]["racks"][inputs["rack"]]]
    assert 50.0 in loads
    assert loads == sorted(loads)
    assert inputs["rest_s"] == 150.0


def test_the_state_of_a_day_is_a_new_sessions_unless_the_last_set_was_on_it() -> None:
    none = unlogged(builtin_catalogue().lifts["bench press"], people.MONDAY, default_policy())
    assert none.state_on(people.MONDAY) is not none.state, "its first session begins"
    tired = none.after(60.0, 8, 1.0, on=people.MONDAY)
    assert tired.state_on(people.MONDAY) is tired.state, "the same session goes on"
    rested = tired.state_on(people.MONDAY + timedelta(days=1))
    assert float(tired.state.fast[0]) > 0.0
    assert float(rested.fast[0]) == 0.0
    assert rested.mean[0].sum() > tired.state.mean[0].sum()


def test_a_partner_is_not_asked_what_only_the_lifters_check_ins_answer(
    world: people.World, phone: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(CoachCase, "two_levels", {"bench press": None})
    partner = Client()
    partner.force_login(world.pim)
    for client, asks in ((phone, True), (partner, False)):
        lifts = sheet(world, client)["advice"]["lifts"]
        assert lifts["bench press"]["asks_machines"] is asks
        assert not any(one["asks_machines"] for name, one in lifts.items() if name != "bench press")


def test_beliefs_stop_the_evening_before(world: people.World, phone: Client) -> None:
    phone.post(
        "/api/sync",
        people.message(*(people.set_event(world.lifter, n, set=n) for n in (1, 2, 3))),
        content_type="application/json",
    )
    monday, thursday = (sheet(world, phone, session) for session in (1, 2))
    assert not monday["advice"]["lifts"]["bench press"]["belief"]["known"]
    assert thursday["advice"]["lifts"]["bench press"]["belief"]["sets_used"] == 3


@pytest.mark.parametrize("place", ["2026-01-12/1/1", "2026-01-05/9/1", "2026-01-05/1/9"])
def test_no_such_session_is_404(world: people.World, phone: Client, place: str) -> None:
    answer = phone.get(f"/api/lifters/{world.lifter.key}/sheets/{place}")
    assert answer.status_code == 404
    assert answer.json()["error"]["code"] == "not_found"


def test_a_lift_offered_in_place_of_another_keeps_its_cautions_reserve(
    world: people.World, phone: Client
) -> None:
    document = sheet(world, phone)
    catalogue = prepare(world.lifter, SessionName(people.MONDAY, 1, 1)).case.catalogue
    offered = [one for swaps in document["swaps"].values() for one in swaps]
    offered += [one for pain in document["pain"].values() for one in pain["entries"]]
    kept = [(one, catalogue.lifts[one["lift"]].rir_least) for one in offered]
    assert any(least for _, least in kept), "no lift with a reserve of its own is offered"
    for one, least in kept:
        assert min(row["rir"] for row in one["sets"]) >= least
