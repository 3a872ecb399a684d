"""The desk's calls: what a person can do by JSON, and the one shape of every refusal."""

import json
import zipfile
from io import BytesIO
from typing import Any
from uuid import uuid4

import pytest
from django.http import HttpResponse
from django.test import Client

import people
from blockwright.accounts.models import Invitation
from blockwright.files.schemas import problems_against
from blockwright.store.models import Lifter, Share

pytestmark = pytest.mark.django_db


@pytest.fixture
def coach(world: people.World) -> Client:
    client = Client()
    client.force_login(world.cato)
    return client


def error_of(answer: HttpResponse) -> dict[str, str]:
    """The refusal's words, once it is sure that there is nothing else in it."""
    document = json.loads(answer.content)
    assert set(document) == {"error"}
    assert set(document["error"]) == {"code", "says", "mend"}
    assert document["error"]["says"]
    return dict(document["error"])


def send(client: Client, method: str, path: str, body: object) -> Any:
    return client.generic(method, path, json.dumps(body), "application/json")


# ---------------------------------------------------------------------------------- one error shape


def test_every_refusal_has_the_one_shape(world: people.World, coach: Client) -> None:
    big = json.dumps({"document": {"name": "x" * 300_000}})
    mara = f"/api/lifters/{world.lifter.key}"
    wrong = [
        (404, coach.get("/api/nowhere")),
        (404, coach.get("/api/")),
        (404, coach.get("/api/phone/")),
        (404, Client().get("/api/nowhere")),
        (404, coach.get(f"/api/lifters/{uuid4()}")),
        (401, Client().get("/api/me")),
        (405, coach.delete("/api/me")),
        (405, coach.get("/api/sync")),
        (400, coach.post("/api/lifters", "{", content_type="application/json")),
        (400, coach.post("/api/lifters", b"\xff\xfe\x00", content_type="application/json")),
        (400, coach.post("/api/lifters", '{"document": NaN}', content_type="application/json")),
        (415, coach.post("/api/lifters", {"name": "Ana"})),
        (415, coach.post("/api/lifters", "{}", content_type="text/plain")),
        (413, coach.post("/api/lifters", big, content_type="application/json")),
        (422, coach.post("/api/lifters", "[]", content_type="application/json")),
        (422, coach.post("/api/lifters", "", content_type="application/json")),
        (422, coach.get("/api/lifters/mara")),
        (422, coach.get(f"{mara}/blocks/20260105")),
        (422, coach.get(f"{mara}/facts?after=-1")),
        (422, coach.get("/api/lifts?muscle=heart")),
        (422, coach.get("/api/lifts?muscles=quads")),
        (409, coach.get("/api/rack?load=9999")),
    ]
    for status, answer in wrong:
        assert answer.status_code == status, answer.content
        assert answer["Content-Type"].startswith("application/json")
        error_of(answer)
    assert coach.delete("/api/me")["Allow"] == "GET"


def test_an_error_of_ours_is_said_in_the_one_shape(
    coach: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("blockwright.api.rack.policy_document", broken)
    coach.raise_request_exception = False
    answer = coach.get("/api/policy")
    assert answer.status_code == 500
    assert error_of(answer)["code"] == "our_fault"


def test_an_unknown_key_is_named(world: people.World, coach: Client) -> None:
    body = {"document": {"name": "Ana"}, "documents": {}}
    answer = send(coach, "POST", "/api/lifters", body)
    assert answer.status_code == 422
    assert error_of(answer)["says"] == "documents: there is no such key here"


def test_a_number_written_as_a_text_is_no_number(world: people.World, coach: Client) -> None:
    body = {"version": "1", "document": world.lifter.document}
    answer = send(coach, "PUT", f"/api/lifters/{world.lifter.key}", body)
    assert answer.status_code == 422
    assert error_of(answer)["says"].startswith("version: ")


# ------------------------------------------------------------------------------------------ lifters


def test_a_lifter_is_added_read_replaced_and_erased(coach: Client) -> None:
    added = send(coach, "POST", "/api/lifters", {"document": {"name": "Ana Invented"}})
    assert added.status_code == 201, added.content
    one = f"/api/lifters/{added.json()['id']}"
    document = added.json()["document"]
    assert document["weeks"] == 6, "the answer carries the normalised file"
    changed = send(coach, "PUT", one, {"version": 1, "document": document | {"weeks": 5}})
    assert changed.json()["version"] == 2
    assert coach.get(one).json()["document"]["weeks"] == 5
    assert coach.delete(f"{one}?name=Ana").status_code == 409
    assert coach.delete(f"{one}?name=Ana%20Invented").status_code == 204
    assert coach.get(one).status_code == 404


def test_a_stale_version_overwrites_nothing(world: people.World, coach: Client) -> None:
    one = f"/api/lifters/{world.lifter.key}"
    first = send(coach, "PUT", one, {"version": 1, "document": people.MARA_TABLE | {"weeks": 4}})
    assert first.status_code == 200, first.content
    stale = send(coach, "PUT", one, {"version": 1, "document": people.MARA_TABLE | {"weeks": 8}})
    assert stale.status_code == 409
    assert error_of(stale)["code"] == "changed_meanwhile"
    assert Lifter.objects.get(key=world.lifter.key).document["weeks"] == 4


def test_a_file_that_cannot_be_says_every_place(coach: Client) -> None:
    document = {"name": "Ana", "weeks": 99, "emphasis": {"quadz": "lead"}}
    answer = send(coach, "POST", "/api/lifters", {"document": document})
    assert answer.status_code == 409
    words = error_of(answer)
    assert words["code"] == "not_possible"
    assert "weeks" in words["says"]
    assert "quadz" in words["says"]
    assert "quads" in words["mend"]
    assert not Lifter.objects.filter(name="Ana").exists()


@pytest.mark.parametrize("name", ["a\x00b", "\ud800", "x" * 201, "two\nlines", "", 7, None, ["a"]])
def test_no_name_breaks_the_store(coach: Client, name: object) -> None:
    answer = send(coach, "POST", "/api/lifters", {"document": {"name": name}})
    assert answer.status_code == 409, answer.content
    error_of(answer)


# ---------------------------------------------------------------------------------- everything else


def test_documents_are_the_command_lines(world: people.World, coach: Client) -> None:
    block = f"/api/lifters/{world.lifter.key}/blocks/2026-01-05"
    for name, path in (
        ("block", block),
        ("block", f"{block}/revisions/1"),
        ("sheet", f"{block}/weeks/1/sessions/1/sheet"),
        ("lifts", "/api/lifts?muscle=quads&pattern=squat"),
        ("policy", "/api/policy?find=ramp"),
        ("rack", "/api/rack?load=82.5&partner=60"),
    ):
        answer = coach.get(path)
        assert answer.status_code == 200, answer.content
        assert problems_against(name, answer.json(), path) == []


def test_blocks_are_listed_by_revision(world: people.World, coach: Client) -> None:
    (listed,) = coach.get(f"/api/lifters/{world.lifter.key}/blocks").json()
    assert {key: listed[key] for key in ("start", "revision", "ends", "status", "made_by")} == {
        "start": "2026-01-05", "revision": 1, "ends": "2026-01-18", "status": "ready",
        "made_by": "Cato",
    }  # fmt: skip
    missing = coach.get(f"/api/lifters/{world.lifter.key}/blocks/2026-01-05/revisions/2")
    assert missing.status_code == 404


def test_facts_come_in_the_order_they_were_got(world: people.World, coach: Client) -> None:
    events = [people.set_event(world.lifter, n, set=n) for n in (1, 2, 3)]
    assert send(coach, "POST", "/api/sync", people.message(*events)).status_code == 200
    facts = f"/api/lifters/{world.lifter.key}/facts"
    first = coach.get(facts).json()
    assert [one["id"] for one in first["facts"]] == [one["id"] for one in events]
    after = first["facts"][0]["seq"]
    rest = coach.get(f"{facts}?after={after}").json()
    assert [one["id"] for one in rest["facts"]] == [one["id"] for one in events[1:]]
    assert coach.get(f"{facts}?after={first['through']}").json()["facts"] == []


def test_access_is_given_changed_and_ended(world: people.World, coach: Client) -> None:
    one = f"/api/lifters/{world.lifter.key}"
    invited = send(coach, "POST", f"{one}/invitations", {"role": "partner", "sees": "history"})
    assert invited.status_code == 201
    token = invited.json()["path"].strip("/").split("/")[-1]
    assert Invitation.objects.get(token_hash=Invitation.hashed(token)).sees == "history"
    shares = {share["name"]: share for share in coach.get(f"{one}/shares").json()}
    assert {name: share["sees"] for name, share in shares.items()} == {
        "Cato": None, "Mara": None, "Pim": "sheets",
    }  # fmt: skip
    pim = f"{one}/shares/{shares['Pim']['id']}"
    assert send(coach, "PATCH", pim, {"sees": "history"}).status_code == 204
    partner = Client()
    partner.force_login(world.pim)
    assert partner.get(f"{one}/blocks").status_code == 200
    assert coach.delete(pim).status_code == 204
    assert coach.delete(pim).status_code == 404
    assert partner.get(f"{one}/blocks").status_code == 404
    assert not Share.objects.filter(person=world.pim).exists()


def test_everything_is_taken_away_zipped(world: people.World, coach: Client) -> None:
    answer = coach.get(f"/api/lifters/{world.lifter.key}/export")
    assert answer["Content-Type"] == "application/zip"
    assert "lifter.toml" in zipfile.ZipFile(BytesIO(answer.content)).namelist()


def test_the_document_says_of_every_call_who_may_make_it(coach: Client) -> None:
    document = coach.get("/api/openapi.json").json()
    for path, calls in document["paths"].items():
        for method, call in calls.items():
            assert call["description"].startswith("Who: "), f"{method} {path}"
            assert call["summary"], f"{method} {path}"
            assert "401" in call["responses"], f"{method} {path}"
            token = {"PageToken": [], "TokenCookie": [], "SignedIn": []}
            assert call["security"] == ([{"SignedIn": []}] if method == "get" else [token])
