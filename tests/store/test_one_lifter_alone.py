"""What the store gives of one lifter has nothing of another's in it, whose rows are as like them as
rows can be: the same days, blocks, revisions and letters."""

from collections.abc import Callable
from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

import people
from blockwright.store import facts, letters
from blockwright.store.models import BlockRevision, Decision, Fact, Lifter, Proposals
from blockwright.store.roster import roster_rows

pytestmark = pytest.mark.django_db
LATER = people.MONDAY + timedelta(days=20)

Read = Callable[[people.World], object]


def row_of(world: people.World) -> object:
    (row,) = roster_rows(Lifter.objects.filter(pk=world.lifter.pk), LATER)
    return row.facts_seq, row.block, row.another_follows, row.letter, row.letter_state


READ: dict[str, Read] = {
    "the roster": row_of,
    "her letters": lambda w: list(letters.letters_of(w.lifter)),
    "of her block": lambda w: list(letters.letters_of_block(w.lifter, people.MONDAY)),
    "the latest": lambda w: letters.latest_letter(w.lifter),
    "the latest of the block": lambda w: letters.latest_letter(w.lifter, people.MONDAY),
    "not decided": lambda w: letters.undecided_letters(w.lifter),
    "any letter": lambda w: [letters.letter_with(w.lifter, n) for n in range(1, 9)],
    "later revisions": lambda w: letters.revisions_after(w.block),
    "news of a letter": lambda w: letters.facts_since(Proposals.objects.get(lifter=w.lifter)),
    "facts": lambda w: list(facts.facts_of(w.lifter)),
    "facts of a day": lambda w: list(facts.facts_on(w.lifter, [people.MONDAY])),
    "facts with words": lambda w: list(facts.words_since(w.lifter, people.MONDAY)),
    "amended facts": lambda w: list(facts.families(w.lifter)),
    "facts after": lambda w: facts.facts_after(w.lifter, 0),
    "the last fact": lambda w: facts.last_seq(w.lifter),
    "the last of a day": lambda w: facts.last_seq(w.lifter, people.MONDAY),
    "days": lambda w: facts.days_with_sets(w.lifter, people.MONDAY),
    "the last day": lambda w: facts.last_day(w.lifter),
    "where a day begins": lambda w: facts.seq_before(w.lifter, people.MONDAY + timedelta(days=1)),
    "worse pain": lambda w: facts.has_worse_pain(w.lifter, 3, ()),
}


def trained(lifter: Lifter, days: int, pain: int, revisions: int) -> None:
    """A set on the Monday and one, corrected, `days` later; a letter, revisions."""
    for n, day in enumerate((people.MONDAY, people.MONDAY + timedelta(days=days)), start=1):
        new = Fact(id=uuid4(), kind="set", day=day, digest="", n=n, body={"pain": pain})
        first = facts.append(new, lifter, None, timezone.now())
    again = {"pain": pain, "note": "the left elbow"}
    word = Fact(id=uuid4(), kind="set", day=first.day, digest="", n=3, body=again, amends=first.id)
    facts.append(word, lifter, None, timezone.now())
    for revision in range(1, revisions + 1):
        rest = {"status": "ready", "ends": people.MONDAY + timedelta(days=13),
                "document": people.block_document(revision)}  # fmt: skip
        BlockRevision.objects.get_or_create(
            lifter=lifter, start=people.MONDAY, revision=revision, defaults=rest
        )
    of = BlockRevision.objects.get(lifter=lifter, revision=1)
    document = {"proposals": [{"id": "p1"}, {"id": "p2"}]}
    letters.add_letter(lifter, of, people.MONDAY + timedelta(days=6), document)


def test_nothing_of_another_lifter_is_among_it(world: people.World) -> None:
    trained(world.lifter, days=2, pain=2, revisions=1)
    before = {what: read(world) for what, read in READ.items()}
    assert before["the last day"] == people.MONDAY + timedelta(days=2)
    assert before["days"] == [people.MONDAY, people.MONDAY + timedelta(days=2)]
    assert (before["not decided"], before["worse pain"]) == (before["her letters"], False)
    other = Lifter.objects.create(name="Somebody Else", document=people.MARA_TABLE)
    trained(other, days=9, pain=8, revisions=3)
    BlockRevision.objects.create(
        lifter=other, start=people.MONDAY + timedelta(days=14), revision=1, status="ready",
        ends=people.MONDAY + timedelta(days=27), document=people.block_document(1),
    )  # fmt: skip
    (theirs,) = Proposals.objects.filter(lifter=other)
    Decision(proposals=theirs, proposal="p1", verdict="accepted", by=world.cato).save()
    assert {what: read(world) for what, read in READ.items()} == before
