"""Strength, Sets and Report: what a log says, on pages for those who may read it."""

from datetime import date, timedelta

import pytest
from django.test import Client
from django.utils import timezone

import people
from blockwright.accounts.models import User
from blockwright.sheets.sets_words import sets_words
from blockwright.store.models import BlockRevision, Lifter
from blockwright.store.models import Lifter as LifterRow
from blockwright.verbs.import_files import Given, import_files
from blockwright.verbs.report_lifter import count_sets, estimate_lifter

pytestmark = pytest.mark.django_db
HEAD = "when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,note\n"
TODAY = date(2026, 1, 20)


def log(row: Lifter, *lines: str) -> None:
    given = Given("log.csv", (HEAD + "\n".join(lines) + "\n").encode())
    import_files(None, row, [given], timezone.now())


def bench(day: date, load: float = 50, *, sets: int = 3, reps: int = 10, unit: str = "kg") -> str:
    return "\n".join(
        f"{day},bench press,{n},{load:g},{unit},{reps},2,150,straight,yes,,"
        for n in range(1, sets + 1)
    )


def read(person: User, row: Lifter, page: str) -> str:
    client = Client()
    client.force_login(person)
    answer = client.get(f"/lifters/{row.key}/{page}")
    assert answer.status_code == 200, answer.status_code
    return answer.content.decode()


# ---------------------------------------------------------------------------------- strength


def test_an_empty_log_says_so(world: people.World) -> None:
    text = read(world.cato, world.lifter, "strength/")
    assert "No sets to go by yet" in text
    assert "<svg" not in text


def test_one_set_is_enough_for_numbers_and_too_few_for_a_plot_or_a_trend(
    world: people.World,
) -> None:
    log(world.lifter, bench(people.MONDAY, sets=1))
    text = read(world.cato, world.lifter, "strength/")
    belief = estimate_lifter(world.lifter).document["lifts"][0]["one_rm_kg"]
    assert "<svg" not in text
    assert "% a week</h" not in text
    assert f"Bench press: {belief['median']:.0f} kg" in text
    assert f"{belief['low80']:.0f} to {belief['high80']:.0f}" in text
    assert "None of 1 lift is surely up or down yet" in text
    assert text.count("<p>The fall adds up to ") == 1
    assert "All lifts together, lately: as expected.</summary>" in text
    assert "watch" not in text.split("<main")[1].lower()
    assert ">5 Jan 2026</td>" in text
    assert ">2026-" not in text


def test_loads_are_in_the_pounds_of_who_reads_or_of_the_lifter(world: people.World) -> None:
    log(world.lifter, bench(people.MONDAY))
    world.cato.units = "lb"
    world.cato.save()
    kg, lb = (read(who, world.lifter, "strength/") for who in (world.orla, world.cato))
    median = estimate_lifter(world.lifter).document["lifts"][0]["one_rm_kg"]["median"]
    assert f"Bench press: {median:.0f} kg" in kg
    assert f"Bench press: {median / 0.45359237:.0f} lb" in lb
    assert "1RM, lb" in lb
    assert " kg" not in lb.split("<main")[1]
    bodyweight_lb = round(world.lifter.document["bodyweight"] / 0.45359237)
    world.lifter.document |= {"units": "lb", "bodyweight": bodyweight_lb}
    world.lifter.version += 1
    world.lifter.save()
    assert "1RM, lb" in read(world.orla, world.lifter, "strength/")


def test_an_own_lift_is_estimated_and_an_unknown_one_is_flagged(world: people.World) -> None:
    day = people.MONDAY
    log(world.lifter, f"{day},tyre drag,1,60,kg,12,2,,,,,", f"{day},log toss,1,40,kg,8,2,,,,,")
    text = read(world.cato, world.lifter, "strength/")
    assert "Tyre drag:" in text
    assert "Log toss:" in text
    assert "To look at and to confirm: 1" in text


def test_what_is_out_of_line_is_told_and_marked(world: people.World) -> None:
    days = [people.MONDAY + timedelta(days=3 * n) for n in range(6)]
    slip = f"{days[5]},bench press,4,500,kg,10,2,150,straight,yes,,"
    log(world.lifter, *(bench(day) for day in days), slip)
    text = read(world.cato, world.lifter, "strength/")
    assert "set 4:" in text
    assert "l6 6m0 -6l-6 6" in text  # the cross of a set left out


def test_a_lift_that_surely_rose_stands_before_those_trained_later(world: people.World) -> None:
    days = [people.MONDAY - timedelta(days=3 * n) for n in range(12)]
    log(
        world.lifter,
        *(bench(day - timedelta(days=1), 80 - 2 * n) for n, day in enumerate(days)),
        *(bench(day).replace("bench press", "barbell row") for day in days),
    )
    text = read(world.cato, world.lifter, "strength/")
    assert "1 of 2 lifts surely up, 0 surely down; too early to tell of the other 1" in text
    assert text.index("Bench press") < text.index("Barbell row")


def test_several_years_are_thinned_and_dated_with_their_year(world: people.World) -> None:
    first = date(2022, 1, 3)
    log(world.lifter, *(bench(first + timedelta(days=7 * n), sets=1) for n in range(150)))
    half, whole = (
        read(world.cato, world.lifter, f"strength/?period={word}") for word in ("half-year", "all")
    )
    assert "Drawn: 50 of 150 sessions, evenly spaced." in whole
    assert "Drawn: the last 27 of 150 sessions." in half
    assert "Jan 2022" in whole
    client = Client()
    client.force_login(world.cato)
    assert client.get(f"/lifters/{world.lifter.key}/strength/?period=x").status_code == 404


def test_a_new_set_and_a_changed_file_are_seen_at_once(world: people.World) -> None:
    log(world.lifter, bench(people.MONDAY))
    assert '<td class="number">3</td><td class="number">5 Jan 2026</td>' in read(
        world.cato, world.lifter, "strength/"
    )
    log(world.lifter, bench(people.MONDAY + timedelta(days=3), 60))
    assert '<td class="number">6</td><td class="number">8 Jan 2026</td>' in read(
        world.cato, world.lifter, "strength/"
    )
    phone = Client()
    phone.force_login(world.cato)
    event = people.set_event(world.lifter, 1, lift="pull-up", load="5", reps="8")
    phone.post("/api/sync", people.message(event), content_type="application/json")
    assert "Pull-up:" in read(world.cato, world.lifter, "strength/")
    taken_back = event | {
        "id": str(people.uuid4()), "n": 2, "amends": event["id"], "withdrawn": True,
    }  # fmt: skip
    phone.post("/api/sync", people.message(taken_back), content_type="application/json")
    assert "Pull-up:" not in read(world.cato, world.lifter, "strength/")


def test_the_strict_policy_holds_no_style_in_the_page(world: people.World) -> None:
    log(world.lifter, bench(people.MONDAY), bench(people.MONDAY + timedelta(days=3)))
    for page in ("strength/", "sets/", f"report/{people.MONDAY}/"):
        text = read(world.cato, world.lifter, page)
        assert " style=" not in text
        assert "<style" not in text
        assert "<svg" in text


# -------------------------------------------------------------------------------------- sets


def test_sets_stand_beside_plan_floor_and_ceiling(world: people.World) -> None:
    log(world.lifter, *(f"{people.MONDAY},leg extension,{n},40,kg,12,2,,,,," for n in range(1, 6)))
    text = read(world.cato, world.lifter, "sets/")
    # Five direct sets of the 6.5 that were planned (six of them direct); the floor is 4.
    assert '5<span class="of"> of 6.5</span>' in text
    assert '5<span class="of"> of 6</span>' in text
    assert "Quads: 5 sets a week; ceiling at least" in text
    assert "Within the band" in text
    assert "Steele et al. 2026, SportRxiv 810, preprint" in text
    assert "from memory" in text


def test_a_block_that_has_not_begun_shows_its_plan(world: people.World) -> None:
    document = count_sets(world.lifter, None, people.MONDAY - timedelta(days=3))
    assert document["finding"] is None
    quads = document["muscles"][0]
    assert (quads["muscle"], quads["sets_done"], quads["sets_planned"]) == ("quads", [], [6.5, 6.5])
    words = sets_words(document)
    assert words.tables[0].head[2] == "Week 1, 5 Jan, planned"
    assert words.tables[0].rows[0][2] == "6.5"
    title = words.figures[0].title
    assert title.startswith("Quads: 6.5 sets a week planned; ceiling at least")
    later = count_sets(world.lifter, None, people.MONDAY)
    assert later["muscles"][0]["sets_done"] == [0]
    assert sets_words(later).tables[0].head[2] == "Week 1, 5 Jan"
    assert sets_words(later).tables[0].rows[0][2] == "0 of 6.5"


def test_without_a_block_the_last_weeks_of_the_log_are_counted(world: people.World) -> None:
    row = LifterRow.objects.create(name="Mara Invented", document=world.lifter.document)
    assert "No set counts yet" in read(world.orla, row, "sets/")
    log(row, bench(date(2025, 12, 1)), bench(date(2025, 12, 10)), bench(date(2025, 12, 11)))
    document = count_sets(row, None, TODAY)
    chest = next(one for one in document["muscles"] if one["muscle"] == "chest")
    assert chest["sets_done"] == [0, 0, 0, 0, 0, 0, 3, 6]
    # Nothing is claimed of weeks nobody could judge.
    assert document["finding"] == "Most sets in a week: chest, 6"
    text = read(world.orla, row, "sets/")
    assert "No block yet" in text
    assert "Week of 8 Dec" in text


def test_no_such_block_is_not_found(world: people.World) -> None:
    client = Client()
    client.force_login(world.cato)
    for page in ("sets/?block=2020-01-06", "sets/?block=soon", "report/2020-01-06/",
                 "report/2026-02-31/", "report/2026-02-31/pdf/"):  # fmt: skip
        assert client.get(f"/lifters/{world.lifter.key}/{page}").status_code == 404, page


# ------------------------------------------------------------------------------------ report


def test_a_report_is_a_page_and_paper(world: people.World) -> None:
    where = f"report/{people.MONDAY}/"
    assert "nothing to report" in read(world.cato, world.lifter, where)
    log(world.lifter, bench(people.MONDAY), bench(people.MONDAY + timedelta(days=3)))
    text = read(world.cato, world.lifter, where)
    for part in ("Planned and done", "Weekly sets", "Strength", "Proposals and their fate"):
        assert part in text
    assert "2 of 3 sessions, 6 of 24 sets" in text
    client = Client()
    client.force_login(world.mara)
    for paper in ("", "?paper=letter"):
        answer = client.get(f"/lifters/{world.lifter.key}/{where}pdf/{paper}")
        assert answer.status_code == 200
        assert answer.content.startswith(b"%PDF-")
        assert answer["Content-Disposition"] == 'attachment; filename="report-2026-01-05.pdf"'
        assert answer["Cache-Control"] == "private, no-store"


def test_the_report_follows_the_last_revision(world: people.World) -> None:
    log(world.lifter, bench(people.MONDAY))
    where = f"report/{people.MONDAY}/"
    assert "revision 1</p>" in read(world.cato, world.lifter, where)
    BlockRevision(
        lifter=world.lifter, start=people.MONDAY, revision=2, ends=people.MONDAY + timedelta(13),
        status="ready", document=people.block_document(2), made_by=world.cato,
    ).save()  # fmt: skip
    assert "revision 2</p>" in read(world.cato, world.lifter, where)


def test_an_empty_report_leads_to_the_one_of_the_block_before(world: people.World) -> None:
    later = people.MONDAY + timedelta(14)
    BlockRevision(
        lifter=world.lifter, start=later, revision=1, ends=later + timedelta(13),
        status="ready", document=people.block_document(), made_by=world.cato,
    ).save()  # fmt: skip
    text = read(world.cato, world.lifter, f"report/{later}/")
    assert "nothing to report" in text
    assert f'/report/{people.MONDAY}/">Report of the block of 5 January 2026</a>' in text
