"""The ledger: every proposal ever made for a lifter, every change by hand, and what the coach
decided, searchable; and what of it stands in the margin of a block."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from django.utils.timezone import localtime

from blockwright.engine.editing import margin_reason
from blockwright.engine.training import Block, BlockDecision
from blockwright.engine.units import Unit
from blockwright.files.codec import from_json
from blockwright.files.words import reason_says
from blockwright.sheets.letter import change_text, sure_text
from blockwright.store.letters import (
    decisions_in_revisions,
    letters_of_block,
    letters_with_decisions,
)
from blockwright.store.models import BlockRevision, Decision, Lifter, Proposals
from .read_letter import decided_line

PAGE_LINES = 30
BY_HAND = "by hand"
OPEN = "open"
VERDICTS = ("accepted", "changed", "declined", "undone", OPEN, BY_HAND)
_LEADS = (BY_HAND, "changed", "declined", "undone", "accepted", OPEN)
"""The coach's own decisions lead, then what was accepted, then what is open."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerQuestion:
    """What is looked for; empty fields ask for everything."""

    text: str = ""  # Words that all stand somewhere in the line, its proposal or its words
    kind: str = ""
    verdict: str = ""
    lift: str = ""
    first: date | None = None
    last: date | None = None
    """Days of deciding (of writing, for what is open), in the zone in force."""
    page: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLine:
    """One decision, or one proposal nobody decided on."""

    at: datetime
    block: date  # The start of its block
    week: int | None
    kind: str
    lift: str
    muscle: str
    says: str  # What was proposed, or changed by hand
    sure: str  # "85 % sure"; "" for a change by hand
    verdict: str  # One of `VERDICTS`
    to: str  # What it was changed to; "" where the verdict says all
    words: str
    by: str
    letter: int | None
    proposal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerPage:
    """One page of what was found: the coach's own decisions first, each kind the last first."""

    lines: tuple[LedgerLine, ...]
    found: int
    page: int
    pages: int
    kinds: tuple[str, ...]
    """Every kind there is in this ledger, and every lift: what the form offers."""
    lifts: tuple[str, ...]


def kind_words(kind: str) -> str:
    """A kind as a person says it: "raise load", "by hand: swap"."""
    if kind.startswith("coach_"):
        return f"by hand: {kind.removeprefix('coach_').replace('_', ' ')}"
    return kind.replace("_", " ")


def ledger(row: Lifter, question: LedgerQuestion) -> LedgerPage:
    letters = letters_with_decisions(row)
    lines = [*_of_letters(row, letters), *_of_revisions(row, letters)]
    lines.sort(key=lambda line: line.at, reverse=True)
    lines.sort(key=lambda line: _LEADS.index(line.verdict))
    fit = [line for line in lines if _fits(line, question)]
    pages = max(1, -(-len(fit) // PAGE_LINES))
    page = min(max(question.page, 1), pages)
    shown = fit[(page - 1) * PAGE_LINES : page * PAGE_LINES]
    return LedgerPage(
        lines=tuple(shown),
        found=len(fit),
        page=page,
        pages=pages,
        kinds=tuple(sorted({line.kind for line in lines})),
        lifts=tuple(sorted({line.lift for line in lines if line.lift})),
    )


_Letters = Sequence[tuple[Proposals, list[Decision]]]  # Each with what was decided on it


def _of_letters(row: Lifter, letters: _Letters) -> Iterator[LedgerLine]:
    unit: Unit = row.document.get("units", "kg")
    for letter, decisions in letters:
        for item in letter.document["proposals"]:
            line = LedgerLine(
                at=letter.made_at,
                block=letter.block.start,
                week=item["week"],
                kind=item["kind"],
                lift=item["lift"] or "",
                muscle=item["muscle"] or "",
                says=item["says"],
                sure=sure_text(item["confidence"]),
                verdict=OPEN,
                to="",
                words="",
                by="",
                letter=letter.pk,
                proposal=item["id"],
            )
            mine = [one for one in decisions if one.proposal == item["id"]]
            yield from (_decided(line, one, item, unit) for one in mine) if mine else (line,)


def _decided(
    line: LedgerLine, decision: Decision, item: Mapping[str, Any], unit: Unit
) -> LedgerLine:
    said = decided_line(decision, item, unit)
    made = replace(line, at=decision.at, verdict=decision.verdict)
    return replace(made, to=said.to, words=said.words, by=said.by)


def _of_revisions(row: Lifter, letters: _Letters) -> Iterator[LedgerLine]:
    """What revisions tell that no letter's decision does: changes by hand, and decisions on
    letters that never came here."""
    known = {
        (decision.led_to_id, decision.proposal)
        for _, decisions in letters
        for decision in decisions
    }
    before: dict[date, int] = {}
    for revision in decisions_in_revisions(row):
        told: list[dict[str, Any]] = revision.told  # type: ignore[attr-defined]
        for one in told[before.get(revision.start, 0) :]:
            if (revision.pk, one["proposal"]) not in known:
                yield _told_line(revision, one)
        before[revision.start] = len(told)


def _told_line(revision: BlockRevision, one: Mapping[str, Any]) -> LedgerLine:
    decision: BlockDecision = from_json(BlockDecision, one)
    change, margin = decision.change, margin_reason(decision)
    week = change.get("week")
    return LedgerLine(
        at=revision.made_at,
        block=revision.start,
        week=None if week is None else round(float(week)),
        kind=decision.kind,
        lift=str(change.get("lift", "")),
        muscle=str(change.get("muscle", "")),
        says=kind_words(decision.kind) if margin is None else reason_says(margin),
        sure="",
        verdict=decision.verdict if margin is None else BY_HAND,
        to="",
        words=decision.words,
        by=revision.made_by.name if revision.made_by is not None else "",
        letter=None,
        proposal=decision.proposal,
    )


def _fits(line: LedgerLine, question: LedgerQuestion) -> bool:
    said = f"{line.says} {line.words} {line.to} {line.by} {line.muscle} {line.proposal}".casefold()
    day = localtime(line.at).date()
    return (
        all(word in said for word in question.text.casefold().split())
        and question.kind in ("", line.kind)
        and question.verdict in ("", line.verdict)
        and question.lift in ("", line.lift)
        and (question.first is None or day >= question.first)
        and (question.last is None or day <= question.last)
    )


# --------------------------------------------------------------------------- the margin of a block


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    says: str
    words: str
    week: int | None
    lift: str | None  # None for a note about a session or the block
    session: int | None  # Number of the session within the week
    insisted: bool


def margin_notes(row: Lifter, block: Block) -> tuple[Note, ...]:
    """Every decision that changed the block, in the order they were taken."""
    # Sentence by id of every proposal made for this block, the latest letter's first word.
    told = {
        str(one.get("id")): str(one.get("says", ""))
        for letter in letters_of_block(row, block.start)
        for one in letter.document.get("proposals", ())
    }
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
    to = change_text(decision.change, block.lifter.units)
    return f"Proposed: {says.rstrip('.')}. Changed by the coach{to and f' to {to}'}"
