"""The lifter's page: what comes next, for whom, and what each may see of the rest."""

import re
from datetime import UTC, date, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client

import people
from blockwright.actions.lifter_page import lifter_page
from blockwright.store.access import rights_for
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals, Share

pytestmark = pytest.mark.django_db

MONDAY, DAY = people.MONDAY, timedelta(days=1)


@pytest.fixture
def world() -> people.World:
    return people.make_world()


def client_of(person: Any) -> Client:
    client = Client()
    client.force_login(person)
    return client


def page_on(world: people.World, who: str, day: date) -> dict[str, Any]:
    lifter = Lifter.objects.get(key=world.lifter.key)
    return lifter_page(lifter, rights_for(getattr(world, who), lifter), day)


def logged(world: people.World, *events: Any) -> None:
    answer = client_of(world.mara).post(
        "/api/sync", people.message(*events), content_type="application/json"
    )
    assert {one["state"] for one in answer.json()["answers"]} == {"stored"}


def html(world: people.World, who: str) -> str:
    answer = client_of(getattr(world, who)).get(f"/lifters/{world.lifter.key}/")
    assert answer.status_code == 200
    return unescape(answer.content.decode())


def nav_of(page: str) -> list[str]:
    nav = re.search(r'<nav class="lifter_nav".*?</nav>', page, re.S)
    assert nav is not None
    return re.findall(r">([^<]+)</a>", nav[0])


# -------------------------------------------------------------------------------- what is next


def test_the_next_session_is_the_first_that_has_not_been_ended(world: people.World) -> None:
    def session(day: date) -> tuple[int, int] | None:
        planned = page_on(world, "mara", day)["next_session"]
        return planned and (planned.week.week, planned.session.session)

    assert session(MONDAY - 3 * DAY) == (1, 1)
    assert session(MONDAY) == (1, 1)
    logged(world, people.session_event(world.lifter, {"what": "ended"}))
    assert session(MONDAY) == (1, 2)
    assert session(MONDAY + 4 * DAY) == (2, 1)
    assert session(MONDAY + 8 * DAY) is None


def test_what_waits_for_the_coach_comes_before_the_next_session(world: people.World) -> None:
    assert page_on(world, "cato", MONDAY)["next"].says == "Today at 18:30: train."
    logged(world, people.set_event(world.lifter))
    over = page_on(world, "cato", MONDAY + 7 * DAY)["next"]
    assert (over.says, over.page) == ("Week 1 is over and has not been reviewed.", "review")
    assert page_on(world, "mara", MONDAY + 7 * DAY)["next"].page == "sheet"
    letter = Proposals(
        lifter=world.lifter, block=world.block, through=MONDAY + 6 * DAY,
        document={"proposals": [{"id": "one"}, {"id": "other"}]},
    )  # fmt: skip
    letter.save()
    waiting = page_on(world, "cato", MONDAY + 7 * DAY)
    assert waiting["open_lines"] == 2
    assert (waiting["next"].says, waiting["next"].page) == (
        "2 proposals wait for your word.", "review",
    )  # fmt: skip
    Decision(proposals=letter, proposal="one", verdict="declined", by=world.cato).save()
    assert (
        page_on(world, "cato", MONDAY + 7 * DAY)["next"].says == "1 proposal waits for your word."
    )
    Decision(proposals=letter, proposal="other", verdict="accepted", by=world.cato).save()
    assert page_on(world, "cato", MONDAY + 7 * DAY)["next"].page == "sheet"


def test_a_block_that_ended_asks_for_the_next(world: people.World) -> None:
    after = MONDAY + 14 * DAY
    assert page_on(world, "cato", after)["next"].page == "compose"
    for who, page in (("mara", "report"), ("pim", "")):
        step = page_on(world, who, after)["next"]
        assert step.says == "The block has ended: the coach composes the next."
        assert step.page == page


def test_no_block_yet_says_what_is_missing_first(world: people.World) -> None:
    world.stig.shares.update(lifter=world.other)
    lifter = world.other
    rights = rights_for(world.stig, lifter)
    assert lifter_page(lifter, rights, MONDAY)["next"].page == "compose"
    document = {key: lifter.document[key] for key in ("name", "units", "gym")}
    Lifter.objects.filter(key=lifter.key).update(document=document, version=2)
    lifter.refresh_from_db()
    step = lifter_page(lifter, rights, MONDAY)["next"]
    assert step.page == "lifter_file"
    assert step.says == "A block still needs the bodyweight and the first Monday and a slot."


def test_a_referral_stands_before_any_session(world: people.World) -> None:
    document = people.block_document(2) | {"status": "refer"}
    BlockRevision(
        lifter=world.lifter, start=MONDAY, revision=2, ends=MONDAY + 13 * DAY, status="refer",
        document=document,
    ).save()  # fmt: skip
    step = page_on(world, "mara", MONDAY)["next"]
    assert step.says == "The block waits for medical clearance; no session before that."
    for who in ("cato", "mara", "pim"):
        assert "waits for medical clearance" in html(world, who)


def test_past_weeks_are_folded_and_what_was_logged_is_said(world: people.World) -> None:
    logged(world, people.set_event(world.lifter))
    page = page_on(world, "cato", MONDAY + 7 * DAY)
    assert [(one.week.week, one.is_past) for one in page["weeks"]] == [(1, True), (2, False)]
    assert page["logged_days"] == [MONDAY]
    assert page["logged"].last_day == MONDAY
    assert page["logged"].sets == 1


def test_the_log_counts_what_stands(world: people.World) -> None:
    event = people.set_event(world.lifter)
    undo = people.set_event(world.lifter, 2, amends=event["id"], withdrawn=True)
    logged(world, event, undo, people.checkin_event(world.lifter, 3))
    found = page_on(world, "cato", MONDAY)["logged"]
    assert (found.sets, found.checkins, found.last_day) == (0, 1, None)


# ------------------------------------------------------------------------------- who sees what


def test_the_navigation_shows_what_a_person_may_open(world: people.World) -> None:
    everything = nav_of(html(world, "cato"))
    assert everything[0] == "Sheets"
    assert everything[-1] == "Lifter file"
    assert nav_of(html(world, "mara")) == everything
    assert nav_of(html(world, "pim")) == ["Sheets"]
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    assert nav_of(html(world, "pim")) == everything[:-1]


def test_every_link_of_the_navigation_opens(world: people.World) -> None:
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    for who in ("cato", "mara", "pim"):
        client = client_of(getattr(world, who))
        nav = re.search(r'<nav class="lifter_nav".*?</nav>', html(world, who), re.S)
        assert nav is not None
        for address in re.findall(r'href="([^"]+)"', nav[0]):
            page = client.get(address, follow=True)
            assert page.status_code == 200, (who, address)
            assert b'aria-current="page"' in page.content, (who, address)


def test_a_partner_sees_sheets_and_nothing_of_log_files_or_access(world: people.World) -> None:
    page = html(world, "pim")
    assert '<h2 id="sheets">Sheets</h2>' in page
    for word in ("Who has access", "<h2>Files</h2>", "check-ins", "Erase", "Invite"):
        assert word not in page


def test_the_lifter_reads_who_has_access_and_what_a_partner_sees(world: people.World) -> None:
    page = html(world, "mara")
    assert "Pim, training partner, sees sheets" in page
    for word in ("End Pim's access", "Let Pim see", "Invite", "Erase"):
        assert word not in page
    coach = html(world, "cato")
    assert "Let Pim see sheets and history" in coach
    assert "Let Cato see" not in coach


def test_which_answer_of_the_screening_refers_is_the_coachs_and_the_lifters(
    world: people.World,
) -> None:
    document = world.lifter.document | {"screening": {"pregnant_or_postpartum": True}}
    Lifter.objects.filter(key=world.lifter.key).update(document=document, version=2)
    Share.objects.filter(person=world.pim).update(sees=Share.HISTORY)
    for who in ("cato", "mara"):
        assert "pregnancy or recent birth" in html(world, who)
    assert "pregnancy" not in html(world, "pim")


def test_today_is_the_persons_own(world: people.World, monkeypatch: pytest.MonkeyPatch) -> None:
    late = datetime(2026, 1, 5, 12, 30, tzinfo=UTC)
    monkeypatch.setattr("django.utils.timezone.now", lambda: late)
    for zone, says in (("Pacific/Auckland", "Thursday, 8 January"), ("Europe/Berlin", "Today")):
        world.mara.zone = zone
        world.mara.save()
        assert f"{says} at 18:30: train." in html(world, "mara")
