"""The evening: every letter that waits for a coach, in order of need, and all of them written."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput, Problem
from blockwright.store.letters import last_decided_on, letter_with
from blockwright.store.models import Lifter
from blockwright.verbs.read_letter import LetterFace, letter_face
from blockwright.verbs.roster import RosterLine, roster
from blockwright.verbs.write_letter import Written, write_letter


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingLetter:
    """One letter of the evening, and what else the roster says of its lifter."""

    lifter: Lifter
    face: LetterFace
    needs: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """What a coach sits down to."""

    letters: tuple[WaitingLetter, ...]
    """Those with open lines and those decided today, so that it can be undone."""
    due: tuple[Lifter, ...]
    """Lifters with a week that is over and no letter of it."""

    @property
    def waiting(self) -> int:
        return sum(one.face.open_count > 0 for one in self.letters)


@dataclass(frozen=True, slots=True, kw_only=True)
class NotWritten:
    """A letter that could not be written, and why."""

    lifter: Lifter
    problems: Sequence[Problem]


def evening(person: User, today: date) -> Evening:
    """Every letter that waits for this person, in the roster's order."""
    lines = roster(person, today).lines
    letters = [found for line in lines if (found := _waiting(line, today)) is not None]
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


def _waiting(line: RosterLine, today: date) -> WaitingLetter | None:
    stored = None if line.letter is None else letter_with(line.lifter, line.letter)
    if stored is None:
        return None
    waits = any(reason.code == "roster_letter_waits" for reason in line.reasons)
    decided = last_decided_on(stored)
    if not waits and (decided is None or timezone.localtime(decided).date() != today):
        return None
    needs = (reason.says for reason in line.reasons if reason.need not in ("letter", "nothing"))
    return WaitingLetter(lifter=line.lifter, face=letter_face(stored), needs=tuple(needs))
