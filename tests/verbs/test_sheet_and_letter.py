"""The site's sheet and a letter that nobody has answered."""

from datetime import timedelta

import pytest

import desk_people
import people
from blockwright.verbs.decide_letter import decide_letter
from blockwright.verbs.phone_sheet import SessionName, phone_sheet, prepare, sheet_state
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db


def test_a_sheet_says_that_a_letter_waits_for_its_lifts(world: people.World) -> None:
    row = desk_people.desk_lifter(world.cato, 1)
    letter = write_letter(row, desk_people.sunday(1) + timedelta(days=1)).letter
    changed = next(p for p in letter.document["proposals"] if p["session"] and p["lift"])
    name = SessionName(desk_people.START, changed["week"], changed["session"])

    def told() -> list[str]:
        notes = phone_sheet(prepare(row, name))["sheet"]["notes"]
        return [note["says"] for note in notes if note["code"] == "sheet_letter_waits"]

    (says,) = told()
    assert changed["lift"] in says
    before = sheet_state(row, name)
    word = CoachAnswer(proposal=changed["id"], verdict="declined")
    decide_letter(world.cato, row, letter.pk, [word], 1)
    assert sheet_state(row, name) != before
    assert told() == []
