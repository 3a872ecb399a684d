"""The review's letters: written, read, and decided on; and the ledger of all decisions."""

from datetime import date, datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from ninja import Schema, Status
from pydantic import Field

from blockwright.store.access import coach_of, or_404
from blockwright.store.letters import decisions_on, letter_with, letters_of
from blockwright.verbs.decide_letter import all_open, decide_letter
from blockwright.verbs.ledger import VERDICTS, LedgerPage, LedgerQuestion, ledger
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.write_letter import evening, write_all, write_letter
from . import calls
from .calls import Calls
from .documents import json_answer
from .signed_in import changing, lifter_of, name_of, today_for
from .values import Day, Find, Key, LeftOut, Line, Number, Row, Strict, Words

router = Calls("Letters")

MOST_DECISIONS = 200


class LetterIn(Strict):
    """`through`: the last day it looks at; the last week begun where it is left out."""

    through: Day | None = None


class LetterInShort(Schema):
    """A letter there is, and the revision it was written for."""

    id: int
    block: Annotated[date, Field(validation_alias="block.start")]
    revision: Annotated[int, Field(validation_alias="block.revision")]
    through: date
    made_at: datetime


class DecisionIn(Strict):
    """The coach's word on one proposal."""

    proposal: Annotated[Line, Field(description="Its id in the letter.")]
    verdict: Annotated[
        Literal["accepted", "changed", "declined", "undone"],
        Field(description="`undone` takes the last decision back: the proposal is open again."),
    ]
    change: Annotated[
        str,
        Field(
            max_length=200,
            pattern=r"^[^\x00-\x1f\x7f]*$",
            description="KEY=VALUE of what is changed: load_kg=62.5, sets=3, lift=leg press.",
        ),
    ] = ""
    words: Words = ""


class DecisionsIn(Strict):
    """What the coach decides, as somebody who has seen the block's revision `seen_revision`.

    With `accept_open`, a yes to every proposal on which nothing is decided, beside those named."""

    seen_revision: Row
    decisions: Annotated[list[DecisionIn], Field(max_length=MOST_DECISIONS)]
    accept_open: bool = False


class DecisionOut(Schema):
    """A decision that was made. A later one stands beside it, never over it."""

    proposal: str
    verdict: Literal["accepted", "changed", "declined", "undone"]
    words: str
    change: dict[str, Any]
    revision: Annotated[int | None, Field(description="The block's revision it led to.")]
    by: str | None
    at: datetime

    @staticmethod
    def resolve_revision(row: Any) -> int | None:
        return None if row.led_to is None else row.led_to.revision

    @staticmethod
    def resolve_by(row: Any) -> str | None:
        return name_of(row.by)


class DecidedOut(Schema):
    """The block's revision now; `new` is false where the same had been decided already."""

    block: Annotated[date, Field(validation_alias="revision.start")]
    revision: Annotated[int, Field(validation_alias="revision.revision")]
    new: bool


@router.reads("/lifters/{lifter}/letters", list[LetterInShort], calls.READ)
def letters(request: HttpRequest, lifter: Key) -> Any:
    """Every letter of the review."""
    return letters_of(lifter_of(request, lifter, "read"))


@router.changes("/lifters/{lifter}/letters", {200: LetterInShort, 201: LetterInShort}, calls.CHANGE)
def write(request: HttpRequest, lifter: Key, wish: LetterIn) -> Status[Any]:
    """Write the letter of a week. 200 where the same letter was written already."""
    row = lifter_of(request, lifter, "change")
    written = write_letter(row, today_for(request), wish.through)
    return Status(201 if written.new else 200, written.letter)


class WaitingOut(Schema):
    """A letter that waits, or was decided today so that it can be undone."""

    lifter: Annotated[UUID, Field(validation_alias="lifter.key")]
    name: Annotated[str, Field(validation_alias="lifter.name")]
    letter: Annotated[int, Field(validation_alias="face.row.pk")]
    heading: Annotated[str, Field(validation_alias="face.letter.heading")]
    open_lines: Annotated[int, Field(validation_alias="face.open_count")]


class EveningOut(Schema):
    """The letters of an evening in order of need, and whose letter is due."""

    waiting: int
    letters: list[WaitingOut]
    due: Annotated[list[UUID], Field(description="Lifters whose week is over without a letter.")]


class NotWrittenOut(Schema):
    """A letter that could not be written, and why."""

    lifter: UUID
    says: list[str]


class WrittenAllOut(Schema):
    """What writing all letters came to."""

    written: list[LetterInShort]
    failed: list[NotWrittenOut]


@router.reads("/evening", EveningOut, calls.ADD)
def evening_of(request: HttpRequest) -> dict[str, Any]:
    """Every letter that waits, in order of need."""
    found = evening(coach_of(request), today_for(request))
    return {
        "waiting": found.waiting,
        "letters": found.letters,
        "due": [lifter.key for lifter in found.due],
    }


@router.changes("/evening", {200: WrittenAllOut}, calls.ADD)
def write_evening(request: HttpRequest) -> dict[str, Any]:
    """Write every letter that is due."""
    written, failed = write_all(coach_of(request), today_for(request))
    return {
        "written": [one.letter for one in written],
        "failed": [
            {"lifter": one.lifter.key, "says": [problem.says for problem in one.problems]}
            for one in failed
        ],
    }


@router.document("/lifters/{lifter}/letters/{letter}", "proposals", calls.READ)
def letter(request: HttpRequest, lifter: Key, letter: Number) -> HttpResponse:
    """One letter."""
    one = or_404(letter_with(lifter_of(request, lifter, "read"), letter), "letter")
    return json_answer(request, one.document)


@router.reads("/lifters/{lifter}/letters/{letter}/decisions", list[DecisionOut], calls.READ)
def decisions(request: HttpRequest, lifter: Key, letter: Number) -> Any:
    """What was decided on a letter."""
    one = or_404(letter_with(lifter_of(request, lifter, "read"), letter), "letter")
    return decisions_on(one)


@router.changes(
    "/lifters/{lifter}/letters/{letter}/decisions", {200: DecidedOut, 201: DecidedOut}, calls.CHANGE
)
def decide(request: HttpRequest, lifter: Key, letter: Number, wish: DecisionsIn) -> Status[Any]:
    """Accept, change or decline proposals. Proposals not named stay open; a caution stays whatever
    is decided. 409 `changed_meanwhile` when somebody else decided or changed the block since; 200
    where the same was decided already."""
    person, row = changing(request, lifter)
    said = [CoachAnswer(**one.model_dump()) for one in wish.decisions]
    if wish.accept_open:
        named = {one.proposal for one in said}
        said += [one for one in all_open(row, letter) if one.proposal not in named]
    decided = decide_letter(person, row, letter, said, wish.seen_revision)
    return Status(201 if decided.new else 200, decided)


MaybeDay = Day | LeftOut
Verdict = Literal[VERDICTS] | LeftOut  # type: ignore[valid-type]


@router.reads("/lifters/{lifter}/ledger", LedgerPage, calls.READ)
def ledger_of(
    request: HttpRequest,
    lifter: Key,
    text: Find = None,
    kind: Find = None,
    verdict: Verdict = None,
    lift: Find = None,
    first: MaybeDay = None,
    last: MaybeDay = None,
    page: Number = 1,
) -> LedgerPage:
    """Every decision, searchable. `text`: words that all stand in the line; `first` and `last`:
    days of deciding."""
    row = lifter_of(request, lifter, "read")
    said = {"text": text, "kind": kind, "verdict": verdict, "lift": lift}
    words = {name: word or "" for name, word in said.items()}
    return ledger(row, LedgerQuestion(**words, first=first, last=last, page=page))
