"""Proposals to JSON and back to what `revise` needs of them; each also as one line of a letter:
day, what, as printed -> as proposed, certainty, reason."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.rack import SAME_LOAD_KG
from blockwright.engine.reasons import Caution, Certainty, Reason, certainty_word, each_once
from blockwright.engine.review import Offered, Proposal, Review, To, side_of
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.exposures import day_of
from blockwright.engine.review.load_holds import HURTS, WATCH
from blockwright.engine.review.load_proposals import NOT_YET
from blockwright.engine.review.proposals import Stay, number_of
from blockwright.engine.review.settle import Question
from blockwright.engine.review.training_facts import Climb, printed_climb
from blockwright.engine.review.verdict import EVEN, shared
from blockwright.engine.training import Block, Lift
from blockwright.engine.units import Unit, capital, in_unit, load_text, number_text
from blockwright.files.codec import document, from_json, special, wider
from blockwright.files.json_text import load_json
from blockwright.files.schemas import problems_against
from blockwright.files.words import caution_lines, reason_says, reason_short

_GENERAL = (
    "far_too_light", "load_supported", "load_stays", "load_not_supported", "smallest_step",
    "lowered_elsewhere",
)  # fmt: skip
"""Reasons from estimate or kit alone: what was lifted says the same, as a coach would."""
_WEEKS = {
    "repeat": "repeat the week",
    "light": "two thirds of the sets, one more in reserve",
    "deload": "deload",
}


@dataclass(frozen=True, slots=True)
class LetterLine:
    day: str
    """ "" for what is not of one session."""
    about: str
    change: str
    certainty: Certainty
    why: str


_SWAPS = {"propose_try_again": "back to", "propose_lighter_lift": "lighter:"}
FIRST_LOAD = "propose_first_load"


def line_of(proposal: Proposal, review: Review) -> LetterLine:
    lift = review.case.catalogue.find(proposal.lift or "")
    return LetterLine(
        day=_day(proposal, review),
        about=_about(proposal),
        change=_change(proposal, lift, review.case),
        certainty=certainty_word(proposal.confidence),
        why=_strongest(proposal) + _reach(proposal),
    )


def _reach(proposal: Proposal) -> str:
    """Of a first load, for which range; that a load is more likely than not to be short of its
    range at first; "" of all others."""
    facts, said = proposal.says.facts, ""
    if proposal.says.code == FIRST_LOAD and proposal.kind == "raise_load":
        said = f", for {facts['reps_low']}-{facts['reps_high']}"
    if proposal.kind in ("raise_load", "lower_load") and proposal.confidence < EVEN:
        said += f"; may open short of {facts['reps_low']}"
    return said


def _day(proposal: Proposal, review: Review) -> str:
    sessions = review.case.next_sessions
    swapped = proposal.lift if proposal.kind == "swap_lift" else None
    here = (one for one in sessions if one.session == proposal.session
            or any(entry.lift == swapped for entry in one.entries))  # fmt: skip
    return ", ".join(capital(day) for one in here if (day := day_of(one, sessions)))


def _about(proposal: Proposal) -> str:
    if proposal.kind == "refer":
        about = str(proposal.says.facts.get("about", ""))
        return about if proposal.lift in (None, about) else f"{about} in {proposal.lift}"
    if proposal.lift is not None:
        return proposal.lift
    if proposal.muscle is not None:
        return proposal.muscle.replace("_", " ")
    return "the block" if proposal.kind == "extend_block" else f"week {proposal.week}"


def _change(proposal: Proposal, lift: Lift | None, case: WeekCase) -> str:
    before, after = proposal.before, proposal.after
    if proposal.kind == "refer":
        return "refer"
    if after is None:
        return "out"
    if after.key == "lift":
        opens = proposal.says.facts.get("opens", "")
        return f"{_SWAPS.get(proposal.says.code, '→')} {after.value}{opens}"
    if after.key == "load_kg":
        tries = any(reason.code == "far_too_light" for reason in proposal.reasons)
        before = _from_lifted(proposal, case) or before
        said = _loads(before, after, lift, case.lifter.units, last=_last_kg(proposal))
        return said + (" (by tries)" if tries else "")
    if after.key == "week_kind":
        ends = getattr(after, "then", None) == "end"
        return _WEEKS.get(str(after.value), str(after.value)) + (", then end" if ends else "")
    noun = "build weeks" if after.key == "weeks" else "sets"
    was = "" if before is None or before.value is None else f"{_number(before.value)} → "
    return f"{was}{_number(after.value)} {noun}"


def _from_lifted(proposal: Proposal, case: WeekCase) -> To | None:
    """What was lifted, of a load the print left open: where the next is lower, or another one
    after the first week."""
    lifted, after = proposal.says.facts.get("lifted_kg"), proposal.after
    to = None if after is None else number_of(after)
    if to is None or not isinstance(lifted, float) or abs(lifted - to) < SAME_LOAD_KG:
        return None
    told = proposal.kind == "lower_load" or case.known_before
    return To("load_kg", lifted) if told else None


def _last_kg(proposal: Proposal) -> float | None:
    """What was lifted last, of a load below the print that is no step down from there."""
    for reason in proposal.reasons if proposal.kind == "lower_load" else ():
        if reason.code == "lifted_last" and proposal.after is not None:
            last, to = reason.facts["most_kg"], proposal.after.value
            if isinstance(last, float) and isinstance(to, float) and to >= last - SAME_LOAD_KG:
                return last
    return None


def _loads(
    before: To | None, after: To, lift: Lift | None, unit: Unit, *, last: float | None
) -> str:
    """ "85 → 90 kg", "+30 → +32.5 kg", "help 20 → 15 kg", "97.5 → 95 kg (92.5 last time)", "stays
    at 92.5 kg (as last time)"."""
    kind = "external" if lift is None else lift.load_kind
    sign = "+" if kind == "bodyweight_plus" else ""
    help_ = "help " if kind == "assisted" else ""
    bare = sign and not after.value
    to = "bodyweight" if bare else f"{sign}{load_text(float(after.value or 0), unit)}"
    if help_ and not after.value:
        help_, to = "", "help not weighed"
    if before is None or not isinstance(before.value, float | int):
        return f"first load {help_}{to}"
    if last is not None and abs(float(after.value or 0) - last) < SAME_LOAD_KG:
        return f"stays at {help_}{to} (as last time)"
    known = (
        "" if last is None or help_ else f" ({sign}{number_text(in_unit(last, unit))} last time)"
    )
    if sign and not before.value:
        return f"bodyweight → {to}{known}"
    was = load_text(float(before.value), unit)
    was = was if bare else was.removesuffix(f" {unit}")  # said once, where both have it
    return f"{help_}{sign}{was} → {to}{known}"


def _number(value: float | str | None) -> str:
    return number_text(value) if isinstance(value, float | int) else str(value)


def _strongest(proposal: Proposal) -> str:
    """The first reason, or what was lifted in place of one from the estimate alone; behind one that
    shows no set, what was lifted too."""
    first = proposal.reasons[0]
    lifted = next((one for one in proposal.reasons if one.code == "lifted_last"), None)
    if lifted is None:
        return reason_short(first)
    told_by_sets = [*_GENERAL, *NOT_YET]
    if _last_kg(proposal) is None:
        told_by_sets.append("not_done_this_week")  # it comes down further than for that
    if first.code in told_by_sets:
        return reason_short(lifted)
    told = reason_short(first)
    behind = (*WATCH, "effort_beyond_target")
    return f"{told}: {reason_short(lifted)}" if first.code in behind else told


_CAUTIONS = tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterProposal(Proposal):
    line: LetterLine


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterStay(Stay):
    short: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposalsDocument:
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
    message: str = ""  # To the lifter; put in by `verbs/revise_block.py`.

    @property
    def verdict_shared(self) -> str:
        """The verdict for a training partner."""
        return reason_says(shared(self.verdict))


def proposals_to_json(review: Review) -> dict[str, Any]:
    letter = ProposalsDocument(
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
        caution_lines=tuple(
            caution_lines(
                _beside(review),
                [p.says.facts.get("about") for p in review.proposals if p.kind == "refer"],
            )
        ),
        settle=review.settle,
    )
    return document("proposals", letter)


def _beside(review: Review) -> list[Caution]:
    """The cautions that no line says by itself: a lift that goes out, or that another stands in
    for, says why and until when; one that left the block is not up for more load or sets."""
    out = {p.lift for p in review.proposals if p.kind in ("stop_lift", "swap_lift")}
    week = {entry.lift for session in review.case.next_sessions for entry in session.entries}
    said = ("pain_stop", "pain_no_progress")
    return [
        c for c in review.cautions if not (c.code in said and c.facts["lift"] in out)
        and (c.code != "pain_no_progress" or c.facts["lift"] in week)
    ]  # fmt: skip


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
    lifter: str
    block_revision: int
    offered: Mapping[str, Offered]
    """By id, in the order of the file."""
    cautions: tuple[Caution, ...]
    """All of them, the document's and its proposals'."""


def read_proposals(path: Path) -> ProposalsFile:
    """The proposals in a JSON file; BadInput names file and place when it is not one."""
    return proposals_from_json(load_json(path), path.name)


def proposals_from_json(document: Mapping[str, Any], file: str) -> ProposalsFile:
    """The proposals of a document; checked against its schema first, then converted."""
    BadInput.raise_any(problems_against("proposals", document, file))
    offered = offered_in(document)
    cautions = from_json(_CAUTIONS, document["cautions"])
    return ProposalsFile(
        lifter=document["lifter"],
        block_revision=document["block_revision"],
        offered={each.id: each for each in offered},
        cautions=each_once((*cautions, *(c for each in offered for c in each.cautions))),
    )


def other_lifter(document_of: str, block: Block, file: str) -> list[Problem]:
    """The problem of proposals that are not for the lifter of the block; none where they are."""
    if document_of == block.lifter.name:
        return []
    says = f'is for "{document_of}", the block is of "{block.lifter.name}"'
    return [Problem(file=file, key="lifter", says=says, mend="give their own")]


def offered_in(document: Mapping[str, Any]) -> list[Offered]:
    """The proposals of a checked document, as its letter carries them."""
    return [
        replace(from_json(Offered, item), about=_about_in(item),
                holds=any(reason["code"] in HURTS for reason in item["reasons"]))
        for item in document["proposals"]
    ]  # fmt: skip


def _about_in(item: Mapping[str, Any]) -> str | None:
    facts = (reason["facts"] for reason in item["reasons"])
    return next((each["about"] for each in facts if "about" in each), None)
