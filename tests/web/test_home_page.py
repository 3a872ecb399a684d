"""The first page: the roster in order of need, and what somebody who trains sees."""

from datetime import UTC, datetime, time, timedelta
from html import unescape
from typing import Any
from unittest.mock import patch

import pytest
from django.test import Client
from django.utils import timezone
from pytest_django.fixtures import DjangoAssertNumQueries

import desk_people
import people
from blockwright.store.models import Lifter, RosterLook, Share
from blockwright.verbs.decide_letter import all_open, decide_letter
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.roster import roster
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db

SQUAT = "barbell back squat"
MONDAY = desk_people.sunday(1) + timedelta(days=1)


def page_of(person: Any, **asked: str) -> str:
    client = Client()
    client.force_login(person)
    answer = client.get("/", asked)
    assert answer.status_code == 200
    return " ".join(unescape(answer.content.decode()).split())


def renamed(row: Lifter, name: str) -> Lifter:
    row.name = name
    row.save(update_fields=["name"])
    return row


@pytest.fixture
def three(world: people.World) -> dict[str, Lifter]:
    """Beside Mara Invented, whose log is empty: one who hurts, one whose letter waits, one whose
    letter was decided on."""
    hurt = renamed(desk_people.desk_lifter(world.cato, 1, pain={SQUAT: 7}), "Hedda Invented")
    waits = renamed(desk_people.desk_lifter(world.cato, 1), "Walt Invented")
    fine = renamed(desk_people.desk_lifter(world.cato, 1), "Finn Invented")
    write_letter(waits, MONDAY)
    letter = write_letter(fine, MONDAY).letter
    decide_letter(world.cato, fine, letter.pk, all_open(fine, letter.pk), 1)
    return {"hurt": hurt, "waits": waits, "fine": fine}


def test_people_stand_in_the_order_of_who_needs_the_coach(
    world: people.World, three: dict[str, Lifter]
) -> None:
    found = roster(world.cato, MONDAY)
    assert [(line.lifter.name, line.first.need) for line in found.lines] == [
        ("Hedda Invented", "pain_stop"),
        ("Walt Invented", "letter"),
        ("Mara Invented", "missed"),
        ("Finn Invented", "nothing"),
    ]
    assert found.waiting == 3
    assert [one.starts for one, _ in found.today] == ["06:30", "06:30", "06:30", "18:30"]
    trained = roster(world.cato, MONDAY - timedelta(days=7)).today
    assert [line.lifter.name for _, line in trained] == ["Mara Invented"]
    assert "barbell back squat: pain 7 of 10" in found.lines[0].first.says
    assert "letter" in [reason.need for reason in found.lines[0].reasons[1:]]


def test_what_the_log_says_is_looked_at_once_and_again_when_it_changes(
    world: people.World, three: dict[str, Lifter], django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    roster(world.cato, MONDAY)
    looks = {look.lifter_id: look.key for look in RosterLook.objects.all()}
    assert len(looks) == 4
    with django_assert_num_queries(5):
        roster(world.cato, MONDAY + timedelta(days=1))
    desk_people.train(
        three["fine"], world.cato, desk_people.block_from(), range(2, 3), pain={SQUAT: 8}
    )
    again = roster(world.cato, MONDAY + timedelta(days=7))
    after = {look.lifter_id: look.key for look in RosterLook.objects.all()}
    assert {key for key in looks if looks[key] != after[key]} == {three["fine"].key}
    finn = next(line for line in again.lines if line.lifter.name == "Finn Invented")
    assert finn.first.need == "pain_stop"


def test_the_watch_is_looked_at_for_a_few_at_a_time_and_pain_for_all(
    world: people.World, three: dict[str, Lifter], monkeypatch: pytest.MonkeyPatch
) -> None:
    from blockwright.files.policy_files import default_policy
    from blockwright.verbs import roster as module

    few = default_policy().overridden({"roster.looks_at_once": 1}, "coach")
    monkeypatch.setattr(module, "default_policy", lambda: few)
    found = roster(world.cato, MONDAY)
    assert found.unwatched == 3
    assert found.lines[0].first.need == "pain_stop"
    assert "has not been looked at" in page_of(world.cato)
    assert [roster(world.cato, MONDAY).unwatched for _ in range(2)] == [1, 0]


def test_the_page_says_the_reason_and_leads_on(
    world: people.World, three: dict[str, Lifter], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("blockwright.web.pages.home.today_of", lambda *_: MONDAY)
    page = page_of(world.cato)
    assert f'href="/phone/#{three["hurt"].key}/2026-01-05/2/1">Hedda Invented at 06:30</a>' in page
    assert f'href="/lifters/{three["hurt"].key}/"' in page
    assert f'href="/lifters/{three["waits"].key}/review/"' in page
    assert "The letter through 11 January 2026 has" in page
    lines = page.partition("<h1>Roster</h1>")[2].split("<li>")[1:]
    ways = [line.count('class="way"') for line in lines]
    assert ways == [1, 1, 1, 0], "one link to act for each person for whom something waits"
    assert "Open the review" in lines[0]
    assert "Read the letter" in lines[1]
    due = next(one for one in roster(world.cato, MONDAY).lines[0].reasons if one.need == "letter")
    assert (due.code, due.link) == ("roster_letter_due", "Write the letter")


def test_a_letter_comes_before_pain_that_stops_nothing(world: people.World) -> None:
    row = desk_people.desk_lifter(world.cato, 1, pain={SQUAT: 4})
    write_letter(row, MONDAY)
    line = next(one for one in roster(world.cato, MONDAY).lines if one.lifter == row)
    assert [reason.need for reason in line.reasons][:2] == ["letter", "pain"]


def test_an_empty_roster_says_how_to_begin(world: people.World) -> None:
    Lifter.objects.filter(shares__person=world.stig).delete()
    page = page_of(world.stig)
    assert "This is how to begin" in page
    assert 'href="/lifters/new/"' in page


def test_everybody_sees_only_their_own(world: people.World) -> None:
    assert "Somebody Else" not in page_of(world.cato)
    assert "Mara Invented" not in page_of(world.stig)
    both = page_of(world.orla)
    assert "Mara Invented" in both
    assert "Somebody Else" in both


def test_who_trains_sees_their_next_session_first(world: people.World) -> None:
    today = today_of(world.mara, timezone.now())
    start = today - timedelta(days=today.weekday())
    row = desk_people.desk_lifter(world.cato, 0, start=start)
    Share.objects.filter(person=world.mara).delete()
    Share.objects.create(lifter=row, person=world.mara, kind=Share.SELF)
    page = page_of(world.mara)
    assert "Your next session" in page
    assert f'href="/phone/#{row.key}/{start}/' in page, "the link opens the page that logs"
    assert "Roster of" not in page
    assert "pain" not in page
    partner = page_of(world.pim)
    assert "Mara Invented, whom you train with" in partner
    assert "No session is planned any more" in partner


def test_a_coach_who_trains_sees_both(world: people.World) -> None:
    Share.objects.create(lifter=world.other, person=world.cato, kind=Share.SELF)
    page = page_of(world.cato)
    assert page.index("Your next session") < page.index("Mara Invented")


def test_a_name_is_found_among_many(world: people.World) -> None:
    for number in range(12):
        row = Lifter.objects.create(
            name=f"Number {number}", document=world.lifter.document | {"name": f"Number {number}"}
        )
        Share.objects.create(lifter=row, person=world.cato, kind=Share.COACH)
    assert 'for="name"' in page_of(world.cato)
    found = page_of(world.cato, name="number 11")
    assert "Number 11" in found
    assert "Mara Invented" not in found
    assert "Nobody has a name like that" in page_of(world.cato, name="zzz")


def test_dates_are_the_persons(world: people.World) -> None:
    row = desk_people.desk_lifter(world.cato, 1)
    letter = write_letter(row, MONDAY).letter
    client = Client()
    client.force_login(world.cato)
    texts = set()
    for zone in ("Pacific/Kiritimati", "Pacific/Pago_Pago"):
        world.cato.zone = zone
        world.cato.save()
        page = client.get(f"/lifters/{row.key}/review/{letter.pk}/").content
        texts.add(page.split(b"Written on")[1][:20])
    assert len(texts) == 2, "25 hours lie between the two: it is never the same day"


def test_a_day_is_missed_once_it_is_over_where_the_lifter_is(world: people.World) -> None:
    """Noon on Monday in Honolulu is Tuesday for a coach in Auckland."""
    for person, zone in ((world.cato, "Pacific/Auckland"), (world.mara, "Pacific/Honolulu")):
        person.zone = zone
        person.save()
    noon = datetime.combine(people.MONDAY, time(22), UTC)
    for at, is_missed in ((noon, False), (noon + timedelta(hours=13), True)):
        with patch("django.utils.timezone.now", return_value=at):
            page = people.client_of(world.cato).get("/").content.decode()
        assert ("nothing logged on 5" in page) is is_missed
