"""What somebody who trains sees first: their own next session, then their partners'."""

from dataclasses import dataclass
from datetime import date

from blockwright.accounts.models import User
from blockwright.engine.day_sheet import PlannedSession
from blockwright.store.access import rights_for
from blockwright.store.blocks import block_on
from blockwright.store.letters import latest_letter
from blockwright.store.models import Lifter, Share
from blockwright.store.roster import beside
from blockwright.verbs.block_value import block_value
from blockwright.verbs.coming_session import coming_session


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLine:
    """One lifter this person is, or trains with."""

    lifter: Lifter
    own: bool
    block_start: date | None
    waits: bool
    """Whether the block waits for clearance."""
    following: PlannedSession | None
    """As the lifter's own page has it."""
    letter: date | None
    """The last day of the latest letter this person may read."""


def own_home(person: User, today: date) -> tuple[OwnLine, ...]:
    """Themselves first, then those they train with, by name."""
    return tuple(_line(person, row, kind, today) for row, kind in beside(person))


def _line(person: User, row: Lifter, kind: str, today: date) -> OwnLine:
    revision = block_on(row, today)
    letter = latest_letter(row) if "read" in rights_for(person, row) else None
    return OwnLine(
        lifter=row,
        own=kind == Share.SELF,
        block_start=None if revision is None else revision.start,
        waits=revision is not None and revision.status == "refer",
        following=None if revision is None else coming_session(row, block_value(revision), today),
        letter=None if letter is None else letter.through,
    )
