"""Proposals to JSON and back to what `revise` needs of them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.review import Offered, Proposal, Review, To, side_of
from blockwright.engine.review.proposals import Stay
from blockwright.engine.review.settle import Question
from blockwright.engine.review.training_facts import Climb, printed_climb
from blockwright.files.block_json import read_document
from blockwright.files.codec import document, from_json, special, wider
from blockwright.files.letter_line import LetterLine, line_of
from blockwright.files.schemas import problems_against
from blockwright.files.words import caution_lines, reason_short

_CAUTIONS = tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterProposal(Proposal):
    """A proposal with its line of the letter."""

    line: LetterLine


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterStay(Stay):
    """What stays, and why in a few words."""

    short: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """What the document holds."""

    lifter: str
    block_revision: int
    through: date
    week: int | None
    verdict: Reason
    proposals: tuple[LetterProposal, ...]
    climb: Climb
    stays: tuple[LetterStay, ...]
    notes: tuple[Reason, ...]
    cautions: tuple[Caution, ...]
    caution_lines: tuple[str, ...]
    settle: tuple[Question, ...]
    message: str = ""
    """To the lifter; put in by `verbs/letter_document.py`."""


def proposals_to_json(review: Review) -> dict[str, Any]:
    """The `blockwright/proposals/1` document."""
    letter = Letter(
        lifter=review.case.lifter.name,
        block_revision=review.case.block.revision,
        through=review.through,
        week=review.week,
        verdict=review.verdict,
        proposals=tuple(
            wider(one, LetterProposal, line=line_of(one, review)) for one in review.proposals
        ),
        climb=printed_climb(review.case, review.proposals),
        stays=tuple(wider(one, LetterStay, short=reason_short(one.why)) for one in review.stays),
        notes=review.notes,
        cautions=review.cautions,
        caution_lines=tuple(caution_lines(review.cautions)),
        settle=review.settle,
    )
    return document("proposals", letter)


def _side(side: To) -> dict[str, Any]:
    return {side.key: side.value} | ({} if side.then is None else {"then": side.then})


def _one_of(key: str, value: dict[str, Any], **more: Any) -> dict[str, Any]:
    properties = {key: value, **more}
    return {"type": "object", "required": [key], "properties": properties,
            "additionalProperties": False}  # fmt: skip


special(To, _side, {"anyOf": [
    _one_of("sets", {"type": "number", "minimum": 0}),
    _one_of("load_kg", {"type": ["number", "null"], "minimum": 0}),
    _one_of("lift", {"type": "string"}),
    _one_of("week_kind", {"enum": ["build", "repeat", "light", "deload"]},
            then={"enum": ["on", "end"]}),
    _one_of("weeks", {"type": "integer", "minimum": 1}),
]}, side_of)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposalsFile:
    """What `revise` reads of a proposals document."""

    lifter: str
    block_revision: int
    offered: Mapping[str, Offered]
    """By id, in the order of the file."""
    cautions: tuple[Caution, ...]
    """All of them, the document's and its proposals'."""


def read_proposals(path: Path) -> ProposalsFile:
    """The proposals in a JSON file; BadInput names file and place when it is not one."""
    return proposals_from_json(read_document(path), path.name)


def proposals_from_json(document: Mapping[str, Any], file: str) -> ProposalsFile:
    """The proposals of a document; checked against its schema first, then converted."""
    problems = problems_against("proposals", document, file)
    if problems:
        raise BadInput(problems)
    offered = [_offered(item) for item in document["proposals"]]
    cautions = [*from_json(_CAUTIONS, document["cautions"])]
    for each in offered:
        cautions += each.cautions
    return ProposalsFile(
        lifter=document["lifter"],
        block_revision=document["block_revision"],
        offered={each.id: each for each in offered},
        cautions=tuple(
            caution for index, caution in enumerate(cautions) if caution not in cautions[:index]
        ),
    )


def _offered(item: Mapping[str, Any]) -> Offered:
    about = next((r["facts"]["about"] for r in item["reasons"] if "about" in r["facts"]), None)
    offered: Offered = from_json(Offered, item)
    return replace(offered, about=about)
