"""What was said in the gym reaches the coach: a stop sign above all."""

from datetime import date
from typing import Any

import pytest
from django.test import Client

import people
from blockwright.store.facts import facts_of
from blockwright.verbs.told import signs_told, told_lately
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db
TODAY = date(2026, 1, 9)


def tell(world: people.World, *events: dict[str, Any]) -> None:
    client = Client()
    client.force_login(world.mara)
    answer = client.post(
        "/api/sync", people.message(*events), content_type="application/json"
    ).json()
    assert {one["state"] for one in answer["answers"]} == {"stored"}


def event(world: people.World, n: int, **said: Any) -> dict[str, Any]:
    made = people.set_event(world.lifter, n)
    del made["set"]
    return made | {"kind": "session", "session": said}


STOPPED = {"what": "hurts", "entry": None, "lift": "", "where": "stop sign", "pain": None}


def test_a_stop_sign_holds_the_letter_and_heads_the_roster(world: people.World) -> None:
    sets = [people.set_event(world.lifter, n, set=n) for n in (1, 2, 3)]
    before = write_letter(world.lifter, TODAY).letter.document
    tell(world, *sets, event(world, 4, **STOPPED), event(world, 5, what="ended"))
    assert [one.sign for one in signs_told(facts_of(world.lifter))] == ["a stop sign"]
    letter = write_letter(world.lifter, TODAY).letter.document
    assert [one["kind"] for one in letter["proposals"]].count("refer") == 1
    assert not any(one["kind"] == "refer" for one in before["proposals"])
    assert "raise_load" not in [one["kind"] for one in letter["proposals"]]
    refer = next(one for one in letter["proposals"] if one["kind"] == "refer")
    assert "doctor" in refer["cautions"][0]["says"]


def test_a_stop_sign_taken_back_is_none(world: people.World) -> None:
    stopped = event(world, 4, **STOPPED)
    slip = event(world, 5, **STOPPED) | {"amends": stopped["id"], "withdrawn": True}
    tell(world, stopped, slip)
    assert signs_told(facts_of(world.lifter)) == ()


def test_a_note_with_a_warning_sign_counts_and_a_denied_one_does_not(world: people.World) -> None:
    tell(
        world,
        event(world, 1, what="note", text="felt dizzy after the last set"),
        event(world, 2, what="note", text="no chest pain this time"),
        event(world, 3, what="note", text="heart galloping"),
    )
    told = [(one.sign, one.sure) for one in signs_told(facts_of(world.lifter))]
    assert told == [("faintness", True), ("an irregular or racing heart", False)]


def test_the_coach_reads_what_was_said_and_a_partner_does_not(world: people.World) -> None:
    tell(
        world,
        event(world, 1, what="short_of_time", minutes=20, left_out="1 of 3 sets of bench press"),
        event(world, 2, what="machine_taken", entry=2),
        event(world, 3, what="swap_lift", entry=2, lift="dip", why="machine taken"),
        event(world, 4, what="hurts", entry=1, lift="bench press", where="shoulder", pain=4),
        event(world, 5, what="skip_lift", entry=3, why="pain 4"),
        event(world, 6, what="note", text="slept badly"),
        event(world, 7, what="began"),
        event(world, 8, what="hurts", entry=1, lift="bench press", where="", pain=None),
    )
    lines = told_lately(world.lifter, TODAY)
    assert [one.says for one in lines] == [
        "short of time, 20 minutes left; left out: 1 of 3 sets of bench press",
        "the machine of lift 2 was taken",
        "dip in place of lift 2: machine taken",
        "pain 4 of 10 in bench press, shoulder",
        "lift 3 was left out: pain 4",
        "\u201cslept badly\u201d",
        "pain ? of 10 in bench press",
    ]
    assert [one.is_caution for one in lines] == [False, False, False, True, False, False, True]
    for user, sees in ((world.cato, True), (world.pim, False)):
        client = Client()
        client.force_login(user)
        page = client.get(f"/lifters/{world.lifter.key}/").content.decode()
        # The page shows the last two weeks of today's calendar; these are older.
        assert ("Who has access" in page) == sees
        assert "slept badly" not in page
