"""The desk's verbs by JSON: review and decide, change a block, compose one, read the strength."""

import json
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client

import desk_people
from blockwright.accounts.models import User
from blockwright.files.schemas import problems_against
from blockwright.store.models import BlockRevision, Composing, Lifter
from blockwright.verbs import search_block

pytestmark = pytest.mark.django_db
TODAY = date.today()
START = TODAY - timedelta(days=TODAY.weekday() + 7)
"""A block whose second week runs now."""


@pytest.fixture
def coach() -> User:
    return User.objects.create_user("cato", "a long word for tests", name="Cato", role="coach")


@pytest.fixture
def client(coach: User) -> Client:
    client = Client()
    client.force_login(coach)
    return client


@pytest.fixture
def lifter(coach: User) -> Lifter:
    return desk_people.desk_lifter(coach, 1, start=START)


@pytest.fixture
def one(lifter: Lifter) -> str:
    return f"/api/lifters/{lifter.key}"


def post(client: Client, path: str, body: object) -> Any:
    return client.post(path, json.dumps(body), content_type="application/json")


def error_code(answer: Any, status: int = 409) -> str:
    assert answer.status_code == status, answer.content
    return str(answer.json()["error"]["code"])


def test_a_letter_is_written_once_read_and_decided_on(client: Client, one: str) -> None:
    written = post(client, f"{one}/letters", {})
    assert written.status_code == 201, written.content
    letter = f"{one}/letters/{written.json()['id']}"
    again = post(client, f"{one}/letters", {})
    assert (again.status_code, again.json()) == (200, written.json())
    document = client.get(letter).json()
    assert problems_against("proposals", document, letter) == []
    first, second = (each["id"] for each in document["proposals"][:2])
    wish = {
        "seen_revision": 1,
        "decisions": [
            {"proposal": first, "verdict": "accepted"},
            {"proposal": second, "verdict": "declined", "words": "not this week"},
        ],
    }
    decided = post(client, f"{letter}/decisions", wish)
    assert decided.status_code == 201, decided.content
    assert decided.json() == {"block": START.isoformat(), "revision": 2, "new": True}
    same = post(client, f"{letter}/decisions", wish)
    assert (same.status_code, same.json()["new"]) == (200, False)
    kept = client.get(f"{letter}/decisions").json()
    assert [(each["proposal"], each["verdict"], each["by"]) for each in kept] == [
        (first, "accepted", "Cato"), (second, "declined", "Cato"),
    ]  # fmt: skip
    told = client.get(f"{one}/ledger?verdict=declined&text=not%20this").json()
    assert [line["proposal"] for line in told["lines"]] == [second]


def test_a_decision_on_what_somebody_changed_meanwhile_is_refused(client: Client, one: str) -> None:
    letter = f"{one}/letters/{post(client, f'{one}/letters', {}).json()['id']}"
    name = client.get(letter).json()["proposals"][0]["id"]
    wish = {"seen_revision": 7, "decisions": [{"proposal": name, "verdict": "accepted"}]}
    assert error_code(post(client, f"{letter}/decisions", wish)) == "changed_meanwhile"
    unknown = {"seen_revision": 1, "decisions": [{"proposal": "none", "verdict": "accepted"}]}
    assert error_code(post(client, f"{letter}/decisions", unknown)) == "not_possible"
    assert client.get(f"{letter}/decisions").json() == []


def test_a_change_is_shown_then_kept_and_a_stale_one_refused(
    client: Client, one: str, lifter: Lifter
) -> None:
    block = f"{one}/blocks/{START}"
    entry = client.get(block).json()["weeks"][2]["sessions"][0]["entries"][0]
    fewer = {
        "kind": "set_count", "week": 3, "session": 1, "lift": entry["lift"],
        "sets": len(entry["sets"]) - 1,
    }  # fmt: skip
    wish = {"revision": 1, "change": fewer, "words": "a long week", "insist": True}
    shown = post(client, f"{block}/changes/preview", wish)
    assert shown.status_code == 200, shown.content
    assert shown.json()["changes"]
    assert BlockRevision.objects.filter(lifter=lifter).count() == 1
    kept = post(client, f"{block}/changes", wish)
    assert kept.status_code == 201, kept.content
    assert kept.json()["revision"] == 2
    now = client.get(block).json()["weeks"][2]["sessions"][0]["entries"][0]
    assert len(now["sets"]) == len(entry["sets"]) - 1
    stale = post(client, f"{block}/changes", wish)
    assert error_code(stale) == "changed_meanwhile"
    assert entry["lift"] in stale.json()["error"]["says"], "what changed meanwhile is said"


def test_several_changes_are_one_revision_with_a_decision_each(
    client: Client, one: str, lifter: Lifter
) -> None:
    block = f"{one}/blocks/{START}"
    entry, *_, last = client.get(block).json()["weeks"][2]["sessions"][0]["entries"]
    place = {"week": 3, "session": 1, "lift": entry["lift"]}
    steps = [
        {"kind": "remove_lift", **place, "lift": last["lift"]},
        {"kind": "set_range", **place, "reps_low": 6, "reps_high": 9},
        {"kind": "set_load", **place, "load": 42.5, "only_this_week": True},
        {"kind": "add_lift", **place, "lift": "hammer curl", "sets": 2},
    ]
    wish = {"revision": 1, "change": {"kind": "several", "steps": steps}, "insist": True}
    kept = post(client, f"{block}/changes", wish)
    assert kept.status_code == 201, kept.content
    now = client.get(block).json()
    assert now["revision"] == 2
    kinds = [one["kind"] for one in now["decisions"]]
    assert kinds == ["coach_remove", "coach_range", "coach_load", "coach_add"]
    session = now["weeks"][2]["sessions"][0]["entries"]
    first = next(e for e in session if e["lift"] == entry["lift"])["sets"][0]
    assert (first["reps_low"], first["reps_high"], first["load_kg"]) == (6, 9, 42.5)
    assert any("hammer curl" in e["lift"] for e in session)
    wish["change"] = {"kind": "several", "steps": [{"kind": "go_back", "revision": 1}]}
    assert error_code(post(client, f"{block}/changes", wish), 422) == "bad_request"


def test_a_change_of_no_kind_is_no_request(client: Client, one: str) -> None:
    wish = {"revision": 1, "change": {"kind": "double_everything"}}
    assert error_code(post(client, f"{one}/blocks/{START}/changes", wish), 422) == "bad_request"
    lift = {"kind": "swap_lift", "week": 3, "session": 1, "lift": "no such lift", "other": "bench"}
    wish = {"revision": 1, "change": lift}
    assert error_code(post(client, f"{one}/blocks/{START}/changes", wish)) == "not_possible"


def test_composing_answers_with_an_address_to_ask(
    client: Client, one: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    coming = (START + timedelta(days=7 * 10)).isoformat()
    asked = post(client, f"{one}/composings", {"start": coming})
    assert asked.status_code == 202, asked.content
    assert post(client, f"{one}/composings", {"start": coming}).json()["id"] == asked.json()["id"]
    address = asked.json()["address"]
    assert client.get(address).json()["state"] == "waiting"
    assert client.delete(address).status_code == 204
    assert client.get(address).json()["state"] == "failed"
    tuesday = (START + timedelta(days=71)).isoformat()
    assert error_code(post(client, f"{one}/composings", {"start": tuesday})) == "not_possible"


@pytest.mark.parametrize(
    ("more", "may_come"), [({}, False), ({"other_lifts": True}, True), ({"other_lifts": 7}, None)]
)
def test_the_rest_is_searched_among_other_lifts_where_asked(
    client: Client,
    one: str,
    monkeypatch: pytest.MonkeyPatch,
    more: dict[str, object],
    may_come: bool | None,
) -> None:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    answer = post(client, f"{one}/blocks/{START}/rest", {"revision": 1} | more)
    if may_come is None:
        assert error_code(answer, 422) == "bad_request"
        return
    assert answer.status_code == 202, answer.content
    assert Composing.objects.get(pk=answer.json()["id"]).asked["other_lifts"] is may_come


def test_strength_and_report_are_the_command_lines_documents(
    client: Client, one: str, lifter: Lifter
) -> None:
    for name, path in (
        ("estimate", f"{one}/estimate"),
        ("backtest", f"{one}/backtest"),
        ("report", f"{one}/blocks/{START}/report"),
        ("rack", f"/api/rack?load=60&lifter={lifter.key}"),
        ("lifts", f"/api/lifts?lifter={lifter.key}"),
    ):
        answer = client.get(path)
        assert answer.status_code == 200, answer.content
        assert problems_against(name, answer.json(), path) == []
    assert client.get(f"{one}/blocks/{START}/sets").json()["format"] == "blockwright/sets/1"
    assert client.get(f"{one}/blocks/2001-01-01/report").status_code == 404


def test_the_roster_says_who_comes_first_and_why(client: Client, lifter: Lifter) -> None:
    found = client.get("/api/roster").json()
    (line,) = found["lines"]
    assert line["lifter"] == str(lifter.key)
    assert line["reasons"][0]["says"]
