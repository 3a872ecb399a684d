"""Proposals to JSON and back to what `revise` needs of them; each also as one line of a letter:
day, what, as printed -> as proposed, certainty, reason."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.rack import SAME_LOAD_KG
from blockwright.engine.reasons import Caution, Reason, certainty_word, each_once
from blockwright.engine.review import Offered, Proposal, Review, To, side_of
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.exposures import day_of
from blockwright.engine.review.load_holds import HURTS, WATCH
from blockwright.engine.review.load_proposals import NOT_YET
from blockwright.engine.review.proposals import (
    EVEN,
    LetterLine,
    Stay,
    Way,
    from_to,
    load_said,
    number_of,
    with_unit,
)
from blockwright.engine.review.settle import Question
from blockwright.engine.review.training_facts import Climb, printed_climb
from blockwright.engine.review.verdict import shared
from blockwright.engine.training import Block
from blockwright.engine.units import capital, number_text
from .codec import document, from_json, special, wider
from .json_text import load_json
from .schemas import problems_against
from .words import caution_lines, reason_brief, reason_cause, reason_says, reason_short

_GENERAL = (
    "far_too_light", "load_supported", "load_stays", "load_not_supported", "smallest_step",
    "lowered_elsewhere",
)  # fmt: skip
"""Reasons from estimate or kit alone: what was lifted says the same, as a coach would."""

_CHANGES: Mapping[Way, str] = {
    "load": "{was} → {to}{last}{tries}", "stays": "not up, {to} again",
    "first": "first load {to}{tries}", "sets": "{was} → {to}", "weeks": "{was} → {to}",
    "week": "{to}", "swap": "→ {to}{tries}", "back": "back to {to}{tries}",
    "lighter": "lighter: {to}{tries}", "out": "out", "refer": "refer",
}  # fmt: skip
_SWAPS: Mapping[str, Way] = {"propose_try_again": "back", "propose_lighter_lift": "lighter"}
_WEEKS = {
    "repeat": "repeat the week",
    "light": "two thirds of the sets, one more in reserve",
    "deload": "deload",
}


def line_of(proposal: Proposal, review: Review) -> LetterLine:
    shown = _shown(proposal)
    parts = _parts(proposal, review.case)
    return LetterLine(
        day=_day(proposal, review),
        about=_about(proposal),
        certainty=certainty_word(proposal.confidence),
        why=": ".join(map(reason_short, shown)) + _reach(proposal, parts["way"]),
        brief=reason_brief(shown[0]),
        cause=reason_cause(shown[0]),
        place=str(shown[0].facts.get("about", "")) if shown[0].code in _OF_PAIN else "",
        change=_in_words(**parts),
        **parts,
    )


_OF_PAIN = ("pain_above_stop", "pain_offers_swap", "pain_in_a_row", "pain_no_progress_reason")


def _in_words(
    *, way: Way, was: str = "", to: str = "", unit: str = "", last: str = "", tries: str = ""
) -> str:
    """ "85 → 90 kg", "97.5 → 95 kg (92.5 last time)", "not up, 92.5 kg again": the unit
    once, behind the last number."""
    was, to = from_to(was, to, unit)
    last = f" ({last} last time)" if last else ""
    return _CHANGES[way].format(was=was, to=to, last=last, tries=tries)


def _reach(proposal: Proposal, way: Way) -> str:
    """Of a first load, for which range; that a load is more likely than not to be short of its
    range at first; "" of all others."""
    facts, said = proposal.says.facts, ""
    if way == "first":
        said = f", for {facts['reps_low']}-{facts['reps_high']}"
    if proposal.kind in ("raise_load", "lower_load") and proposal.confidence < EVEN:
        said += f"; may open short of {facts['reps_low']}"
    is_sought = proposal.reasons[0].code == "far_too_light"
    return said + ("; still light" if _is_light(proposal) and not is_sought else "")


def _is_light(proposal: Proposal) -> bool:
    """Whether the first set probably ends far above its range: such a load is not too heavy."""
    far = float(proposal.says.facts.get("p_far_above") or 0.0)
    return proposal.kind == "raise_load" and far >= EVEN


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


def _parts(proposal: Proposal, case: WeekCase) -> dict[str, Any]:
    """The parts of a change: `way`, and what it leads from and to."""
    before, after = proposal.before, proposal.after
    if after is None:
        return {"way": "refer" if proposal.kind == "refer" else "out"}
    if after.key == "lift":
        tries = str(proposal.says.facts.get("opens", ""))
        way = _SWAPS.get(proposal.says.code, "swap")
        return {"way": way, "to": str(after.value), "tries": tries}
    if after.key == "load_kg":
        return _load_parts(proposal, case)
    if after.key == "week_kind":
        ends = ", then end" if after.then == "end" else ""
        return {"way": "week", "to": _WEEKS.get(str(after.value), str(after.value)) + ends}
    was = "" if before is None else number_text(number_of(before) or 0)
    if proposal.says.code == "propose_hold_set" and proposal.says.facts["was"] == number_of(after):
        return {"way": "stays", "to": number_text(number_of(after) or 0), "unit": "sets"}
    way, unit = ("weeks", "build weeks") if after.key == "weeks" else ("sets", "sets")
    return {"way": way, "was": was, "to": number_text(number_of(after) or 0), "unit": unit}


def _kept(stay: Stay, case: WeekCase) -> str:
    if stay.load_kg is None:
        return ""
    lift, unit = case.catalogue.find(stay.lift or ""), case.lifter.units
    return f"stays at {with_unit(load_said(stay.load_kg, lift, unit), unit)}"


def _load_parts(proposal: Proposal, case: WeekCase) -> dict[str, Any]:
    to, last = number_of(proposal.after) or 0.0, _last_kg(proposal)
    lifted, before = proposal.says.facts.get("lifted_kg"), number_of(proposal.before)
    if isinstance(lifted, float) and abs(lifted - to) >= SAME_LOAD_KG:
        before = lifted  # of a load that the print left open
    lift, unit = case.catalogue.find(proposal.lift or ""), case.lifter.units
    parts: dict[str, Any] = {"to": load_said(to, lift, unit), "unit": unit}
    if any(reason.code == "far_too_light" for reason in proposal.reasons):
        parts["tries"] = " (by tries)"
    if before is None:
        return parts | {"way": "first"}
    if last is not None and abs(to - last) < SAME_LOAD_KG:
        return parts | {"way": "stays"}
    beside = {} if last is None else {"last": load_said(last, lift, unit)}
    return parts | {"way": "load", "was": load_said(before, lift, unit)} | beside


def _last_kg(proposal: Proposal) -> float | None:
    """What was lifted last, of a load below the print that is no step down from there."""
    for reason in proposal.reasons if proposal.kind == "lower_load" else ():
        if reason.code == "lifted_last" and proposal.after is not None:
            last, to = reason.facts["most_kg"], proposal.after.value
            if isinstance(last, float) and isinstance(to, float) and to >= last - SAME_LOAD_KG:
                return last
    return None


def _shown(proposal: Proposal) -> tuple[Reason, ...]:
    """The first reason, or what was lifted in place of one from the estimate alone; behind one that
    shows no set, what was lifted too."""
    first = proposal.reasons[0]
    lifted = next((one for one in proposal.reasons if one.code == "lifted_last"), None)
    if lifted is None:
        return (first,)
    told_by_sets = [*_GENERAL, *NOT_YET]
    if _last_kg(proposal) is None:
        told_by_sets.append("not_done_this_week")  # it comes down further than for that
    if first.code in told_by_sets:
        return (lifted,)
    left, asked = lifted.facts["rir"], proposal.says.facts.get("rir")
    is_enough = isinstance(left, float) and isinstance(asked, float) and left >= asked
    if first.code == "effort_beyond_target" and is_enough:
        return (first,)  # what came nearer was done on another day
    return (first, lifted) if first.code in (*WATCH, "effort_beyond_target") else (first,)


_CAUTIONS = tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterProposal(Proposal):
    line: LetterLine


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterStay(Stay):
    short: str
    at: str  # "stays at 85 kg"; "" where it has no load to name


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
        stays=tuple(
            wider(one, LetterStay, short=reason_short(one.why), at=_kept(one, review.case))
            for one in review.stays
        ),
        notes=review.notes,
        cautions=review.cautions,
        caution_lines=tuple(caution_lines(_beside(review), _pain_told(review))),
        settle=review.settle,
    )
    return document("proposals", letter)


def _pain_told(review: Review) -> set[object]:
    """What lines or questions say hurts, and how much: no caution says it again."""
    told = [p.says for p in review.proposals if p.kind == "refer"]
    told += [p.reasons[0] for p in review.proposals if p.reasons[0].code in _OF_PAIN]
    told += [one.asks for one in review.settle if one.asks.code in ("ask_pain", "ask_pain_still")]
    return {why.facts.get("about") for why in told}


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
    offered: Mapping[str, Offered]  # By id, in the order of the file
    cautions: tuple[Caution, ...]  # All of them, the document's and its proposals'


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
