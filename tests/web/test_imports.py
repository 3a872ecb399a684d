"""A coach's own spreadsheet on the site: looked at, stored in one batch, taken back whole."""

import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

import archive_world
import people
from blockwright.files.policy_files import default_policy
from blockwright.store.convert import sets_done
from blockwright.store.facts import facts_of
from blockwright.store.models import Batch, HouseFrame, LiftName
from blockwright.verbs.import_batches import remember_names
from blockwright.verbs.import_files import Given, import_files
from import_gallery import logs

pytestmark = pytest.mark.django_db
SHEET = """\
Date,Exercise,Weight (kg),Reps
2026-01-05,Bench press,80,"8,8,7"
2026-01-05,Curls,12,10
2026-01-07,Bench press,82.5,"8,7"
2026-01-07,Plank,,60s
"""
TWO = """\
Name,Date,Exercise,Weight (kg),Reps
Mara,2026-01-05,Bench press,50,8
Pim,2026-01-05,Bench press,90,8
"""


@pytest.fixture
def gym() -> people.World:
    return people.make_world()


@pytest.fixture
def coach(gym: people.World) -> Client:
    client = Client()
    client.force_login(gym.cato)
    return client


def upload(client: Client, gym: people.World, text: str, name: str = "mine.csv") -> str:
    """The address of the preview."""
    file = SimpleUploadedFile(name, text.encode(), content_type="text/csv")
    answer = client.post(f"/lifters/{gym.lifter.key}/files/", {"files": [file]})
    assert answer.status_code == 302, answer.content.decode()
    return str(answer["Location"])


def logged(gym: people.World) -> list[tuple[date, str, float, tuple[int, ...]]]:
    return [
        (one.moment.day, one.lift, one.load_kg, one.reps) for one in sets_done(facts_of(gym.lifter))
    ]


def test_the_preview_stores_nothing_and_one_button_stores_one_batch(
    gym: people.World, coach: Client
) -> None:
    before = logged(gym)
    address = upload(coach, gym, SHEET)
    page = coach.get(address).content.decode()

    assert "mine.csv, D2" in page or "mine.csv, C2" in page
    assert "8,8,7" in page
    assert "60s" in page
    assert "Which lift is &quot;Curls&quot;?" in page
    assert logged(gym) == before

    coach.post(address, {"do": "store"})
    added = logged(gym)[len(before) :] if before else logged(gym)
    assert len(added) == 6
    assert (date(2026, 1, 7), "bench press", 82.5, (7,)) in logged(gym)
    batch = Batch.objects.get()
    assert (batch.state, batch.facts, batch.files) == (Batch.STORED, 6, [["mine.csv"]])


def test_nothing_is_stored_on_a_guessed_first_week(gym: people.World, coach: Client) -> None:
    before = logged(gym)
    address = upload(coach, gym, "Exercise,Week 1,Week 2\nSquat,100x5,105x5\n")
    assert 'type="date" id="week-1"' in coach.get(address).content.decode()

    early = coach.post(address, {"do": "store"})
    assert (early.status_code, logged(gym)) == (422, before)

    coach.post(address, {"do": "store", "week-1": "2026-01-12"})
    days = [day for day, *_ in logged(gym)[len(before) :]]
    assert days == [date(2026, 1, 12), date(2026, 1, 19)]


def test_a_batch_is_taken_back_whole_and_may_come_again(gym: people.World, coach: Client) -> None:
    before = logged(gym)
    for _ in range(2):
        address = upload(coach, gym, SHEET)
        coach.post(address, {"do": "store"})
        assert len(logged(gym)) == len(before) + 6
        batch = Batch.objects.get(state=Batch.STORED)
        page = coach.post(f"/lifters/{gym.lifter.key}/imports/", {"batch": batch.key}, follow=True)
        assert "Taken back: 6 sets" in page.content.decode()
        assert logged(gym) == before


def test_the_preview_says_what_is_stored_already(gym: people.World, coach: Client) -> None:
    more = SHEET + "2026-01-08,Bench press,85,6\n"
    first = coach.get(upload(coach, gym, SHEET)).content.decode()
    assert "already" not in first
    coach.post(upload(coach, gym, SHEET), {"do": "store"})
    again = coach.get(upload(coach, gym, SHEET)).content.decode()
    assert "6 of them are here already" in again
    longer = coach.get(upload(coach, gym, more, "grown.csv")).content.decode()
    assert "6 of them are here already" in longer


def test_a_file_of_ours_is_a_batch_too(gym: people.World, coach: Client) -> None:
    before = logged(gym)
    text = "when,lift,set,load,unit,reps,rir\n2026-01-05,bench press,1,80,kg,8,2\n"
    import_files(gym.cato, gym.lifter, [Given("log.csv", text.encode())], timezone.now())
    assert len(logged(gym)) == len(before) + 1

    coach.post(f"/lifters/{gym.lifter.key}/imports/", {"batch": Batch.objects.get().key})
    assert logged(gym) == before


def test_an_answer_changes_what_is_stored_and_is_remembered(
    gym: people.World, coach: Client
) -> None:
    address = upload(coach, gym, SHEET)
    choices = re.findall(r'name="lift-curls" value="([^"]+)"', coach.get(address).content.decode())
    meant = choices[1]
    coach.post(address, {"do": "again", "lift-curls": meant})
    assert f"<td>{meant.capitalize()}</td>" in coach.get(address).content.decode()
    coach.post(address, {"do": "store", "lift-curls": meant})

    assert (date(2026, 1, 5), meant, 12.0, (10,)) in logged(gym)
    assert LiftName.objects.get().lift == meant
    again = upload(coach, gym, SHEET.replace("2026-01-05", "2026-01-12"))
    assert "Which lift is" not in coach.get(again).content.decode()


def test_a_remembered_name_is_applied_to_what_is_stored(gym: people.World) -> None:
    text = "when,lift,set,load,unit,reps,rir\n2026-01-05,Monster lift,1,80,kg,8,2\n"
    now = timezone.now()
    import_files(gym.cato, gym.lifter, [Given("log.csv", text.encode())], now)
    assert remember_names(gym.cato, gym.lifter, {"Monster lift": "leg press"}, now) == 1
    assert (date(2026, 1, 5), "leg press", 80.0, (8,)) in logged(gym)


def test_erasing_leaves_no_name_in_what_is_kept_for_everybody(
    gym: people.World, coach: Client
) -> None:
    """Of all tables: what was imported, what was remembered, what templates are called."""
    row = gym.lifter
    row.name, row.document = "Zorabella Invented", row.document | {"name": "Zorabella Invented"}
    row.save()
    upload(coach, gym, SHEET.replace("Curls", "Zorabella curls"), "Zorabella.csv")
    remember_names(gym.cato, row, {"Zorabella curls": "barbell curl"}, timezone.now())
    remember_names(gym.cato, row, {"Curls": "barbell curl"}, timezone.now())
    HouseFrame.objects.create(name="Zorabella, four days", by=gym.cato, visits=[])
    coach.get("/")
    assert len(holding("zorabella")) > 2, "it was there"
    erased = coach.post(f"/lifters/{row.key}/erase/", {"name": row.name})
    assert erased.status_code == 302
    assert holding("zorabella") == []
    assert [one.typed for one in LiftName.objects.all()] == ["Curls"]
    assert "four days" in HouseFrame.objects.get().name


def holding(word: str) -> list[str]:
    """The tables in which the word stands."""
    found = []
    for model in apps.get_models(include_auto_created=True):
        rows = list(model._default_manager.values_list())
        if word in str(rows).casefold():
            found.append(model.__name__)
    return found


def test_of_several_people_one_is_chosen(gym: people.World, coach: Client) -> None:
    before = len(logged(gym))
    address = upload(coach, gym, TWO)
    page = coach.get(address).content.decode()
    assert 'value="Pim"' in page

    coach.post(address, {"do": "store", "person": "Pim"})
    assert len(logged(gym)) == before + 1
    assert (date(2026, 1, 5), "bench press", 90.0, (8,)) in logged(gym)


def test_a_workbook_comes_in_too(gym: people.World, coach: Client, tmp_path: Path) -> None:
    log = next(log for log in logs() if log.name == "weeks-tabs-grammar-cells")
    file = SimpleUploadedFile(log.file, log.write(tmp_path).read_bytes())
    answer = coach.post(f"/lifters/{gym.lifter.key}/files/", {"files": [file]})
    coach.post(answer["Location"], {"do": "store"})

    assert Batch.objects.get().facts == log.truth.total()
    assert (date(2027, 5, 14), "pull-up", 5.0, (5,)) in logged(gym)


def test_what_is_no_workbook_is_refused_in_words(gym: people.World, coach: Client) -> None:
    file = SimpleUploadedFile("block.xlsx", b"PK no workbook")
    answer = coach.post(f"/lifters/{gym.lifter.key}/files/", {"files": [file]})
    assert answer.status_code == 422
    assert "cannot be read as a workbook" in answer.content.decode()
    assert not Batch.objects.exists()


def test_a_wrong_answer_is_refused_in_words(gym: people.World, coach: Client) -> None:
    address = upload(coach, gym, SHEET)
    answer = coach.post(address, {"do": "store", "lift-curls": "moon walk"})
    assert answer.status_code == 422
    assert "is no answer to this question" in answer.content.decode()
    assert Batch.objects.get().state == Batch.WAITING


@pytest.mark.parametrize("where", ["/", "/lifters/{key}/imports/"])
def test_files_that_wait_are_forgotten_after_the_policys_days(
    gym: people.World, coach: Client, where: str
) -> None:
    upload(coach, gym, SHEET)
    made, days = timezone.now(), default_policy().whole("imports.waits_days")
    for late, left in ((timedelta(minutes=-5), 1), (timedelta(minutes=5), 0)):
        Batch.objects.update(made_at=made - timedelta(days=days) - late)
        assert coach.get(where.format(key=gym.lifter.key)).status_code == 200
        assert Batch.objects.count() == left


def beliefs(client: Client, gym: people.World) -> dict[str, Any]:
    """What every call of the API says of the lifter, but the calls that tell each fact."""
    addresses = [a for a in archive_world.addresses(gym.lifter) if a.startswith("/api/")]
    told = ("/export", "/facts", "/openapi.json", "/phone")
    answers = {a: client.get(a) for a in addresses if not a.endswith(told)}
    return {a: one.json() for a, one in answers.items() if one.status_code == 200}


def test_taking_an_import_back_restores_every_belief(gym: people.World, coach: Client) -> None:
    log = "when,lift,set,load,unit,reps,rir\n2026-01-01,bench press,1,50,kg,8,2\n"
    import_files(gym.cato, gym.lifter, [Given("log.csv", log.encode())], timezone.now())
    before = beliefs(coach, gym)
    assert len(before) > 15

    mistake = SHEET.replace("80,", "180,").replace("82.5", "182.5")
    coach.post(upload(coach, gym, mistake), {"do": "store"})
    during = beliefs(coach, gym)
    strength = f"/api/lifters/{gym.lifter.key}/estimate"
    assert during[strength] != before[strength]

    batch = Batch.objects.get(files=[["mine.csv"]])
    coach.post(f"/lifters/{gym.lifter.key}/imports/", {"batch": batch.key})
    after = beliefs(coach, gym)
    assert {where: after[where] for where in after if after[where] != before.get(where)} == {}


@pytest.mark.parametrize("name", ["stig", "pim"])
def test_strangers_and_partners_may_not(gym: people.World, coach: Client, name: str) -> None:
    address = upload(coach, gym, SHEET)
    other = Client()
    other.force_login(getattr(gym, name))
    for where in (
        address,
        f"/lifters/{gym.lifter.key}/imports/",
        f"/lifters/{gym.lifter.key}/log/",
    ):
        assert other.get(where).status_code in (403, 404)


def test_a_set_is_corrected_and_taken_back_at_the_desk(gym: people.World, coach: Client) -> None:
    before = logged(gym)
    text = "when,lift,set,load,unit,reps,rir\n2026-01-05,bench press,1,800,kg,8,2\n"
    import_files(gym.cato, gym.lifter, [Given("log.csv", text.encode())], timezone.now())
    where = f"/lifters/{gym.lifter.key}/log/"
    fact = facts_of(gym.lifter)[-1]

    wrong = coach.post(where, {"fact": fact.id, "do": "correct", "load": "much"})
    assert wrong.status_code == 422
    coach.post(where, {"fact": fact.id, "do": "correct", "load": "80", "reps": "9"})
    assert (date(2026, 1, 5), "bench press", 80.0, (9,)) in logged(gym)
    assert "80 kg × 9" in coach.get(where).content.decode()

    last = facts_of(gym.lifter)[-1]
    coach.post(where, {"fact": last.id, "do": "withdraw"})
    assert logged(gym) == before
    gone = coach.post(where, {"fact": last.id, "do": "withdraw"})
    assert gone.status_code == 422


def test_the_log_says_check_ins_in_words(gym: people.World, coach: Client) -> None:
    text = (
        "when,measure,about,value,unit\n2026-01-05,sore,front_delts,2,\n"
        "2026-01-05,session_rpe,,8,\n2026-01-05,bodyweight,,81.4,kg\n"
    )
    import_files(gym.cato, gym.lifter, [Given("checkins.csv", text.encode())], timezone.now())
    shown = coach.get(f"/lifters/{gym.lifter.key}/log/").content.decode()
    for words in ("delts: 2 of 10<", "of the session: 8 of 10<", "Bodyweight: 81.4 kg<"):
        assert words in shown, words


def test_a_long_day_of_the_log_goes_on_on_the_next_page(gym: people.World, coach: Client) -> None:
    lines = [f"2026-01-05,bench press,{n},40,kg,8,2\n" for n in range(1, 131)]
    text = "when,lift,set,load,unit,reps,rir\n" + "".join(lines)
    import_files(gym.cato, gym.lifter, [Given("log.csv", text.encode())], timezone.now())
    where = f"/lifters/{gym.lifter.key}/log/"
    first, second = (coach.get(f"{where}?page={n}").content.decode() for n in (1, 2))
    assert (first.count("40 kg × 8"), second.count("40 kg × 8")) == (120, 10)
    assert "Monday 5 January 2026" in second
    assert ('?page=2" rel="next"' in first, '?page=1" rel="prev"' in second) == (True, True)
    assert 'rel="next"' not in second
