"""Writes the review's letter for a lifter from what the site knows of them; and the evening: every
letter that waits for a coach, in order of need, and all of them written."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.review import review
from blockwright.engine.training import Block
from blockwright.store.blocks import block_of, block_on
from blockwright.store.facts import days_with_sets, locked
from blockwright.store.letters import add_letter, last_decided_on, letter_with
from blockwright.store.models import BlockRevision, Lifter, Proposals
from .read_letter import LetterFace, letter_face
from .revise_block import letter_document
from .roster import RosterLine, roster
from .stored_case import block_case
from .stored_values import block_value

_DAY, _SIX_DAYS = timedelta(days=1), timedelta(days=6)


@dataclass(frozen=True, slots=True)
class Written:
    """A letter, and whether it was written just now (else the same one was there)."""

    letter: Proposals
    new: bool


def write_letter(row: Lifter, today: date, through: date | None = None) -> Written:
    """The letter of the last week begun by `through` (`default_through` if None), stored.

    The same facts, block and day give the same letter, which is stored once. Raises BadInput when
    there is no block, when nothing of it has begun, or for a day that is yet to come."""
    revision = _block(row, through or today, today)
    block = block_value(revision)
    end = through or default_through(row, block, today)
    document = letter_document(review(block_case(row, revision), end))
    with locked(row.key):
        last = block_of(row, revision.start)
        if last is None or last.revision != revision.revision:
            says = "the block was changed while the letter was being written"
            raise BadInput.of(says, "write it once more")
        letter, new = add_letter(row, revision, end, document)
    return Written(letter, new)


def default_through(row: Lifter, block: Block, today: date) -> date:
    """The last day of the last week that has sets in the log.

    Of a week that is not over: yesterday (today where something is logged) when no session of it is
    to come or it is the block's first; else the last day of the week before."""
    last = max((day for day in days_with_sets(row, block.start) if day <= today), default=None)
    if last is None:
        return today - _DAY
    monday = block.start + timedelta(days=(last - block.start).days // 7 * 7)
    if monday + _SIX_DAYS < today:
        return monday + _SIX_DAYS
    planned = [s.day for week in block.weeks for s in week.sessions if s.entries]
    to_come = any(max(last + _DAY, today) <= day <= monday + _SIX_DAYS for day in planned)
    return monday - _DAY if to_come and monday > block.start else max(last, today - _DAY)


def suggested_through(row: Lifter, today: date) -> date | None:
    """What a form offers as the letter's last day; None when there is no block to review."""
    revision = block_on(row, today)
    if revision is None or revision.start > today:
        return None
    return default_through(row, block_value(revision), today)


def _block(row: Lifter, day: date, today: date) -> BlockRevision:
    if day > today:
        says = f"{day} is yet to come"
        raise BadInput.of(says, f"give {today} or a day before", column="through")
    revision = block_on(row, day)
    if revision is None:
        raise BadInput.of(f"{row.name} has no block to review", "compose a block first")
    return revision


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingLetter:
    """One letter of the evening, and what else the roster says of its lifter."""

    lifter: Lifter
    face: LetterFace
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    letters: tuple[WaitingLetter, ...]
    """Those with open lines and those decided today, so that it can be undone."""
    due: tuple[Lifter, ...]  # Lifters with a week that is over and no letter of it

    @property
    def waiting(self) -> int:
        return sum(one.face.open_count > 0 for one in self.letters)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotWritten:
    lifter: Lifter
    problems: Sequence[Problem]


def evening(person: User, today: date) -> Evening:
    """Every letter that waits for this person, in the roster's order, and then what is decided."""
    lines = roster(person, today).lines
    letters = [found for line in lines if (found := _waiting(line, today)) is not None]
    letters.sort(key=lambda one: one.face.open_count == 0)
    return Evening(letters=tuple(letters), due=tuple(line.lifter for line in lines if _due(line)))


def write_all(person: User, today: date) -> tuple[list[Written], list[NotWritten]]:
    """Writes the letter of everybody whose week is over; what fails stops no other."""
    written, failed = [], []
    for line in roster(person, today).lines:
        if _due(line):
            try:
                written.append(write_letter(line.lifter, today))
            except BadInput as error:
                failed.append(NotWritten(lifter=line.lifter, problems=error.problems))
    return written, failed


def _due(line: RosterLine) -> bool:
    return any(reason.code in _TO_WRITE for reason in line.reasons)


_TO_WRITE = ("roster_letter_due", "roster_letter_overtaken")
_THE_LETTER_SAYS = ("letter", "nothing", "watch", "missed")


def _waiting(line: RosterLine, today: date) -> WaitingLetter | None:
    stored = None if line.letter is None else letter_with(line.lifter, line.letter)
    if stored is None:
        return None
    waits = any(reason.code == "roster_letter_waits" for reason in line.reasons)
    decided = last_decided_on(stored)
    if not waits and (decided is None or timezone.localtime(decided).date() != today):
        return None
    return WaitingLetter(lifter=line.lifter, face=letter_face(stored), needs=needs_beside(line))


def needs_beside(line: RosterLine) -> tuple[str, ...]:
    """What the roster says of a lifter beside what the letter does."""
    return tuple(reason.says for reason in line.reasons if reason.need not in _THE_LETTER_SAYS)
