"""The ledger: what was proposed and decided, and by whom; and how it is searched."""

from datetime import timedelta
from typing import Any

import pytest
from django.utils.timezone import localtime

import desk_people
import people
from blockwright.engine.training import Block
from blockwright.store.blocks import add_revision, block_of
from blockwright.store.models import Lifter
from blockwright.verbs.decide_letter import decide_letter
from blockwright.verbs.ledger import LedgerLine, LedgerQuestion, ledger, margin_notes
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.stored_values import block_value
from blockwright.verbs.write_letter import write_letter

pytestmark = pytest.mark.django_db
MONDAY = desk_people.sunday(1) + timedelta(days=1)
BY_HAND = {
    "proposal": "r3-coach-rest", "kind": "coach_rest", "decision": "changed",
    "words": "new plan", "change": {"week": 3},
}  # fmt: skip


@pytest.fixture(scope="module")
def written(rows_kept: None) -> Lifter:
    """One week done; of what was proposed for the second two loads were taken, one changed, one
    declined; then the coach's own change."""
    world = people.make_world()
    made = desk_people.desk_lifter(world.cato, 1)
    letter = write_letter(made, MONDAY).letter
    raised = raises(made)
    lower = f"load_kg={raised[1]['before']['load_kg']} kg"
    answers = [
        CoachAnswer(proposal=raised[0]["id"], verdict="accepted"),
        CoachAnswer(proposal=raised[1]["id"], verdict="changed", change=lower, words="as it was"),
        CoachAnswer(proposal=raised[2]["id"], verdict="declined", words="not yet, elbow"),
        CoachAnswer(proposal=raised[3]["id"], verdict="accepted"),
    ]  # fmt: skip
    document = decide_letter(world.cato, made, letter.pk, answers, 1).revision.document
    more = {"revision": 3, "decisions": [*document["decisions"], BY_HAND]}
    add_revision(made, document | more, world.orla)
    return made


def raises(row: Lifter) -> list[dict[str, Any]]:
    """Four loads to be raised, of as many lifts."""
    offered = row.proposals.get().document["proposals"]
    return list({p["lift"]: p for p in offered if p["kind"] == "raise_load"}.values())[:4]


@pytest.fixture
def row(db: Any, written: Lifter) -> Lifter:
    return written


def told(line: LedgerLine) -> tuple[Any, ...]:
    return line.verdict, line.kind, line.week, line.lift, line.to, line.words, line.by


def asked(row: Lifter, **question: Any) -> list[tuple[Any, ...]]:
    return [told(line) for line in ledger(row, LedgerQuestion(**question)).lines]


def stored(row: Lifter) -> Block:
    found = block_of(row, desk_people.START)
    assert found is not None
    return block_value(found)


def decided(row: Lifter) -> list[tuple[Any, ...]]:
    """The coach's own decisions lead, then what was accepted, the last first."""
    taken, changed, declined, too = raises(row)
    was = f"{changed['before']['load_kg']:g} kg"
    return [
        ("by hand", "coach_rest", 3, "", "", "new plan", "Orla"),
        ("changed", "raise_load", 2, changed["lift"], was, "as it was", "Cato"),
        ("declined", "raise_load", 2, declined["lift"], "", "not yet, elbow", "Cato"),
        ("accepted", "raise_load", 2, too["lift"], "", "", "Cato"),
        ("accepted", "raise_load", 2, taken["lift"], "", "", "Cato"),
    ]


def test_every_line_says_what_was_decided(row: Lifter) -> None:
    offered = row.proposals.get().document["proposals"]
    everything = ledger(row, LedgerQuestion())
    assert [told(line) for line in everything.lines[:5]] == decided(row)
    assert {line.verdict for line in everything.lines[5:]} == {"open"}
    assert (everything.found, everything.page, everything.pages) == (len(offered) + 1, 1, 1)
    assert everything.kinds == tuple(sorted({"coach_rest", *(one["kind"] for one in offered)}))
    assert everything.lifts == tuple(sorted({one["lift"] for one in offered}))
    changed = everything.lines[1]
    assert changed.says == raises(row)[1]["says"]
    assert changed.sure.endswith("sure")
    assert changed.block == desk_people.START


def test_a_question_finds_what_fits_all_of_it(row: Lifter) -> None:
    everything, day, lines = ledger(row, LedgerQuestion()), timedelta(days=1), decided(row)
    first, *_, last = sorted(localtime(line.at).date() for line in everything.lines)
    assert asked(row, verdict="accepted") == lines[3:]
    assert asked(row, lift=lines[1][3], verdict="changed") == lines[1:2]
    assert asked(row, text="ELBOW not") == lines[2:3]
    assert asked(row, text="elbow orla") == []
    assert asked(row, kind="coach_rest") == asked(row, text="orla") == lines[:1]
    assert len(asked(row, first=first, last=last)) == everything.found
    assert asked(row, first=last + day) == asked(row, last=first - day) == []
    assert asked(row, page=7) == asked(row)


def test_the_margin_tells_what_changed_the_block(row: Lifter) -> None:
    taken, changed, _, too = raises(row)
    says = changed["says"].rstrip(".")
    was = f"{changed['before']['load_kg']:g} kg"
    notes = {(n.says, n.words, n.week, n.lift, n.session) for n in margin_notes(row, stored(row))}
    assert notes == {
        *(
            (f"Proposed and accepted: {one['says'].rstrip('.')}.", "", 2, one["lift"],
             one["session"])
            for one in (taken, too)
        ),
        (f"Proposed: {says}. Changed by the coach to {was}.", "as it was", 2, changed["lift"],
         changed["session"]),
        ("Solved anew from week 3 on, around what is locked and was changed by hand.", "new plan",
         3, None, None),
    }  # fmt: skip
