"""Letters among letters: which is the latest, what came in since, what stands on each; and files
that are written whole or not at all."""

import os
from datetime import date, timedelta
from pathlib import Path
from uuid import uuid4

import pytest

import people
from blockwright.engine.errors import BadInput
from blockwright.store.facts import append
from blockwright.store.folder import replacing, write_private
from blockwright.store.letters import (
    add_letter,
    facts_since,
    last_decided_on,
    latest_letter,
    letter_with,
    letters_of,
    letters_of_block,
    revisions_after,
    standing_on,
    undecided_letters,
)
from blockwright.store.models import BlockRevision, Decision, Fact, Lifter, Proposals

THROUGH = people.MONDAY + timedelta(days=6)
NEXT = people.MONDAY + timedelta(days=49)


def letter(world: people.World, through: date, start: date = people.MONDAY) -> Proposals:
    block = world.block
    if start != block.start:
        block, _ = BlockRevision.objects.get_or_create(
            lifter=world.lifter,
            start=start,
            revision=1,
            defaults={"document": world.block.document, "status": "ready", "ends": start},
        )
    return add_letter(world.lifter, block, through, {"through": through.isoformat()})[0]


def decided(on: Proposals, proposal: str, verdict: str) -> Decision:
    return Decision.objects.create(proposals=on, proposal=proposal, verdict=verdict)


def other_lifter() -> Lifter:
    return Lifter.objects.create(name="Somebody Else", document=people.MARA_TABLE)


@pytest.mark.django_db
def test_what_came_in_after_a_letter_is_what_it_did_not_know(world: people.World) -> None:
    def fact(day: date, minutes: int, amends: Fact | None = None, **of: Lifter) -> Fact:
        new = Fact(id=uuid4(), kind="set", day=day, digest="", n=1, body={},
                   amends=None if amends is None else amends.id)  # fmt: skip
        return append(new, of.get("of", world.lifter), world.cato,
                      written.made_at + timedelta(minutes=minutes))  # fmt: skip

    written = letter(world, THROUGH)
    after = THROUGH + timedelta(days=1)
    known, later = fact(THROUGH, 0), fact(after, 1)
    assert facts_since(written) == 0, "known, or of the week after"
    fact(THROUGH, 1, of=other_lifter())
    fact(after, 2, amends=later)
    assert facts_since(written) == 0, "of another lifter, or about the week after"
    fact(after, 2, amends=known)
    assert facts_since(written) == 1, "a set of its week was put right on a later day"
    fact(THROUGH, 1)
    fact(people.MONDAY, 3)
    assert facts_since(written) == 3


@pytest.mark.django_db
def test_the_latest_letter_looks_furthest_and_was_written_last(world: people.World) -> None:
    assert latest_letter(world.lifter) is None
    second = letter(world, THROUGH + timedelta(days=7))
    first = letter(world, THROUGH)
    of_next = letter(world, NEXT + timedelta(days=6), NEXT)
    assert latest_letter(world.lifter) == of_next
    assert latest_letter(world.lifter, people.MONDAY) == second
    again, fresh = add_letter(world.lifter, world.block, second.through, {"more": 1})
    assert fresh
    assert latest_letter(world.lifter, people.MONDAY) == again
    assert add_letter(world.lifter, world.block, second.through, second.document) == (second, False)
    assert letters_of_block(world.lifter, people.MONDAY) == [first, second, again]
    assert letters_of(world.lifter) == [second, first, of_next, again]
    assert letter_with(world.lifter, first.pk) == first
    stranger = other_lifter()
    assert letter_with(stranger, first.pk) is None
    assert latest_letter(stranger) is None
    assert letters_of(stranger) == letters_of_block(stranger, people.MONDAY) == []


@pytest.mark.django_db
def test_what_stands_on_a_letter_was_not_undone_since(world: people.World) -> None:
    first, second = letter(world, THROUGH), letter(world, THROUGH + timedelta(days=7))
    assert undecided_letters(world.lifter) == [first, second]
    assert last_decided_on(first) is None
    decided(first, "raise-bench", Decision.ACCEPTED)
    decided(first, "add-row", Decision.DECLINED)
    last = decided(first, "raise-bench", Decision.UNDONE)
    assert standing_on([first, second]) == {first.pk: {"add-row"}}
    assert undecided_letters(world.lifter) == [second]
    assert last_decided_on(first) == last.at
    decided(first, "raise-bench", Decision.CHANGED)
    decided(second, "raise-bench", Decision.ACCEPTED)
    assert standing_on([first]) == {first.pk: {"add-row", "raise-bench"}}
    assert undecided_letters(world.lifter) == []


@pytest.mark.django_db
def test_revisions_after_are_of_the_same_block_and_later(world: people.World) -> None:
    def revision(number: int, start: date) -> BlockRevision:
        return BlockRevision.objects.create(
            lifter=world.lifter,
            start=start,
            ends=start,
            revision=number,
            status="ready",
            document={},
        )

    third, second = revision(3, people.MONDAY), revision(2, people.MONDAY)
    revision(4, NEXT)
    assert revisions_after(world.block) == [second, third]
    assert revisions_after(third) == []


def test_a_file_is_written_whole_or_stays_what_it_was(tmp_path: Path) -> None:
    file = tmp_path / "secret"
    left = tmp_path / f"secret.{os.getpid()}.part"
    left.write_bytes(b"of a process that was killed, which had this number")
    write_private(file, b"first")
    assert file.read_bytes() == b"first"
    assert file.stat().st_mode & 0o777 == 0o600
    with pytest.raises(ZeroDivisionError), replacing(file) as partial:
        partial.write_bytes(bytes(1 // 0))
    assert file.read_bytes() == b"first"
    assert list(tmp_path.iterdir()) == [file], "nothing is left lying about"
    with replacing(file, 0o644) as partial:
        partial.write_bytes(b"second")
    assert file.stat().st_mode & 0o777 == 0o644
    for nowhere in (tmp_path / "no" / "folder", tmp_path, Path("/"), Path(os.devnull)):
        with pytest.raises(BadInput, match="cannot be written"):
            write_private(nowhere, b"")
