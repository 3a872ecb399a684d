"""What a phone shows first: who I am, whom I may see, and their sessions around today; and what
comes next: for a lifter, for somebody who trains and their partners, and who else trains that day,
for two sheets on one bar."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from blockwright.accounts.models import User
from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.engine.training import Block
from blockwright.store.access import ORDER, lifters_for, rights_for
from blockwright.store.blocks import block_on, blocks_between
from blockwright.store.facts import last_seq, seq_before
from blockwright.store.letters import latest_letter
from blockwright.store.models import Fact, Lifter, Share
from blockwright.store.roster import beside
from .stored_values import block_value

FORMAT = "blockwright/phone/1"
BEFORE, AHEAD = timedelta(days=7), timedelta(days=14)


def local(person: User | None, now: datetime) -> datetime:
    """The time where this person is; the server's where they never said, and where nobody is signed
    in, as at the command line."""
    return now.astimezone(ZoneInfo(person.zone) if person is not None and person.zone else None)


def today_of(person: User | None, now: datetime) -> date:
    return local(person, now).date()


def phone_home(person: User, now: datetime) -> dict[str, Any]:
    today = today_of(person, now)
    return {
        "format": FORMAT,
        "today": today.isoformat(),
        "me": {
            "id": str(person.pk),
            "name": person.name,
            "role": person.role,
            "units": person.units,
            "zone": person.zone,
        },
        "lifters": [_lifter(person, lifter, today) for lifter in lifters_for(person)],
    }


def _lifter(person: User, lifter: Lifter, today: date) -> dict[str, Any]:
    rights = rights_for(person, lifter)
    block = block_on(lifter, today)
    return {
        "id": str(lifter.key),
        "name": lifter.name,
        "units": lifter.document.get("units", "kg"),
        "may": [right for right in ORDER if right in rights],
        "block": None
        if block is None
        else {"start": block.start.isoformat(), "revision": block.revision, "status": block.status},
        "sessions": list(_sessions(lifter, today - BEFORE, today + AHEAD)),
        "through": last_seq(lifter),
        "recent_from": seq_before(lifter, today - BEFORE),
    }


def _sessions(lifter: Lifter, first: date, last: date) -> Iterator[dict[str, Any]]:
    for row in blocks_between(lifter, first, last):
        for planned in sessions_of(block_value(row)):
            session = planned.session
            if first <= session.day <= last and session.entries:
                yield {
                    "block": row.start.isoformat(),
                    "revision": row.revision,
                    "week": planned.week.week,
                    "kind": planned.week.kind,
                    "session": session.session,
                    "date": session.day.isoformat(),
                    "start_time": session.start_time,
                    "missed": session.missed,
                    "lifts": len(session.entries),
                    "sets": sum(len(entry.sets) for entry in session.entries),
                }


def coming_session(
    row: Lifter, block: Block, today: date, *, from_week: int = 1
) -> PlannedSession | None:
    """The first session from today on, in that week or a later one, not ended on a phone."""
    ended = _ended(row, block, today)
    coming = (
        one
        for one in sessions_of(block)
        if one.session.entries
        and not one.session.missed
        and one.session.day >= today
        and one.week.week >= from_week
        and (one.week.week, one.session.session) not in ended
    )
    return min(coming, key=lambda one: (one.session.day, one.session.session), default=None)


def _ended(row: Lifter, block: Block, today: date) -> set[tuple[Any, Any]]:
    facts = Fact.objects.filter(lifter=row, kind=Fact.SESSION, day=today, body__what="ended")
    plans = [(fact.event or {}).get("plan") or {} for fact in facts]
    start = block.start.isoformat()
    return {(one.get("week"), one.get("session")) for one in plans if one.get("block") == start}


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLine:
    lifter: Lifter
    own: bool
    block_start: date | None
    waits: bool  # Whether the block waits for clearance
    following: PlannedSession | None  # As the lifter's own page has it
    letter: date | None  # The last day of the latest letter this person may read


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


@dataclass(frozen=True, slots=True)
class Beside:
    lifter: Lifter
    block: date
    planned: PlannedSession


def trains_beside(person: User, row: Lifter, day: date) -> Iterator[Beside]:
    """The sessions of that day of the other lifters this person may see, by name."""
    for other in lifters_for(person):
        for revision in blocks_between(other, day, day) if other.key != row.key else ():
            for planned in sessions_of(block_value(revision)):
                if planned.session.day == day and planned.session.entries:
                    yield Beside(other, revision.start, planned)
