"""What a phone shows first: who I am, whom I may see, and their sessions around today."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from blockwright.accounts.models import User
from blockwright.engine.day_sheet import sessions_of
from blockwright.store.access import ORDER, lifters_for, rights_for
from blockwright.store.blocks import block_on, blocks_between
from blockwright.store.facts import last_seq, seq_before
from blockwright.store.models import Lifter
from blockwright.verbs.stored_values import block_value

FORMAT = "blockwright/phone/1"
BEFORE, AHEAD = timedelta(days=7), timedelta(days=14)


def today_of(person: User, now: datetime) -> date:
    """The date where this person is (the server's zone where they never said)."""
    return (now.astimezone(ZoneInfo(person.zone)) if person.zone else now.astimezone()).date()


def day_of(person: User | None, now: datetime) -> date:
    """The date of this person; of the server where nobody is signed in, as at the command line."""
    return now.astimezone().date() if person is None else today_of(person, now)


def phone_home(person: User, now: datetime) -> dict[str, Any]:
    """The `blockwright/phone/1` document."""
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
        else {
            "start": block.start.isoformat(),
            "revision": block.revision,
            "status": block.status,
        },
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
