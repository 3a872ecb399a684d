"""Letters come in with the blocks they were written for, and what was decided with the blocks."""

import json
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone

from blockwright.engine.errors import BadInput
from blockwright.store.models import Decision, Lifter, Proposals
from blockwright.verbs.import_files import Given, Taken, import_files, new_lifter

pytestmark = pytest.mark.django_db
GOLDENS = Path(__file__).resolve().parents[1] / "goldens"


def golden(name: str) -> dict[str, Any]:
    return dict(json.loads((GOLDENS / f"{name}.json").read_text(encoding="utf-8")))


def given(name: str, document: dict[str, Any]) -> Given:
    return Given(name, json.dumps(document).encode())


def decided_block() -> dict[str, Any]:
    """The golden block as a second revision, with a yes and a no to the golden letter."""
    block, letter = golden("block"), golden("proposals")
    words = [("accepted", ""), ("declined", "not this week")]
    told = [
        {"proposal": one["id"], "kind": one["kind"], "decision": verdict, "words": said,
         "change": {"week": one["week"], "lift": one["lift"] or ""}}
        for one, (verdict, said) in zip(letter["proposals"], words, strict=False)
    ]  # fmt: skip
    return block | {"revision": 2, "decisions": [*block["decisions"], *told]}


def taken(row: Lifter, *files: Given) -> Taken:
    return import_files(None, row, files, timezone.now())


def test_a_letter_and_what_was_decided_come_in_once() -> None:
    row = new_lifter(None, [given("block.json", golden("block"))], timezone.now())
    # The letter is named first: it waits for its block all the same.
    files = (given("letter.json", golden("proposals")), given("block-2.json", decided_block()))
    first = taken(row, *files)
    assert (first.blocks, first.letters, first.decisions) == (1, 1, 2)
    letter = Proposals.objects.get(lifter=row)
    assert (letter.block.revision, letter.document) == (1, golden("proposals"))
    said = [(one.verdict, one.words, one.led_to and one.led_to.revision)
            for one in Decision.objects.filter(proposals=letter)]  # fmt: skip
    assert said == [("accepted", "", 2), ("declined", "not this week", 2)]
    again = taken(row, *files)
    assert (again.blocks, again.letters, again.decisions) == (0, 0, 0)
    assert (Proposals.objects.count(), Decision.objects.count()) == (1, 2)


def test_a_block_that_comes_later_tells_what_was_decided() -> None:
    row = new_lifter(None, [given("block.json", golden("block"))], timezone.now())
    assert taken(row, given("letter.json", golden("proposals"))).decisions == 0
    assert taken(row, given("block-2.json", decided_block())).decisions == 2


def test_a_letter_without_its_block_is_refused_whole() -> None:
    row = new_lifter(None, [given("block.json", golden("block"))], timezone.now())
    letter = golden("proposals")
    for broken, words in (
        (letter | {"block_revision": 7}, "revision 7"),
        (letter | {"through": "2001-01-01"}, "not here yet"),
        (letter | {"lifter": "Somebody Else"}, "Somebody Else"),
        ({key: value for key, value in letter.items() if key != "week"}, "week"),
    ):
        with pytest.raises(BadInput, match=words):
            taken(row, given("letter.json", broken))
    assert not Proposals.objects.exists()
