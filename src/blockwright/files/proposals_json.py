"""Proposals to JSON and back to what `revise` needs of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput
from blockwright.engine.reasons import Caution
from blockwright.engine.review import Offered, Proposal, Review, RunnerUp, To, side_of
from blockwright.engine.review.proposals import Stay
from blockwright.engine.review.training_facts import printed_climb
from blockwright.files.block_json import read_document
from blockwright.files.codec import from_json, to_json
from blockwright.files.letter_line import line_json
from blockwright.files.schemas import problems_against
from blockwright.files.words import caution_lines, reason_says, reason_short

FORMAT = "blockwright/proposals/1"
_CAUTIONS = tuple[Caution, ...]


def proposals_to_json(review: Review) -> dict[str, Any]:
    """The `blockwright/proposals/1` document."""
    climb = printed_climb(review.case, review.proposals)
    return {
        "format": FORMAT,
        "lifter": review.case.lifter.name,
        "block_revision": review.case.block.revision,
        "through": review.through.isoformat(),
        "week": review.week,
        "verdict": reason_says(review.verdict),
        "proposals": [
            proposal_json(proposal) | {"line": line_json(proposal, review)}
            for proposal in review.proposals
        ],
        "climb": {"loads": climb.loads, "sets": climb.sets},
        "stays": [_stay(stay) for stay in review.stays],
        "notes": to_json(review.notes),
        "cautions": to_json(review.cautions),
        "caution_lines": caution_lines(review.cautions),
        "settle": [
            {"id": one.id, "asks": reason_says(one.asks), "place": one.place}
            for one in review.settle
        ],
    }


def _stay(stay: Stay) -> dict[str, Any]:
    return {
        "lift": stay.lift,
        "session": stay.session,
        "muscle": stay.muscle,
        "why": reason_says(stay.why),
        "short": reason_short(stay.why),
    }


def proposal_json(proposal: Proposal) -> dict[str, Any]:
    """One proposal with its sentences."""
    return {
        "id": proposal.id,
        "kind": proposal.kind,
        "week": proposal.week,
        "session": proposal.session,
        "lift": proposal.lift,
        "muscle": proposal.muscle,
        "before": _side(proposal.before),
        "after": _side(proposal.after),
        "says": reason_says(proposal.says),
        "reasons": to_json(proposal.reasons),
        "confidence": proposal.confidence,
        "claim": reason_says(proposal.claim),
        "runner_up": None if proposal.runner_up is None else _runner_up(proposal.runner_up),
        "loses": dict(proposal.loses),
        "cautions": to_json(proposal.cautions),
    }


def _side(side: To | None) -> dict[str, Any] | None:
    if side is None:
        return None
    return {side.key: side.value} | ({} if side.then is None else {"then": side.then})


def _runner_up(other: RunnerUp) -> dict[str, Any]:
    return {"kind": other.kind, "after": _side(other.after), "says": reason_says(other.why)}


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
    return Offered(
        id=item["id"],
        kind=item["kind"],
        week=item["week"],
        session=item["session"],
        lift=item["lift"],
        muscle=item["muscle"],
        before=side_of(item["before"]),
        after=side_of(item["after"]),
        about=about,
        cautions=from_json(_CAUTIONS, item["cautions"]),
    )
