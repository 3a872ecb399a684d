"""Who else trains on a day, for two sheets on one bar."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from blockwright.accounts.models import User
from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.store.access import lifters_for
from blockwright.store.blocks import blocks_between
from blockwright.store.models import Lifter
from blockwright.verbs.block_value import block_value


@dataclass(frozen=True, slots=True)
class Beside:
    """Another lifter's session on the same day."""

    lifter: Lifter
    block: date
    planned: PlannedSession


def beside(person: User, row: Lifter, day: date) -> Iterator[Beside]:
    """The sessions of that day of the other lifters this person may see, by name."""
    for other in lifters_for(person):
        for revision in blocks_between(other, day, day) if other.key != row.key else ():
            for planned in sessions_of(block_value(revision)):
                session = planned.session
                if session.day == day and session.entries and not session.missed:
                    yield Beside(other, revision.start, planned)
