"""Takes the review's letters into the site, and what blocks say was decided on them."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.files.schemas import problems_against
from blockwright.store.blocks import revision_on
from blockwright.store.letters import (
    add_decisions,
    add_letter,
    revisions_after,
    undecided_letters,
)
from blockwright.store.models import Decision, Lifter, Proposals

LETTER = "blockwright/proposals/"


def require_letter(document: dict[str, Any], file: str) -> None:
    """BadInput for a document that is not a sound `blockwright/proposals/1`."""
    found = problems_against("proposals", document, file)
    if found:
        raise BadInput(found)


def take_letter(row: Lifter, document: dict[str, Any], file: str) -> bool:
    """Stores a sound letter with the block revision it was written for; whether it is new.
    BadInput when that block is not here. Needs a transaction and the lifter's lock."""
    through, number = date.fromisoformat(document["through"]), document["block_revision"]
    block = revision_on(row, through, number)
    if block is None:
        says = f"was written for revision {number} of a block of before {through}, not here yet"
        raise BadInput.of(says, "give that block's file with it", file=file)
    return add_letter(row, block, through, document)[1]


def take_decisions(row: Lifter, by: User | None) -> int:
    """For letters without any decision: those that the next revision of their block tells of.
    How many. Needs a transaction and the lifter's lock."""
    return sum(_decided(letter, by) for letter in undecided_letters(row))


def _decided(letter: Proposals, by: User | None) -> int:
    offered = {one["id"] for one in letter.document["proposals"]}
    before = len(letter.block.document["decisions"])
    for following in revisions_after(letter.block):
        told = following.document["decisions"][before:]
        news = [_new(one) for one in told if one["proposal"] in offered]
        if news:
            add_decisions(letter, news, following, by)
            return len(news)
    return 0


def _new(one: Mapping[str, Any]) -> Decision:
    return Decision(
        proposal=one["proposal"],
        verdict=one["decision"],
        words=one["words"],
        change=dict(one["change"]),
    )
