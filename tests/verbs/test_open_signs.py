"""A warning sign stays on the roster, in letters and on sheets until somebody has cleared it."""

import tomllib
from datetime import date, timedelta
from typing import Any

import pytest
from django.utils import timezone

import desk_people
import people
from blockwright.engine.review.case import open_signs
from blockwright.files.lifter_file import lifter_from_table, lifter_to_table
from blockwright.store.blocks import add_revision
from blockwright.store.models import Lifter, Proposals
from blockwright.store.partner import for_partner
from blockwright.store.roster import coached_by
from blockwright.verbs.decide_letter import decide_letter
from blockwright.verbs.import_files import Given, import_files, new_lifter
from blockwright.verbs.read_letter import letter_face
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.roster import roster_line
from blockwright.verbs.save_lifter import change_lifter
from blockwright.verbs.stored_case import block_case
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db
SIGN = "chest pain"
WEEK = timedelta(days=7)
MONDAY = desk_people.START + WEEK
"""The day after the week in which the sign was written down."""


@pytest.fixture
def row(world: people.World) -> Lifter:
    notes = {"barbell back squat": "chest pain in the last set"}
    return desk_people.desk_lifter(world.cato, 1, notes=notes)


def needs(row: Lifter, today: date) -> list[str]:
    line = roster_line(Lifter.objects.get(key=row.key), today)
    return [one.need for one in line.reasons]


def of_the_sign(letter: Proposals) -> list[dict[str, Any]]:
    return [p for p in letter.document["proposals"] if p["kind"] == "refer" and SIGN in p["says"]]


@pytest.mark.parametrize("days", [0, 15, 60, 400])
def test_it_does_not_leave_the_roster_by_itself(row: Lifter, days: int) -> None:
    assert needs(row, MONDAY + timedelta(days=days))[0] == "sign"


def test_an_old_note_is_read_when_the_log_grows(row: Lifter, world: people.World) -> None:
    rest = "when,lift,load,unit,reps,rir\n2027-06-01,bench press,60,kg,8,2\n"
    import_files(world.cato, row, [Given("more.csv", rest.encode())], timezone.now())
    assert row in coached_by(world.cato)
    assert needs(row, date(2027, 6, 2))[0] == "sign"


def test_the_next_letter_refers_again_and_its_clearance_ends_it(
    row: Lifter, world: people.World
) -> None:
    first = write_letter(row, MONDAY).letter
    (line,) = of_the_sign(first)
    desk_people.train(row, world.cato, desk_people.block_from(), range(2, 3))
    second = write_letter(row, MONDAY + WEEK).letter
    assert second.document["week"] == first.document["week"] + 1
    (again,) = of_the_sign(second)
    assert again["reasons"][0]["facts"]["date"] == line["reasons"][0]["facts"]["date"]
    assert "raise_load" not in {p["kind"] for p in second.document["proposals"]}
    cleared = f"cleared_on={MONDAY + WEEK}"
    word = CoachAnswer(proposal=again["id"], verdict="changed", change=cleared, words="seen")
    decide_letter(world.cato, row, second.pk, [word], 1)
    assert "sign" not in needs(row, MONDAY + 2 * WEEK)
    following = MONDAY + 5 * WEEK
    add_revision(row, desk_people.block_from(following), world.cato)
    assert "sign" not in needs(row, following), "another block forgets no clearance"


def test_a_new_block_does_not_hide_it(row: Lifter, world: people.World) -> None:
    following = MONDAY + 5 * WEEK
    revision = add_revision(row, desk_people.block_from(following), world.cato)
    assert "sign" in needs(row, following)
    signs = open_signs(block_case(row, revision), following)
    assert [one.sign for one in signs] == [SIGN]


@pytest.mark.parametrize(
    ("note", "label", "says"),
    [
        ("chest pain in the last set", "Cleared on", "cleared by a professional on"),
        ("ache across the chest", "Asked or cleared on", "asked about or cleared on"),
    ],
)
def test_what_was_in_doubt_is_settled_by_asking(
    world: people.World, note: str, label: str, says: str
) -> None:
    row = desk_people.desk_lifter(world.cato, 1, notes={"barbell back squat": note})
    letter = write_letter(row, MONDAY).letter
    (refer,) = of_the_sign(letter)
    word = CoachAnswer(proposal=refer["id"], verdict="changed", change=f"cleared_on={MONDAY}")
    decide_letter(world.cato, row, letter.pk, [word], 1)
    lines = [line for change in letter_face(letter).changes for line in change.lines]
    (line,) = [one for one in lines if one.line.id == refer["id"]]
    assert line.field is not None
    assert line.field.label == label
    assert line.decided[0].to == f"{says} {MONDAY.day} {MONDAY:%B %Y}"
    assert "sign" not in needs(row, MONDAY)


def test_a_lifter_without_a_block_is_cleared_in_their_file(world: people.World) -> None:
    """There is no letter to answer: the day stands in the file, and counts for blocks to come."""
    example = (desk_people.ROOT / "examples" / "lifter.toml").read_text(encoding="utf-8")
    told = f"when,lift,load,unit,reps,rir,note\n{MONDAY},bench press,60,kg,8,2,chest pain\n"
    given = [Given("lifter.toml", example.encode()), Given("log.csv", told.encode())]
    row = new_lifter(world.cato, given, timezone.now())
    first = roster_line(row, MONDAY).first
    assert (first.need, first.page) == ("sign", "lifter_file")
    assert str(MONDAY.day) in first.says
    for day, is_over in ((MONDAY - timedelta(days=1), False), (MONDAY, True)):
        row.refresh_from_db()
        cleared = example + f'\n[signs]\ncleared = ["{SIGN} {day}"]\n'
        read = lifter_from_table(tomllib.loads(cleared), "lifter.toml").value
        change_lifter(world.cato, row, row.version, lifter_to_table(read), MONDAY)
        assert ("sign" not in needs(row, MONDAY)) is is_over
    revision = add_revision(row, desk_people.block_from(MONDAY + WEEK), world.cato)
    partner = for_partner(Lifter.objects.get(key=row.key), world.cato.pk)
    assert "signs" not in partner.document
    for seen in (Lifter.objects.get(key=row.key), partner):
        assert open_signs(block_case(seen, revision), MONDAY + WEEK) == ()
