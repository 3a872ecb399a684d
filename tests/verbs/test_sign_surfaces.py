"""A warning sign in a note is said wherever the note is used."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.test import Client

import people
from blockwright.engine.planning import QUICK
from blockwright.engine.training import Block
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import dumps
from blockwright.store.convert import sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import Fact, Share
from blockwright.verbs.block_words import block_text
from blockwright.verbs.check_files import check_files, check_text
from blockwright.verbs.compose_block import plan_block
from blockwright.verbs.print_sheet import print_sheet
from blockwright.verbs.roster import roster
from blockwright.verbs.write_letter import write_letter
from when import noon_of

TODAY = date(2026, 1, 9)
SETS = "when,lift,load,unit,reps,rir,note\n"


def test_check_names_the_row_the_day_and_the_question(tmp_path: Path) -> None:
    log, said = tmp_path / "log.csv", tmp_path / "checkins.csv"
    log.write_text(
        SETS
        + '2026-01-05,bench press,60,kg,8,2,"no sleep, an ache across the chest since lunch"\n'
        + "2026-01-05,bench press,60,kg,8,2,no chest pain\n"
        + "2026-01-07,bench press,60,kg,8,2,all went grey\n",
        encoding="utf-8",
    )
    said.write_text(
        "when,measure,about,value,unit,note\n2026-01-06,sleep,,4,,woke with a hot calf\n",
        encoding="utf-8",
    )
    document = check_files([log, said])
    found = [(w["row"], w["column"], w["says"]) for f in document["files"] for w in f["warnings"]]
    signs = [one for one in found if one[1] in ("note", "note or about")]
    assert [row for row, _, _ in signs] == [2, 4, 2]
    assert "2026-01-05: this may be chest pain" in signs[0][2]
    assert "2026-01-07: faintness was written down" in signs[1][2]
    assert "2026-01-06: calf pain" in signs[2][2]
    assert "chest pain, or sore chest muscles?" in check_text(document)


LIFTER = """
name = "Wim Invented"
bodyweight = 80
experience = "intermediate"
start = 2026-01-12
gym = {kit = ["barbell", "plates", "rack", "bench", "dumbbells"]}
slot = [{day = "mon", start = "18:00", minutes = 45}]
"""


def planned(folder: Path, note: str, more: str = "") -> Block:
    (folder / "lifter.toml").write_text(LIFTER + more, encoding="utf-8")
    rows = f"2026-01-05,bench press,60,kg,8,2,{note}\n"
    (folder / "log.csv").write_text(SETS + rows, encoding="utf-8")
    return plan_block(folder / "lifter.toml", folder / "log.csv", budget=QUICK).value


def test_a_block_and_its_first_sheet_say_it_without_the_log(tmp_path: Path) -> None:
    block = planned(tmp_path, "chest pain and dizzy")
    assert "not before a professional has cleared it" in block_text(block)
    assert [one.facts["sign"] for one in block.cautions[:2]] == ["chest pain", "faintness"]
    (tmp_path / "block.json").write_text(dumps(block_to_json(block)), encoding="utf-8")
    answer, _ = print_sheet(tmp_path / "block.json", week=1, session=1)
    first = answer.document["cautions"][0]
    assert "chest pain" in first["says"]
    assert "faintness" in first["says"]


def test_a_block_does_not_say_what_was_cleared(tmp_path: Path) -> None:
    cleared = '[signs]\ncleared = ["chest pain 2026-01-06"]\n'
    assert "chest pain" not in block_text(planned(tmp_path, "chest pain", cleared))


# --------------------------------------------------------------------------------- on the site


def tell(world: people.World, *events: dict[str, Any]) -> None:
    client = Client()
    client.force_login(world.mara)
    sent = client.post("/api/sync", people.message(*events), content_type="application/json")
    assert {one["state"] for one in sent.json()["answers"]} == {"stored"}


def sets_with(world: people.World, note: str) -> list[dict[str, Any]]:
    made = [people.set_event(world.lifter, n, set=n) for n in (1, 2, 3)]
    made[1]["set"]["note"] = note
    return made


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("note", "sign", "in_doubt"),
    [("all went grey after it", "faintness", False),
     ("ache across the chest", "chest pain", True)],
)  # fmt: skip
def test_the_letter_refers_each_day_and_asks_in_doubt(
    world: people.World, note: str, sign: str, in_doubt: bool
) -> None:
    sent = sets_with(world, note)
    tell(world, *sent)
    letter = write_letter(world.lifter, TODAY).letter.document
    (refer,) = [one for one in letter["proposals"] if one["kind"] == "refer"]
    day = refer["reasons"][0]["facts"]["date"]
    assert date.fromisoformat(day)
    assert day in refer["says"]
    assert day in refer["reasons"][0]["says"]
    assert refer["reasons"][0]["facts"]["sign"] == sign
    assert "raise_load" not in {one["kind"] for one in letter["proposals"]}
    asked = [one for one in letter["settle"] if one["id"].startswith("sign-")]
    assert bool(asked) is in_doubt
    assert all(day in one["asks"] and day in one["place"] for one in asked)
    cautions = {one["code"] for one in letter["cautions"]}
    assert ("warning_sign_in_doubt" in cautions) is in_doubt


@pytest.mark.django_db
def test_the_next_sheet_says_it_first_and_a_partner_is_not_told_what(world: people.World) -> None:
    tell(world, *sets_with(world, "all went grey after it"))
    for person, knows in ((world.mara, True), (world.pim, False)):
        client = Client()
        client.force_login(person)
        for address in sheets_after(world):
            answer = client.get(address)
            assert answer.status_code == 200, address
            assert ("was written down" in answer.content.decode()) is knows, address
        document = client.get(sheets_after(world)[0]).json()
        codes = [one["code"] for one in document["sheet"]["cautions"]]
        assert codes[0] == ("sheet_sign" if knows else "sheet_ask_first")


def sheets_after(world: people.World) -> list[str]:
    """The addresses of the session after the one that was logged: phone, API, page."""
    key, block = world.lifter.key, people.MONDAY
    return [
        f"/api/lifters/{key}/sheets/{block}/1/2",
        f"/api/lifters/{key}/blocks/{block}/weeks/1/sessions/2/sheet",
        f"/lifters/{key}/sheet/{block}/1/2/",
    ]


@pytest.mark.django_db
@pytest.mark.parametrize("note", ["all went grey after it", "ache across the chest"])
def test_it_stands_first_on_the_roster(world: people.World, note: str) -> None:
    Share.objects.create(person=world.cato, lifter=world.other, kind=Share.COACH)
    assert roster(world.cato, TODAY).lines[0].first.need != "sign"
    tell(world, *sets_with(world, note))
    line = roster(world.cato, TODAY).lines[0]
    assert line.lifter == world.lifter
    assert line.first.need == "sign"


@pytest.mark.django_db
def test_what_a_check_in_says_counts(world: people.World) -> None:
    about = people.checkin_event(world.lifter, 9)
    about["checkin"] = {"measure": "pain", "about": "numb left hand", "value": "4", "unit": ""}
    tell(world, *[people.set_event(world.lifter, n, set=n) for n in (1, 2, 3)], about)
    letter = write_letter(world.lifter, TODAY).letter.document
    signs = {
        one["reasons"][0]["facts"].get("sign")
        for one in letter["proposals"]
        if one["kind"] == "refer"
    }
    assert "numbness" in signs


LATER = "2026-01-05T19:30:00+01:00"


@pytest.mark.django_db
@pytest.mark.parametrize(
    "over",
    [
        {"set": {"load": "52.5"}},
        {"set": {"load": "52.5"}, "knew": 2**53},
        {"set": {"load": "52.5"}, "device": str(people.PHONE), "n": 2**50},
        {"set": {"load": "52.5", "note": "all good", "pain": None}},
        {"withdrawn": True},
    ],
    ids=["unaware", "forged knew", "the lifter's device", "with words of their own", "taken back"],
)
def test_no_word_of_a_partner_who_did_not_know_of_a_sign_silences_it(
    world: people.World, over: dict[str, Any]
) -> None:
    """The lifter's phone had no signal when it noted the sign; the partner's word came first, and
    says that it is the later one."""
    Share.objects.create(person=world.cato, lifter=world.other, kind=Share.COACH)
    first = people.set_event(world.lifter, 1)
    noted = people.set_event(world.lifter, 2, amends=first["id"], note="chest pain", pain=4)
    word = people.set_event(world.lifter, 3, amends=first["id"], at=LATER, device=str(UUID(int=7)))
    word |= over | {"set": word["set"] | over.get("set", {})}
    tell(world, first)
    with noon_of(people.MONDAY + timedelta(days=3)):
        people.client_of(world.pim).post(
            "/api/sync", people.message(word), content_type="application/json"
        )
    assert Fact.objects.filter(id=word["id"], by=world.pim).exists()
    tell(world, noted)
    assert {one.need for one in roster(world.cato, TODAY).lines[0].reasons} >= {"sign", "dispute"}
    (done,) = sets_done(facts_of(world.lifter))
    assert (done.pain, "chest pain" in done.note) == (4, True)
