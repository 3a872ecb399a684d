"""What stands in the margin of a block: accepted proposals and the coach's own changes."""

from collections.abc import Mapping
from dataclasses import dataclass

from blockwright.engine.editing import margin_reason
from blockwright.engine.training import Block, BlockDecision
from blockwright.engine.units import load_text
from blockwright.files.words import reason_says
from blockwright.store.letters import letters_of_block
from blockwright.store.models import Lifter


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """One note: what was changed, the coach's words, and where it belongs."""

    says: str
    words: str
    week: int | None
    lift: str | None
    """None for a note about a session or the block."""
    session: int | None
    """Number of the session within the week."""
    insisted: bool


def margin_notes(row: Lifter, block: Block) -> tuple[Note, ...]:
    """Every decision that changed the block, in the order they were taken."""
    told = _letters(row, block)
    return tuple(
        _note(decision, block, told)
        for decision in block.decisions
        if decision.verdict != "declined"
    )


def _note(decision: BlockDecision, block: Block, told: Mapping[str, str]) -> Note:
    change = decision.change
    reason = margin_reason(decision)
    says = reason_says(reason) if reason else _proposal_says(decision, block, told)
    lift = change.get("other", change.get("lift"))
    moved = change.get("to_session", change.get("session"))
    week = change.get("week")
    return Note(
        says=f"{says.rstrip('.')}.",
        words=decision.words,
        week=None if week is None else int(float(week)),
        lift=None if lift is None else str(lift),
        session=None if moved is None else int(float(moved)),
        insisted="insisted" in change,
    )


def _proposal_says(decision: BlockDecision, block: Block, told: Mapping[str, str]) -> str:
    """The letter's sentence, and what the coach made of it."""
    plain = decision.kind.replace("_", " ")
    lift = decision.change.get("lift")
    says = told.get(decision.proposal) or (plain if lift is None else f"{plain}: {lift}")
    if decision.verdict == "accepted":
        return f"Proposed and accepted: {says}"
    return f"Proposed: {says.rstrip('.')}. Changed by the coach{_to(decision, block)}"


def _to(decision: BlockDecision, block: Block) -> str:
    change = decision.change
    if "load_kg" in change:
        return f" to {load_text(float(change['load_kg']), block.lifter.units)}"
    for key, word in (("sets", "sets"), ("weeks", "weeks")):
        if key in change:
            return f" to {change[key]:g} {word}" if isinstance(change[key], float | int) else ""
    return ""


def _letters(row: Lifter, block: Block) -> dict[str, str]:
    """Sentence by id of every proposal made for this block, the latest letter's first word."""
    found: dict[str, str] = {}
    for letter in letters_of_block(row, block.start):
        for proposal in letter.document.get("proposals", ()):
            found[str(proposal.get("id"))] = str(proposal.get("says", ""))
    return found
