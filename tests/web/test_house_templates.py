"""A block's frame kept under a name and used for the next lifter."""

from datetime import date

import pytest
from test_block_pages import Desk, text_of
from test_lifter_file_page import page_form

import composed_world
from blockwright.accounts.models import User
from blockwright.engine.planning import frame_of
from blockwright.engine.planning.given_frame import laid_on
from blockwright.engine.training import Block, Slot
from blockwright.files.catalogue import catalogue_for
from blockwright.store.models import Composing, HouseFrame, Lifter, Share
from blockwright.verbs import search_block
from blockwright.verbs.house_templates import frame_of_visits
from people import client_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def desk() -> Desk:
    return Desk(weeks_in=2)


def next_lifter(desk: Desk) -> Lifter:
    """Somebody new of the same gym, on three other days."""
    document = {
        **desk.row.document,
        "name": "Next Invented",
        "pin": [],
        "slot": [
            {"day": day, "start": "17:00", "minutes": 75} for day in ("mon", "wed", "fri", "sat")
        ],
    }
    lifter = Lifter.objects.create(name="Next Invented", document=document)
    Share.objects.create(person=desk.coach, lifter=lifter, kind=Share.COACH)
    return lifter


def patterns(block: Block) -> list[tuple[set[str], set[str]]]:
    """By visit in the order of the week: the basic patterns, and the heavy ones."""
    frame = frame_of(block, catalogue_for(block.lifter))
    return [
        (set(roles), {b for d, s, b in frame.heavy if (d, s) == key})
        for key, roles in frame.roles.items()
        if roles
    ]


@pytest.mark.slow
def test_a_frame_is_kept_and_the_next_lifter_gets_it(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(search_block, "launch", lambda _search: None)
    monkeypatch.setenv(search_block.SEARCH, "quick")
    answer = desk.client.post(f"{desk.at}template/", {"name": " Four  days "})
    assert "“Four days” is kept" in text_of(desk.client.get(answer["Location"]))
    lifter = next_lifter(desk)
    page = desk.client.get(f"/lifters/{lifter.key}/compose/").content.decode()
    assert '<option value="Four days">' in page
    assert "Monday: " in page
    start = str(search_block.next_monday(date.today()))
    form = {"start": start, "previous": "", "template": "Four days"}
    answer = desk.client.post(f"/lifters/{lifter.key}/compose/", form)
    assert answer.status_code == 302, text_of(answer)
    search = Composing.objects.get(lifter=lifter)
    # A template taken off the list meanwhile does not stop a search.
    frame = HouseFrame.objects.get()
    desk.client.post(f"/lifters/{lifter.key}/compose/template/{frame.pk}/drop/")
    assert not HouseFrame.objects.exists()
    search_block.run_search(search.pk)
    search.refresh_from_db()
    assert search.state == "made", search.says
    made = search_block.block_value(lifter.revisions.get())
    for (wanted, heavy), (got, got_heavy) in zip(
        patterns(composed_world.fixed_block()), patterns(made), strict=True
    ):
        assert wanted <= got | {"overhead"}
        assert heavy & got == got_heavy & wanted


def test_only_its_maker_or_the_owner_drops_a_template(desk: Desk) -> None:
    desk.post("template/", 302, name="Four days")
    frame = HouseFrame.objects.get()
    other = User.objects.create_user("other", None, name="Other Invented", role=User.COACH)
    Share.objects.create(person=other, lifter=desk.row, kind=Share.COACH)
    drop = f"/lifters/{desk.row.key}/compose/template/{frame.pk}/drop/"
    for person, status in ((other, 403), (frame.by, 302)):
        client = client_of(person)
        page = client.get(f"/lifters/{desk.row.key}/compose/").content.decode()
        assert "Four days" in page
        assert (drop in page) is (status == 302)
        assert client.post(drop).status_code == status
        assert HouseFrame.objects.exists() is (status == 403)


def test_a_name_is_needed_and_taken_once(desk: Desk) -> None:
    assert "has no name" in desk.post("template/", 422, name="  ")
    desk.post("template/", 302, name="Four days")
    assert "there is a template called" in desk.post("template/", 422, name="Four days").lower()
    row = f"/lifters/{desk.row.key}/compose/"
    form = {"start": str(search_block.default_start(desk.row, desk.start)), "template": "Nowhere"}
    assert 'no template is called "Nowhere"' in text_of(desk.client.post(row, form))


def test_a_new_lifters_form_leads_on_to_the_choice_of_a_template(desk: Desk) -> None:
    desk.post("template/", 302, name="Four days")
    form = desk.client.get("/lifters/new/").content.decode()
    last = form[form.rindex("<button", 0, form.rindex("</form>")) :]
    assert last.startswith('<button name="compose" value="yes">Save and go on to the first block')
    typed = page_form(form) | {
        "name": ["Nia Invented"],
        "bodyweight": ["70"],
        "slot.1.day": ["tue"],
        "slot.1.start": ["18:00"],
        "slot.1.minutes": ["45"],
    }
    answer = desk.client.post("/lifters/new/", typed | {"compose": ["yes"]}, follow=True)
    page = answer.content.decode()
    assert answer.redirect_chain[-1][0].endswith("/compose/")
    assert '<option value="Four days">' in page
    assert "The lifter file is saved." in page
    plain = desk.client.post("/lifters/new/", typed | {"name": ["Noa Invented"]})
    assert not plain["Location"].endswith("/compose/")


def test_visits_go_to_their_days_and_the_rest_in_order() -> None:
    visits = [
        {"day": "mon", "start": "18:00", "patterns": ["knee", "press"], "heavy": ["knee"]},
        {"day": "thu", "start": "18:00", "patterns": ["hip"], "heavy": []},
        {"day": "fri", "start": "18:00", "patterns": ["row"], "heavy": ["row"]},
    ]
    slots = [
        Slot(day="wed", start_minute=420, minutes=60),
        Slot(day="mon", start_minute=420, minutes=60),
        Slot(day="fri", start_minute=420, minutes=60),
    ]
    frame = laid_on(frame_of_visits(visits), slots)
    assert frame.fixed
    assert frame.roles == {
        ("mon", "07:00"): frozenset({"knee", "press"}),
        ("wed", "07:00"): frozenset({"hip"}),
        ("fri", "07:00"): frozenset({"row"}),
    }
    assert frame.heavy == {("mon", "07:00", "knee"), ("fri", "07:00", "row")}
    assert len(laid_on(frame_of_visits(visits), slots[:1]).roles) == 1
