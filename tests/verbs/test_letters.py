"""Letters of the review on the site: written from the store, decided on, never overwritten."""

from copy import deepcopy
from datetime import date, timedelta
from typing import Any

import pytest
from django.db import DatabaseError, connection, transaction
from django.http import Http404
from django.utils import timezone

import desk_people
import people
from blockwright.engine.errors import BadInput, ChangedMeanwhile
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import plain
from blockwright.store.blocks import add_revision, block_of
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals
from blockwright.verbs.decide_letter import all_open, decide_letter
from blockwright.verbs.ledger import BY_HAND, LedgerQuestion, ledger
from blockwright.verbs.read_letter import letter_face, letter_page
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.stored_values import block_value
from blockwright.verbs.write_letter import (
    default_through,
    evening,
    suggested_through,
    write_all,
    write_letter,
)

pytestmark = pytest.mark.django_db

START = desk_people.START
SUNDAY = desk_people.sunday(1)
MONDAY = SUNDAY + timedelta(days=1)
PAINFUL = "barbell back squat"


@pytest.fixture(scope="module")
def gym(rows_kept: None) -> tuple[people.World, Lifter]:
    """Everybody, and a lifter with a week done as written."""
    made = people.make_world()
    return made, desk_people.desk_lifter(made.cato, 1)


@pytest.fixture
def world(db: Any, gym: tuple[people.World, Lifter]) -> people.World:
    return deepcopy(gym[0])


@pytest.fixture
def row(db: Any, gym: tuple[people.World, Lifter]) -> Lifter:
    return Lifter.objects.get(pk=gym[1].pk)


@pytest.fixture
def letter(row: Lifter) -> Proposals:
    return write_letter(row, MONDAY).letter


def first_of(letter: Proposals, kind: str) -> dict[str, Any]:
    return next(dict(p) for p in letter.document["proposals"] if p["kind"] == kind)


def said(proposal: dict[str, Any], verdict: Any, **more: str) -> CoachAnswer:
    return CoachAnswer(proposal=proposal["id"], verdict=verdict, **more)


def load_in(block: BlockRevision, proposal: dict[str, Any]) -> float:
    found = [
        entry["sets"][0]["load_kg"]
        for week in block.document["weeks"]
        for session in week["sessions"]
        for entry in session["entries"]
        if (week["week"], session["session"], entry["lift"])
        == (proposal["week"], proposal["session"], proposal["lift"])
    ]
    return float(found[0])


# --------------------------------------------------------------------------------------- write


def test_the_letter_is_the_commands_own_document(row: Lifter, letter: Proposals) -> None:
    assert letter.document["format"] == "blockwright/proposals/1"
    assert letter.document["week"] == 2
    assert letter.through == SUNDAY
    assert letter.block.revision == 1


def test_the_same_inputs_give_the_same_letter_which_is_stored_once(
    row: Lifter, letter: Proposals
) -> None:
    again = write_letter(row, MONDAY)
    assert (again.letter.pk, again.new) == (letter.pk, False)
    assert Proposals.objects.count() == 1


def test_more_facts_give_another_letter(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    block = desk_people.block_from()
    desk_people.train(row, world.cato, block, range(2, 3))
    again = write_letter(row, MONDAY + timedelta(days=14))
    assert again.new
    assert again.letter.document["week"] == 3


@pytest.mark.parametrize(
    ("today", "through"),
    [
        (MONDAY, SUNDAY),
        (SUNDAY, SUNDAY - timedelta(days=1)),
        (START + timedelta(days=2), START + timedelta(days=1)),
        (MONDAY + timedelta(days=30), SUNDAY),
    ],
)
def test_the_last_day_is_that_of_the_last_week_with_sets(
    row: Lifter, today: Any, through: Any
) -> None:
    block = block_value(block_of(row, START))  # type: ignore[arg-type]
    assert default_through(row, block, today) == through


def test_sets_of_before_the_block_say_nothing_of_its_weeks(world: people.World) -> None:
    row, start = world.lifter, people.MONDAY
    ninth, block = start + timedelta(days=9), desk_people.block_from(start)
    earlier = desk_people.block_from(start - timedelta(days=28))
    desk_people.train(row, world.cato, earlier, range(1, 2))
    assert suggested_through(row, start + timedelta(days=1)) == start
    assert suggested_through(row, ninth) == start + timedelta(days=8)
    first, *rest = block["weeks"][0]["sessions"]
    first["date"] = start.isoformat()
    for session in rest:
        session["entries"] = []
    desk_people.train(row, world.cato, block, range(1, 2))
    assert suggested_through(row, ninth) == start + timedelta(days=6), "its first day counts"


def test_a_week_that_goes_on_is_left_for_later(world: people.World, row: Lifter) -> None:
    desk_people.train(row, world.cato, desk_people.block_from(), range(2, 3))
    block = block_value(block_of(row, START))  # type: ignore[arg-type]
    assert default_through(row, block, MONDAY + timedelta(days=1)) == SUNDAY


def test_a_session_of_today_is_still_to_come_and_one_of_yesterday_was_missed(
    world: people.World, row: Lifter
) -> None:
    block = desk_people.block_from()
    last = block["weeks"][1]["sessions"][-1]
    day, last["entries"] = date.fromisoformat(last["date"]), []
    desk_people.train(row, world.cato, block, range(2, 3))
    planned = block_value(block_of(row, START))  # type: ignore[arg-type]
    assert default_through(row, planned, day) == SUNDAY
    assert default_through(row, planned, day + timedelta(days=1)) == day
    desk_people.train(row, world.cato, desk_people.block_from(), range(2, 3))
    assert default_through(row, planned, day) == day, "it is done"


@pytest.mark.parametrize(
    ("days", "words"), [(10, "is yet to come"), (-10, "nothing of this block")]
)
def test_a_day_that_cannot_be_reviewed_is_refused(row: Lifter, days: int, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        write_letter(row, MONDAY, START + timedelta(days=days))


def test_without_a_block_there_is_nothing_to_review(world: people.World) -> None:
    with pytest.raises(BadInput, match="no block to review"):
        write_letter(world.other, MONDAY)


# -------------------------------------------------------------------------------------- decide


def test_accept_all_makes_the_next_revision_and_names_every_proposal(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    made = decide_letter(world.cato, row, letter.pk, all_open(row, letter.pk, "as usual"), 1)
    assert made.new
    assert made.revision.revision == 2
    assert made.revision.made_by == world.cato
    names = [one["id"] for one in letter.document["proposals"]]
    assert [one["proposal"] for one in made.revision.document["decisions"]] == names
    rows = Decision.objects.filter(proposals=letter)
    assert {one.verdict for one in rows} == {"accepted"}
    assert {one.words for one in rows} == {"as usual"}
    assert {one.led_to_id for one in rows} == {made.revision.pk}
    raised = first_of(letter, "raise_load")
    assert load_in(made.revision, raised) == raised["after"]["load_kg"]


def test_change_takes_the_coachs_own_value(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    lower = f"load_kg={raised['before']['load_kg']} kg"
    word = said(raised, "changed", change=lower, words="one week more")
    made = decide_letter(world.cato, row, letter.pk, [word], 1)
    assert load_in(made.revision, raised) == raised["before"]["load_kg"]
    stored = Decision.objects.get(proposals=letter)
    assert (stored.verdict, stored.words) == ("changed", "one week more")
    assert stored.change["load_kg"] == raised["before"]["load_kg"]


def test_declining_leaves_the_numbers_and_keeps_the_words(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    following = letter.block.document | {"start": f"{START + timedelta(days=70)}"}
    for revision in (1, 2):  # a block to come changes nothing of this one
        add_revision(row, following | {"revision": revision}, world.cato)
    made = decide_letter(
        world.cato, row, letter.pk, [said(raised, "declined", words="knee first")], 1
    )
    assert load_in(made.revision, raised) == load_in(letter.block, raised)
    assert Decision.objects.get(proposals=letter).words == "knee first"


def test_every_problem_is_told_and_nothing_is_stored(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    word = said(raised, "changed", change="load_kg=190")
    with pytest.raises(BadInput) as caught:
        decide_letter(world.cato, row, letter.pk, [word], 1)
    assert "at most 10 % at once" in str(caught.value)
    assert caught.value.problems[0].key == raised["id"]
    with pytest.raises(BadInput, match="nothing is decided"):
        decide_letter(world.cato, row, letter.pk, [], 1)
    assert Decision.objects.count() == 0
    assert BlockRevision.objects.filter(lifter=row).count() == 1


def test_the_same_form_sent_twice_is_one_decision(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    words = all_open(row, letter.pk)
    first = decide_letter(world.cato, row, letter.pk, words, 1)
    again = decide_letter(world.cato, row, letter.pk, words, 1)
    assert (again.new, again.revision.pk) == (False, first.revision.pk)
    assert Decision.objects.count() == len(words)


def test_a_later_decision_stands_beside_the_first(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    decide_letter(world.cato, row, letter.pk, all_open(row, letter.pk), 1)
    decided = Decision.objects.count()
    made = decide_letter(
        world.orla, row, letter.pk, [said(raised, "declined", words="no, wait")], 2
    )
    assert made.revision.revision == 3
    assert load_in(made.revision, raised) == load_in(letter.block, raised)
    assert Decision.objects.count() == decided + 1
    both = Decision.objects.filter(proposal=raised["id"])
    assert [(one.verdict, one.by) for one in both] == [
        ("accepted", world.cato),
        ("declined", world.orla),
    ]
    told = [
        one["decision"]
        for one in made.revision.document["decisions"]
        if one["proposal"] == raised["id"]
    ]
    assert told == ["accepted", "declined"]
    # What was accepted before and not taken back still holds.
    other = [p for p in letter.document["proposals"] if p["kind"] == "raise_load"][1]
    assert load_in(made.revision, other) == other["after"]["load_kg"]


def test_line_by_line_comes_to_the_same_block_as_all_at_once(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    words = all_open(row, letter.pk)
    for number, word in enumerate(words, start=1):
        made = decide_letter(world.cato, row, letter.pk, [word], number)
    other = desk_people.desk_lifter(world.stig, 1)
    same = write_letter(other, MONDAY).letter
    at_once = decide_letter(world.stig, other, same.pk, all_open(other, same.pk), 1)
    assert made.revision.document["weeks"] == at_once.revision.document["weeks"]


def test_what_was_decided_can_be_undone(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised, other = [p for p in letter.document["proposals"] if p["kind"] == "raise_load"][:2]
    words = [said(raised, "accepted"), said(other, "accepted")]
    decide_letter(world.cato, row, letter.pk, words, 1)
    undone = [said(raised, "undone")]
    made = decide_letter(world.cato, row, letter.pk, undone, 2)
    assert load_in(made.revision, raised) == load_in(letter.block, raised)
    assert load_in(made.revision, other) == other["after"]["load_kg"]
    assert [d["proposal"] for d in made.revision.document["decisions"]] == [other["id"]]
    assert raised["id"] in {one.proposal for one in all_open(row, letter.pk)}
    face = letter_face(letter)
    assert face.open_count == len(face.lines) - 1
    assert [name for one in face.changes for name in one.decided_names] == [other["id"]]
    assert sum(len(one.open_names) for one in face.changes) == face.open_count
    # Sent twice it is one; what was never decided cannot be undone.
    assert not decide_letter(world.cato, row, letter.pk, undone, 3).new
    verdicts = Decision.objects.filter(proposal=raised["id"]).values_list("verdict", flat=True)
    assert list(verdicts) == ["accepted", "undone"]


def test_a_clearance_that_was_undone_holds_for_no_block(world: people.World) -> None:
    row = desk_people.desk_lifter(world.cato, 1, notes={PAINFUL: "felt faint after the last"})
    letter = write_letter(row, MONDAY).letter
    refer = first_of(letter, "refer")
    cleared = said(refer, "changed", change=f"cleared_on={MONDAY}")
    before = dict(row.document.get("screening", {}))
    decide_letter(world.cato, row, letter.pk, [cleared], 1)
    made = decide_letter(world.cato, row, letter.pk, [said(refer, "undone")], 2)
    row.refresh_from_db()
    assert row.document.get("screening", {}) == before
    assert not [d for d in made.revision.document["decisions"] if d["proposal"] == refer["id"]]


# ------------------------------------------------------------------------------------- evening


def test_all_letters_are_written_in_one_go_and_wait_in_order_of_need(
    world: people.World, row: Lifter
) -> None:
    hurt = desk_people.desk_lifter(world.cato, 1, pain={PAINFUL: 8})
    desk_people.desk_lifter(world.orla, 1)
    before = evening(world.cato, MONDAY)
    assert {one.key for one in before.due} == {row.key, hurt.key}
    written, failed = write_all(world.cato, MONDAY)
    assert (len(written), failed) == (2, [])
    found = evening(world.cato, MONDAY)
    assert found.due == ()
    assert [one.lifter.key for one in found.letters] == [hurt.key, row.key]
    assert found.waiting == 2
    first = found.letters[0].face.row
    decide_letter(world.cato, hurt, first.pk, all_open(hurt, first.pk), 1)
    today = timezone.localdate()
    later = evening(world.cato, today)
    assert [one.lifter.key for one in later.letters] == [row.key, hurt.key], "decided, so last"
    assert later.waiting == 1
    assert evening(world.cato, today + timedelta(days=1)).waiting == 1
    assert len(evening(world.cato, today + timedelta(days=1)).letters) == 1


# --------------------------------------------------------------------------------------- stale


def test_what_another_coach_decided_meanwhile_is_not_overwritten(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    decide_letter(world.orla, row, letter.pk, [said(raised, "declined")], 1)
    with pytest.raises(ChangedMeanwhile, match="Orla decided on this letter meanwhile"):
        decide_letter(world.cato, row, letter.pk, [said(raised, "accepted")], 1)
    assert Decision.objects.count() == 1


def test_a_letter_for_an_older_revision_is_refused(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    from dataclasses import replace

    edited = replace(block_value(letter.block), revision=2)
    add_revision(row, dict(plain(block_to_json(edited))), world.orla)
    for seen in (1, 2):
        with pytest.raises(ChangedMeanwhile, match=r"written for revision 1 .* changed by Orla"):
            decide_letter(world.cato, row, letter.pk, all_open(row, letter.pk), seen)
    assert Decision.objects.count() == 0
    anew = write_letter(row, MONDAY, letter.through)
    assert anew.new
    assert decide_letter(world.cato, row, anew.letter.pk, all_open(row, anew.letter.pk), 2).new


def test_only_the_last_letter_is_decided_on(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    desk_people.train(row, world.cato, desk_people.block_from(), range(2, 3))
    write_letter(row, MONDAY + timedelta(days=7))
    with pytest.raises(ChangedMeanwhile, match="a later letter has been written"):
        decide_letter(world.cato, row, letter.pk, all_open(row, letter.pk), 1)


def test_a_letter_of_somebody_else_is_none(world: people.World, letter: Proposals) -> None:
    with pytest.raises(Http404):
        decide_letter(world.stig, world.other, letter.pk, [], 1)


# -------------------------------------------------------------------------------------- safety


@pytest.fixture
def hurt(world: people.World) -> tuple[Lifter, Proposals]:
    """A week in which a lift hurt above the line at which it stops."""
    row = desk_people.desk_lifter(world.cato, 1, pain={PAINFUL: 7})
    return row, write_letter(row, MONDAY).letter


def test_a_caution_cannot_be_declined_away(
    world: people.World, hurt: tuple[Lifter, Proposals]
) -> None:
    row, letter = hurt
    cautions = letter.document["cautions"]
    assert cautions
    declined = [
        CoachAnswer(proposal=p["id"], verdict="declined") for p in letter.document["proposals"]
    ]
    made = decide_letter(world.cato, row, letter.pk, declined, 1)
    kept = [one["says"] for one in made.revision.document["cautions"]]
    assert {one["says"] for one in cautions} <= set(kept)
    page = letter_page(row, letter.pk, MONDAY)
    assert page is not None
    assert [one.says for one in page.face.letter.cautions] == [one["says"] for one in cautions]


def test_a_lift_that_hurts_does_not_climb_though_the_stop_was_declined(
    world: people.World, hurt: tuple[Lifter, Proposals]
) -> None:
    row, letter = hurt
    stop = first_of(letter, "stop_lift")
    made = decide_letter(world.cato, row, letter.pk, [said(stop, "declined")], 1)
    weeks = block_value(made.revision).weeks
    here = {
        week.week: next(e for s in week.sessions for e in s.entries if e.lift == PAINFUL)
        for week in weeks
    }
    asked = int(stop["week"])
    assert here[asked].sets[0].load_kg == here[asked - 1].sets[0].load_kg
    assert all(one.waits is (week > asked) for week, one in here.items())


@pytest.fixture
def warned(world: people.World) -> tuple[Lifter, Proposals]:
    """A week in which a sign of the whole body was written down."""
    row = desk_people.desk_lifter(world.cato, 1, notes={PAINFUL: "chest pain in the last set"})
    return row, write_letter(row, MONDAY).letter


def test_an_accepted_referral_makes_the_block_wait(
    world: people.World, warned: tuple[Lifter, Proposals]
) -> None:
    row, letter = warned
    made = decide_letter(world.cato, row, letter.pk, all_open(row, letter.pk), 1)
    assert made.revision.status == "refer"


def test_a_clearance_of_a_sign_stands_with_the_decision_and_clears_no_answer(
    world: people.World, warned: tuple[Lifter, Proposals]
) -> None:
    row, letter = warned
    screening = row.document.get("screening")
    refer = first_of(letter, "refer")
    word = said(refer, "changed", change="cleared_on=2026-01-13", words="seen by her doctor")
    before = row.version
    made = decide_letter(world.cato, row, letter.pk, [word], 1)
    assert made.revision.status == "ready"
    row.refresh_from_db()
    assert (row.document.get("screening"), row.version) == (screening, before)
    assert Decision.objects.get(proposals=letter).change["cleared_on"] == "2026-01-13"


def test_the_database_refuses_to_change_a_decision(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    decide_letter(world.cato, row, letter.pk, all_open(row, letter.pk), 1)
    for statement in ("UPDATE store_decision SET words = 'no'", "DELETE FROM store_decision"):
        with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
            connection.cursor().execute(statement)


def test_the_ledger_tells_decisions_and_changes_by_hand_in_order(
    world: people.World, row: Lifter, letter: Proposals
) -> None:
    raised = first_of(letter, "raise_load")
    made = decide_letter(world.cato, row, letter.pk, [said(raised, "declined", words="not yet")], 1)
    by_hand = {
        "proposal": "r3-coach-rest", "kind": "coach_rest", "decision": "changed",
        "words": "new plan", "change": {"week": 3},
    }  # fmt: skip
    document = made.revision.document | {
        "revision": 3,
        "decisions": [*made.revision.document["decisions"], by_hand],
    }
    add_revision(row, document, world.orla)
    found = (
        ledger(row, LedgerQuestion(verdict=BY_HAND)).lines
        + ledger(row, LedgerQuestion(verdict="declined")).lines
    )
    assert [(line.verdict, line.words, line.by) for line in found] == [
        ("by hand", "new plan", "Orla"),
        ("declined", "not yet", "Cato"),
    ]
    everything = ledger(row, LedgerQuestion())
    assert everything.found == len(letter.document["proposals"]) + 1
