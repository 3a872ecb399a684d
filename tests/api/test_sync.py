"""The queue's door: what is stored once, what is parked and why, what never blocks what."""

import json
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import uuid4

import pytest
from django.db import DataError
from django.test import Client
from django.utils import timezone

import people
from blockwright.store.convert import checkins, sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import Fact, Share
from blockwright.verbs import take_log
from when import noon_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def phone(world: people.World) -> Client:
    client = Client()
    client.force_login(world.mara)
    return client


@pytest.fixture
def next_noon() -> Iterator[None]:
    """The day after the sets of `people`: a partner writes what is fresh."""
    with noon_of(people.MONDAY + timedelta(days=1)):
        yield


def send(client: Client, *events: object, **changes: Any) -> dict[str, Any]:
    answer = client.post(
        "/api/sync", people.message(*events, **changes), content_type="application/json"
    )
    assert answer.status_code == 200, answer.content
    return dict(answer.json())


def states(answer: dict[str, Any]) -> list[str]:
    return [one["state"] for one in answer["answers"]]


def test_a_session_is_stored_in_order_with_the_times_it_was_done(
    world: people.World, phone: Client
) -> None:
    events = [people.set_event(world.lifter, n, set=n) for n in range(1, 5)]
    answer = send(phone, *events)
    assert states(answer) == ["stored"] * 4
    assert [one["id"] for one in answer["answers"]] == [one["id"] for one in events]
    sets = sets_done(facts_of(world.lifter))
    assert [one.set_number for one in sets] == [1, 2, 3, 4]
    assert [one.moment.at for one in sets] == [datetime(2026, 1, 5, 18, n, 5) for n in range(1, 5)]


def test_sets_of_the_night_when_summer_time_ends_keep_their_order(
    world: people.World, phone: Client
) -> None:
    """2:50, then 2:03: the wall clock says nothing of that night."""
    with noon_of(date(2026, 10, 25)):
        client = people.client_of(world.mara)
        times = ("2026-10-25T02:50:00+02:00", "2026-10-25T02:03:00+01:00")
        events = [
            people.set_event(world.lifter, n, set=n, at=at, began=times[0], plan=None)
            for n, at in enumerate(times, 1)
        ]
        assert states(send(client, *events)) == ["stored"] * 2
    found = [(one.set_number, one.moment.at) for one in sets_done(facts_of(world.lifter))]
    assert found == [(1, None), (2, None)]


def test_nothing_is_stored_under_another_name(world: people.World, phone: Client) -> None:
    event = people.set_event(world.lifter, 1)
    told = people.message(event, person=str(world.cato.pk))
    answer = phone.post("/api/sync", told, content_type="application/json")
    assert answer.status_code == 401
    assert answer.json()["error"]["code"] == "other_person"
    assert not Fact.objects.exists()
    assert states(send(phone, event, person=str(world.mara.pk))) == ["stored"]


def test_sending_twice_is_harmless(world: people.World, phone: Client) -> None:
    events = [people.set_event(world.lifter, n) for n in range(3)]
    first, again = send(phone, *events), send(phone, *events)
    assert states(again) == ["already stored"] * 3
    assert [a["seq"] for a in again["answers"]] == [a["seq"] for a in first["answers"]]
    assert Fact.objects.count() == 3


def test_the_same_event_twice_in_one_message_is_stored_once(
    world: people.World, phone: Client
) -> None:
    event = people.set_event(world.lifter)
    assert states(send(phone, event, event)) == ["stored", "already stored"]
    assert Fact.objects.count() == 1


def test_an_id_with_other_content_is_parked(world: people.World, phone: Client) -> None:
    event = people.set_event(world.lifter)
    other = people.set_event(world.lifter, reps="12") | {"id": event["id"]}
    send(phone, event)
    (parked,) = send(phone, other)["answers"]
    assert parked["state"] == "parked"
    assert "already stored" in parked["says"]
    assert [one.reps for one in sets_done(facts_of(world.lifter))] == [(10,)]


BAD: list[tuple[str, dict[str, Any], str]] = [
    ("reps", {"reps": "ten"}, "reps"),
    ("no reps", {"reps": ""}, "reps"),
    ("load", {"load": "-5"}, "load"),
    ("too heavy", {"load": "9000"}, "more than anyone lifts"),
    ("rir", {"rir": "12"}, "above 10"),
    ("method", {"method": "giant"}, "method"),
    ("pain", {"pain": 11}, "pain"),
    ("pain type", {"pain": "much"}, "pain"),
    ("note", {"note": "x" * 1001}, "note"),
    ("nul", {"note": "a\x00b"}, "note"),
    ("no time", {"at": "18:30"}, "time"),
    ("no zone", {"at": "2026-01-05T18:30:00"}, "zone"),
    ("old clock", {"at": "1970-01-01T00:00:10+00:00"}, "1970"),
    ("device", {"device": "mine"}, "device"),
    ("n", {"n": -1}, "n:"),
    ("n type", {"n": True}, "n:"),
    ("amends", {"amends": "that"}, "amends"),
    ("withdrawn", {"withdrawn": "yes"}, "withdrawn"),
    ("plan", {"plan": {"week": "one"}}, "week"),
    ("plan key", {"plan": {"day": 1}}, "readable"),
    ("kind", {"kind": "dance"}, "version"),
    ("lifter", {"lifter": "mara"}, "lifter"),
    ("too long", {"plan": None, "extra": "x" * 9000}, "too long"),
]


@pytest.mark.parametrize(("changes", "says"), [b[1:] for b in BAD], ids=[b[0] for b in BAD])
def test_a_bad_event_is_parked_with_a_sentence_and_stops_no_other(
    world: people.World, phone: Client, changes: dict[str, Any], says: str
) -> None:
    bad = people.set_event(world.lifter, 2, **changes)
    good = people.set_event(world.lifter, 1), people.set_event(world.lifter, 3)
    answer = send(phone, good[0], bad, good[1])
    assert states(answer) == ["stored", "parked", "stored"]
    parked = answer["answers"][1]
    assert parked["id"] == bad["id"]
    assert says in parked["says"]
    assert parked["mend"]
    assert Fact.objects.count() == 2


@pytest.mark.parametrize("event", [None, 3, "set", [], {}, {"id": 5}, {"kind": "set"}])
def test_what_is_no_event_is_parked(world: people.World, phone: Client, event: object) -> None:
    assert states(send(phone, event, people.set_event(world.lifter))) == ["parked", "stored"]


def test_a_session_is_cut_to_no_more_than_a_day(world: people.World, phone: Client) -> None:
    events = (
        people.session_event(world.lifter, {"what": "short_of_time", "minutes": minutes}, n)
        for n, minutes in enumerate((1440, 1441, -1), 1)
    )
    assert states(send(phone, *events)) == ["stored", "parked", "parked"]


def test_an_event_of_the_future_is_parked(world: people.World, phone: Client) -> None:
    at = (timezone.now() + timedelta(days=3)).isoformat()
    (parked,) = send(phone, people.set_event(world.lifter, at=at))["answers"]
    assert parked["state"] == "parked"
    assert "clock" in parked["mend"]


def test_our_own_fault_parks_the_event_and_is_not_tried_for_ever(
    world: people.World, phone: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = take_log.read_event

    def broken(envelope: Any, *more: Any) -> Any:
        if envelope.event["n"] == 2:
            raise ZeroDivisionError
        return real(envelope, *more)

    monkeypatch.setattr(take_log, "read_event", broken)
    answer = send(phone, *(people.set_event(world.lifter, n) for n in (1, 2, 3)))
    assert states(answer) == ["stored", "parked", "stored"]
    assert "fault is ours" in answer["answers"][1]["says"]


def test_what_the_database_refuses_is_parked_alone(
    world: people.World, phone: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = take_log.fact_rows.append

    def refusing(new: Any, *more: Any) -> Any:
        if new.n == 2:
            raise DataError("too long for its column")
        return real(new, *more)

    monkeypatch.setattr(take_log.fact_rows, "append", refusing)
    answer = send(phone, *(people.set_event(world.lifter, n) for n in (1, 2, 3)))
    assert states(answer) == ["stored", "parked", "stored"]


def test_an_id_stored_meanwhile_for_another_lifter_parks_its_event_alone(
    world: people.World, phone: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    events = [people.set_event(world.lifter, n) for n in (1, 2, 3)]
    stranger = Client()
    stranger.force_login(world.stig)
    send(stranger, people.set_event(world.other) | {"id": events[1]["id"]})
    real = take_log.fact_rows.stored_already
    looks: Any = iter([{}])
    monkeypatch.setattr(take_log.fact_rows, "stored_already", lambda ids: next(looks, real(ids)))
    answer = send(phone, *events)
    assert states(answer) == ["stored", "parked", "stored"]
    assert "another entry" in answer["answers"][1]["says"]


def test_while_the_lifter_file_cannot_be_read_events_wait(
    world: people.World, phone: Client
) -> None:
    world.lifter.document = {"of a newer version": True}
    world.lifter.version += 1
    world.lifter.save()
    answer = send(phone, people.set_event(world.lifter))
    assert states(answer) == ["again"], answer["answers"]


def test_two_phones_on_one_session_converge(world: people.World, phone: Client) -> None:
    coach = Client()
    coach.force_login(world.cato)
    mine = [people.set_event(world.lifter, n, set=n) for n in (1, 3)]
    theirs = [
        people.set_event(world.lifter, n, set=n, device=str(people.OTHER_PHONE)) for n in (2, 4)
    ]
    key = str(world.lifter.key)
    send(phone, *mine)
    after_theirs = send(coach, *theirs, seen={key: 0})["facts"][key]
    after_mine = send(phone, seen={key: 0})["facts"][key]
    assert after_mine == after_theirs
    assert {fact["id"] for fact in after_mine["facts"]} == {e["id"] for e in (*mine, *theirs)}
    assert [one.set_number for one in sets_done(facts_of(world.lifter))] == [1, 2, 3, 4]


def test_facts_come_back_as_they_were_sent(world: people.World, phone: Client) -> None:
    event = people.set_event(world.lifter, reps="12+4", method="rest-pause", rir="0")
    key = str(world.lifter.key)
    (fact,) = send(phone, event, seen={key: 0})["facts"][key]["facts"]
    assert event.items() <= fact.items()
    assert fact["day"] == "2026-01-05"
    assert fact["by"] == "Mara"
    assert send(phone, seen={key: fact["seq"]})["facts"][key]["facts"] == []


def test_a_server_put_back_from_a_backup_says_so(world: people.World, phone: Client) -> None:
    key = str(world.lifter.key)
    assert send(phone, seen={key: 10**6})["facts"][key]["through"] == 0


def test_after_midnight_it_is_still_the_evening_it_began(
    world: people.World, phone: Client
) -> None:
    late = people.set_event(
        world.lifter, 2, set=2, at="2026-01-06T00:20:00+01:00", began="2026-01-05T22:50:00+01:00"
    )
    early = people.set_event(
        world.lifter, 1, at="2026-01-05T23:40:00+01:00", began="2026-01-05T22:50:00+01:00"
    )
    next_day = people.set_event(
        world.lifter, 3, set=3, at="2026-01-06T18:00:00+01:00", began="2026-01-05T22:50:00+01:00"
    )
    send(phone, late, early, next_day)
    sets = sets_done(facts_of(world.lifter))
    assert [(one.set_number, one.moment.day.day) for one in sets] == [(1, 5), (2, 5), (3, 6)]
    assert sets[1].moment.at == datetime(2026, 1, 6, 0, 20)


def test_before_its_session_began_it_is_of_its_own_day(world: people.World, phone: Client) -> None:
    began = "2026-01-06T00:10:00+01:00"
    before = people.set_event(world.lifter, 1, at="2026-01-05T23:50:00+01:00", began=began)
    at_once = people.set_event(world.lifter, 2, at=began, began=began)
    send(phone, before, at_once)
    assert [fact.day.day for fact in facts_of(world.lifter)] == [5, 6]


def test_a_session_begun_on_a_phone_that_goes_right_keeps_its_evening(
    world: people.World, phone: Client
) -> None:
    """Hers is four days behind; the session began on her partner's."""
    off = timedelta(days=4)
    began = datetime(2026, 1, 5, 22, 50, tzinfo=UTC)
    done = datetime(2026, 1, 6, 0, 20, tzinfo=UTC)
    event = people.set_event(
        world.lifter, at=(done - off).isoformat(), began=began.isoformat(), zone="UTC"
    )
    sent = take_log.Sent(sent_at=done - off, events=[event], seen={})
    take_log.take_log(world.mara, sent, done)
    assert Fact.objects.get().day == date(2026, 1, 5)


def test_a_clock_set_right_between_writing_and_sending_is_noticed(
    world: people.World, phone: Client
) -> None:
    old = people.set_event(world.lifter, at="2016-03-01T18:00:00+01:00", began=None)
    (parked,) = send(phone, old)["answers"]
    assert parked["state"] == "parked"
    assert "2016-03-01" in parked["says"]
    assert "clock" in parked["mend"]


def test_the_day_is_that_of_the_phones_zone(world: people.World, phone: Client) -> None:
    send(
        phone,
        people.set_event(
            world.lifter, at="2026-01-05T20:30:00Z", began=None, zone="Pacific/Auckland"
        ),
    )
    assert Fact.objects.get().day == date(2026, 1, 6)


def test_a_clock_that_is_off_is_said_and_taken_off(world: people.World, phone: Client) -> None:
    ahead = timedelta(hours=3)
    now = datetime(2026, 1, 5, 18, 30, tzinfo=UTC)
    sent = take_log.Sent(
        sent_at=now + ahead,
        events=[people.set_event(world.lifter, at=(now + ahead).isoformat())],
        seen={},
    )
    answer = take_log.take_log(world.mara, sent, now)
    assert "3 hours ahead" in answer["clock_says"]
    fact = Fact.objects.get()
    assert fact.at == now + ahead, "the phone's own time is kept"
    assert fact.received_at == now
    (one,) = sets_done([fact])
    assert one.moment.at == datetime(2026, 1, 5, 19, 30), "and set right for the engine"


@pytest.mark.parametrize("zone", ["Europe/Berlin", "Mars/Olympus"])
@pytest.mark.parametrize("off", [timedelta(days=-3600), timedelta(hours=40), timedelta(hours=6)])
def test_the_day_is_that_of_the_clock_set_right(
    world: people.World, zone: str, off: timedelta
) -> None:
    now = datetime(2026, 1, 5, 20, 30, tzinfo=UTC)
    at, began = now + off, now + off - timedelta(minutes=30)
    event = people.set_event(world.lifter, at=at.isoformat(), began=began.isoformat(), zone=zone)
    take_log.take_log(world.mara, take_log.Sent(sent_at=at, events=[event], seen={}), now)
    (fact,) = facts_of(world.lifter)
    assert fact.day == date(2026, 1, 5)
    (one,) = sets_done([fact])
    assert one.moment.at is not None
    assert one.moment.at.date() == fact.day


def test_checkins_and_turns_of_a_session_are_facts_too(world: people.World, phone: Client) -> None:
    swap = {"what": "swap_lift", "entry": 2, "lift": "dumbbell bench press", "why": "taken"}
    answer = send(
        phone,
        people.checkin_event(world.lifter, 1),
        people.checkin_event(
            world.lifter, 2, measure="bodyweight", about="", value="150", unit="lb"
        ),
        people.session_event(world.lifter, swap, 3),
        people.session_event(world.lifter, {"what": "swap_lift", "load": 3}, 4),
        people.session_event(world.lifter, {"what": "dance"}, 5),
        people.checkin_event(world.lifter, 6, value="11"),
    )
    assert states(answer) == ["stored"] * 3 + ["parked"] * 3
    sore, weight = checkins(facts_of(world.lifter))
    assert (sore.measure, sore.about, sore.value) == ("sore", "quads", 3.0)
    assert weight.value == pytest.approx(150 * 0.45359237, rel=1e-12)
    assert Fact.objects.get(kind="session").body == swap


def test_undo_takes_back_and_nothing_is_lost(world: people.World, phone: Client) -> None:
    event = people.set_event(world.lifter, 1)
    undo = people.set_event(world.lifter, 2, amends=event["id"], withdrawn=True)
    assert states(send(phone, event, undo)) == ["stored", "stored"]
    assert sets_done(facts_of(world.lifter)) == ()
    assert Fact.objects.count() == 2


@pytest.mark.usefixtures("next_noon")
def test_a_partner_sees_sets_but_not_how_she_slept(world: people.World, phone: Client) -> None:
    key = str(world.lifter.key)
    send(phone, people.set_event(world.lifter, 1), people.checkin_event(world.lifter, 2))
    partner = Client()
    partner.force_login(world.pim)
    minutes = {"measure": "session_minutes", "about": "", "value": "50"}
    own = people.checkin_event(world.lifter, 3, device=str(people.OTHER_PHONE), **minutes)
    seen = send(partner, own, seen={key: 0})["facts"][key]["facts"]
    assert [fact["kind"] for fact in seen] == ["set", "checkin"]
    assert seen[1]["id"] == own["id"]
    assert len(send(phone, seen={key: 0})["facts"][key]["facts"]) == 3


@pytest.mark.usefixtures("next_noon")
def test_a_partner_takes_back_nothing_of_the_body_that_another_wrote(
    world: people.World, phone: Client
) -> None:
    row = world.lifter
    noted = people.session_event(row, {"what": "note", "text": "chest pain and fainted"}, 1)
    stop = people.session_event(row, {"what": "hurts", "where": "stop sign"}, 2)
    painful, worded, plain, told_later, alone = (
        people.set_event(row, n, set=n, **more)
        for n, more in enumerate(({"pain": 6}, {"note": "heart racing"}, {}, {}, {}), start=3)
    )
    ill = people.checkin_event(row, 8, measure="pain", about="knee", value="8")
    word = people.set_event(row, 9, amends=told_later["id"], pain=7)
    hers = (noted, stop, painful, worded, plain, told_later, alone, ill, word)
    assert states(send(phone, *hers)) == ["stored"] * len(hers)
    partner = people.client_of(world.pim)
    his = {"device": str(people.OTHER_PHONE), "withdrawn": True}
    of_body = (noted, stop, painful, worded, told_later, word, ill)
    undone = [
        {**one, **his, "id": str(uuid4()), "n": n, "amends": one["id"]}
        for n, one in enumerate(of_body)
    ]
    for one in undone[2:4]:
        one["set"] = plain["set"]
    undone[5]["set"] = plain["set"]
    undone[0]["session"] = {"what": "note", "text": ""}
    other_kind = {"measure": "machines", "about": "leg press", "value": "1"}
    hidden = people.checkin_event(row, 20, amends=ill["id"], **other_kind)
    answer = send(partner, *undone, hidden)
    assert states(answer) == ["parked"] * 8
    assert all("ask the lifter or the coach" in one["mend"] for one in answer["answers"])
    mended = people.set_event(row, 21, set=5, reps="9", amends=plain["id"])
    gone = people.set_event(row, 22, set=7, amends=alone["id"], withdrawn=True)
    own = people.session_event(row, {"what": "note", "text": "slow bar"}, 23)
    undo = own | {"id": str(uuid4()), "n": 24, "amends": own["id"], "withdrawn": True}
    assert states(send(partner, mended, gone, own, undo)) == ["stored"] * 4
    # A word of hers on his correction is hers again.
    pain = people.set_event(row, 25, set=5, pain=5, amends=mended["id"])
    assert states(send(phone, pain)) == ["stored"]
    again = mended | {"id": str(uuid4()), "n": 26, "withdrawn": True}
    assert states(send(partner, again)) == ["parked"]
    for person in (world.mara, world.cato):
        back = undone[0] | {"id": str(uuid4()), "n": 30 + person.pk}
        assert states(send(people.client_of(person), back)) == ["stored"]


@pytest.mark.usefixtures("next_noon")
def test_a_partner_writes_no_answer_of_the_body(world: people.World) -> None:
    row = world.lifter
    said = [
        people.checkin_event(row, n, measure=measure, about=about, value=value, unit=unit)
        for n, (measure, about, value, unit) in enumerate((
            ("pain", "knee", "0", ""), ("sore", "quads", "0", ""), ("sleep", "", "7", ""),
            ("bodyweight", "", "160", "kg"), ("session_rpe", "", "3", ""),
        ))
    ]  # fmt: skip
    answer = {"what": "note", "text": "he says it is gone"}
    said += [people.session_event(row, answer, 10) | {"answers": "2026-01-05 sign-chest"}]
    hurts = {"what": "hurts", "entry": 2, "lift": "bench press", "region": "shoulder"}
    said += [people.session_event(row, hurts | {"where": "", "pain": 1}, 16)]
    partner = people.client_of(world.pim)
    stops = [people.set_event(row, 13, set=3, pain=6)]
    stops += [people.session_event(row, hurts | {"where": "", "pain": 6}, 17)]
    stops += [
        people.session_event(row, hurts | {"lift": "", "where": "stop sign", "pain": None}, 18)
    ]
    stops += [people.checkin_event(row, 14, measure="pain", about="knee", value="8")]
    assert states(send(partner, *stops)) == ["stored"] * 4, "a pain that stops is never too much"
    assert states(send(partner, *said)) == ["parked"] * len(said)
    assert states(send(people.client_of(world.mara), *said)) == ["stored"] * len(said)


@pytest.mark.usefixtures("next_noon")
def test_a_partners_set_is_stored_and_its_pain_where_it_ends_none(
    world: people.World, phone: Client
) -> None:
    row, partner = world.lifter, people.client_of(world.pim)
    quiet, first = (people.set_event(row, n, set=n, pain=pain) for n, pain in ((1, 1), (2, 4)))
    answer = send(partner, quiet, first)
    assert states(answer) == ["stored"] * 2
    left, kept = (one["says"] for one in answer["answers"])
    assert "without its pain" in left
    assert kept is None
    assert send(partner, quiet)["answers"][0]["says"] == left, "said again when it is sent again"
    higher = people.checkin_event(row, 3, measure="pain", about="knee", value="7")
    assert states(send(phone, higher)) == ["stored"]
    corrected = people.set_event(row, 4, set=2, pain=3, amends=first["id"])
    answer = send(partner, people.set_event(row, 5, set=5, pain=5), corrected)
    assert states(answer) == ["stored"] * 2
    assert [one.pain for one in sets_done(facts_of(row))] == [None, None, None], (
        "7 stands: a lower word would end it"
    )
    told = send(phone, seen={str(row.key): 0})["facts"][str(row.key)]["facts"]
    assert [one["set"]["pain"] for one in told if one["kind"] == "set"] == [None, 4, None, None]


def test_a_partner_writes_and_corrects_what_is_fresh(world: people.World, phone: Client) -> None:
    row, partner = world.lifter, people.client_of(world.pim)
    hers = people.set_event(row, 1)
    assert states(send(phone, hers)) == ["stored"]
    for days, state in ((14, "stored"), (15, "parked")):
        with noon_of(people.MONDAY + timedelta(days=days)):
            own, *undone = (
                people.set_event(row, 10 * days + n, amends=amends, withdrawn=amends is not None)
                for n, amends in enumerate((None, hers["id"]))
            )
            undone[0]["at"] = timezone.now().isoformat()
            assert states(send(partner, own, *undone)) == [state] * 2, days
            assert states(send(phone, people.set_event(row, 10 * days + 5))) == ["stored"]


def test_somebody_elses_lifter_is_parked(world: people.World, phone: Client) -> None:
    answer = send(
        phone,
        people.set_event(world.other),
        people.set_event(uuid4()),
        people.set_event(world.lifter),
        seen={str(world.other.key): 0},
    )
    assert states(answer) == ["parked", "parked", "stored"]
    assert answer["facts"][str(world.other.key)]["gone"] is True
    assert answer["facts"][str(world.other.key)]["facts"] == []


def test_a_correction_of_another_kind_is_parked_and_takes_nothing_away(
    world: people.World, phone: Client
) -> None:
    event = people.set_event(world.lifter, 1)
    wrong = people.checkin_event(world.lifter, 2, amends=event["id"])
    answer = send(phone, event, wrong)
    assert states(answer) == ["stored", "parked"]
    assert "another kind" in answer["answers"][1]["says"]
    assert len(sets_done(facts_of(world.lifter))) == 1


def test_a_correction_of_another_kind_that_came_first_stands_nowhere(
    world: people.World, phone: Client
) -> None:
    event = people.set_event(world.lifter, 1)
    wrong = people.checkin_event(world.lifter, 2, amends=event["id"])
    assert states(send(phone, wrong, event)) == ["stored", "stored"]
    assert len(sets_done(facts_of(world.lifter))) == 1
    assert checkins(facts_of(world.lifter)) == ()


def test_an_amendment_cannot_reach_another_lifters_fact(world: people.World, phone: Client) -> None:
    event = people.set_event(world.lifter, 1)
    send(phone, event)
    stranger = Client()
    stranger.force_login(world.stig)
    send(stranger, people.set_event(world.other, 1, amends=event["id"], withdrawn=True))
    assert len(sets_done(facts_of(world.lifter))) == 1
    odd = people.checkin_event(world.other, 2, amends=event["id"])
    assert states(send(stranger, odd)) == ["stored"], "nor tell of which kind it is"


def test_when_access_ends_the_queue_is_parked(world: people.World, phone: Client) -> None:
    Share.objects.filter(person=world.mara).delete()
    (parked,) = send(phone, people.set_event(world.lifter))["answers"]
    assert parked["state"] == "parked"
    assert "shared" in parked["says"]


# ------------------------------------------------------------------------------------ the envelope


def error_of(answer: Any) -> str:
    assert set(answer.json()) == {"error"}
    assert set(answer.json()["error"]) == {"code", "says", "mend"}
    return str(answer.json()["error"]["code"])


def test_signed_out_is_401_even_without_a_token() -> None:
    answer = Client(enforce_csrf_checks=True).post(
        "/api/sync", people.message(), content_type="application/json"
    )
    assert answer.status_code == 401
    assert error_of(answer) == "signed_out"


def test_an_unsafe_call_needs_the_pages_token(world: people.World) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(world.mara)
    body = people.message(people.set_event(world.lifter))
    refused = client.post("/api/sync", body, content_type="application/json")
    assert refused.status_code == 403
    assert error_of(refused) == "csrf"
    client.get("/api/phone")
    token = client.cookies["csrftoken"].value
    answer = client.post(
        "/api/sync", body, content_type="application/json", headers={"X-CSRFToken": token}
    )
    assert answer.status_code == 200
    assert Fact.objects.count() == 1


def test_too_much_at_once_is_413_and_stores_nothing(world: people.World, phone: Client) -> None:
    body = json.dumps(people.message("x" * 300_000))
    answer = phone.post("/api/sync", body, content_type="application/json")
    assert answer.status_code == 413
    assert error_of(answer) == "too_much"


@pytest.mark.parametrize(
    "body",
    [
        "",
        "[]",
        "{",
        json.dumps({"format": "blockwright/sync/1"}),
        json.dumps(people.message(format="blockwright/sync/9")),
        json.dumps(people.message(sent_at="2026-01-05T10:00:00")),
        json.dumps(people.message(seen={"mara": 1})),
        json.dumps(people.message(*[None] * 201)),
        "[" * 100_000,
        '{"format": "blockwright/sync/1", "sent_at": "2026-01-05T10:00:00Z", "events": [NaN]}',
    ],
)
def test_what_is_no_message_is_refused_whole(phone: Client, body: str) -> None:
    answer = phone.post("/api/sync", body, content_type="application/json")
    assert answer.status_code in (400, 422) or states(dict(answer.json())) == ["parked"]
    assert Fact.objects.count() == 0
