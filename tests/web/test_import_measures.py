"""A scale's or a watch's export on the site: looked at, its columns chosen, stored, taken back."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from openpyxl import Workbook

import people
from blockwright.store.facts import facts_of
from blockwright.store.models import Batch, Fact
from blockwright.store.standing import standing

pytestmark = pytest.mark.django_db
EXPORT = """\
Day,Weight (kg),Fat-free (kg),Hours asleep
2026-01-05,82.4,70.1,7:30
2026-01-06,heavy,70.2,6:45
"""


@pytest.fixture
def gym() -> people.World:
    return people.make_world()


@pytest.fixture
def coach(gym: people.World) -> Client:
    client = Client()
    client.force_login(gym.cato)
    return client


def upload(client: Client, gym: people.World, text: str = EXPORT) -> str:
    """The address of the preview."""
    file = SimpleUploadedFile("scale.csv", text.encode(), content_type="text/csv")
    answer = client.post(f"/lifters/{gym.lifter.key}/files/", {"files": [file]})
    assert answer.status_code == 302, answer.content.decode()
    return str(answer["Location"])


def said(gym: people.World) -> set[tuple[str, str, float]]:
    facts = standing(facts_of(gym.lifter))
    return {
        (fact.day.isoformat(), fact.body["measure"], float(fact.body["value"]))
        for fact in facts
        if fact.kind == Fact.CHECKIN and fact.day.year == 2026 and fact.day.month == 1
    }


def test_an_export_is_shown_then_stored_as_one_batch_and_taken_back(
    gym: people.World, coach: Client
) -> None:
    address = upload(coach, gym)
    page = coach.get(address).content.decode()
    assert "3 check-ins" in page
    assert "82.4 kg" in page
    assert "scale.csv, B3" in page
    assert said(gym) == set()

    assert coach.post(address, {"do": "store"}).status_code == 302
    assert said(gym) == {
        ("2026-01-05", "bodyweight", 82.4),
        ("2026-01-05", "sleep_h", 7.5),
        ("2026-01-06", "sleep_h", 6.75),
    }
    batch = Batch.objects.get()
    assert (batch.facts, batch.files) == (3, [["scale.csv"]])

    coach.post(f"/lifters/{gym.lifter.key}/imports/", {"batch": batch.key})
    assert said(gym) == set()


def test_the_coach_chooses_the_columns(gym: people.World, coach: Client) -> None:
    address = upload(coach, gym)
    chosen = {"column-bodyweight": "Fat-free (kg)", "column-sleep_h": "no column"}
    coach.post(address, {"do": "again", **chosen})
    assert "2 check-ins" in coach.get(address).content.decode()

    coach.post(address, {"do": "store", **chosen})
    assert said(gym) == {
        ("2026-01-05", "bodyweight", 70.1),
        ("2026-01-06", "bodyweight", 70.2),
    }


def test_the_coach_chooses_the_day_of_a_night_with_two(gym: people.World, coach: Client) -> None:
    address = upload(coach, gym, "Start,End,Asleep (h)\n2026-01-04 23:10,2026-01-05 07:00,7\n")
    coach.post(address, {"do": "store", "column-date": "End"})

    assert said(gym) == {("2026-01-05", "sleep_h", 7.0)}


def test_no_column_at_all_is_refused_and_the_file_still_waits(
    gym: people.World, coach: Client
) -> None:
    address = upload(coach, gym)
    none = {"column-bodyweight": "no column", "column-sleep_h": "no column"}
    answer = coach.post(address, {"do": "store", **none})

    assert answer.status_code == 422
    assert "choose one, or forget the file" in answer.content.decode()
    assert "3 check-ins" in coach.get(address).content.decode()


def test_a_tab_of_weigh_ins_beside_a_tab_of_sets_is_stored_with_them(
    gym: people.World, coach: Client
) -> None:
    book, held = Workbook(), io.BytesIO()
    sets, weights = book.active, book.create_sheet("Scale")
    for row in (["Date", "Lift", "kg", "Reps"], ["2026-01-05", "Bench press", 81.5, 8]):
        sets.append(row)
    for row in (["Date", "Bodyweight (kg)"], ["2026-01-05", 81.4], ["2026-01-06", 81.2]):
        weights.append(row)
    book.save(held)
    file = SimpleUploadedFile("mine.xlsx", held.getvalue())
    address = coach.post(f"/lifters/{gym.lifter.key}/files/", {"files": [file]})["Location"]

    shown = coach.get(address).content.decode()
    told = coach.post(address, {"do": "store"}, follow=True).content.decode()

    assert "1 set and 2 check-ins" in shown
    assert "3 new sets and check-ins" in told
    assert said(gym) == {("2026-01-05", "bodyweight", 81.4), ("2026-01-06", "bodyweight", 81.2)}
