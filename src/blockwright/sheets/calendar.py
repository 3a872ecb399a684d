"""A block's sessions as a calendar file (RFC 5545): local times wherever the phone is."""

from datetime import UTC, datetime, time, timedelta
from typing import TYPE_CHECKING
from uuid import NAMESPACE_OID, uuid5

from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.engine.training import Block, Entry
from blockwright.sheets.sheet_words import reps_text

if TYPE_CHECKING:
    from icalendar import Event


def block_calendar(block: Block) -> bytes:
    """The iCalendar bytes. An event keeps its UID from revision to revision, so that a later
    file moves it instead of doubling it; a missed session is cancelled."""
    # Imported late: only this command writes calendars.
    from icalendar import Calendar

    calendar = Calendar()
    calendar.add("prodid", "-//Blockwright//Training block//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", f"Training, {block.lifter.name}")
    for planned in sessions_of(block):
        calendar.add_component(_event(block, planned))
    ics: bytes = calendar.to_ical()
    return ics


def _event(block: Block, planned: PlannedSession) -> "Event":
    from icalendar import Event

    week, session = planned.week, planned.session
    event = Event()
    event.add("uid", _uid(block, planned))
    # No clock: the stamp is the block's start, the sequence its revision.
    event.add("dtstamp", datetime.combine(block.start, time(), tzinfo=UTC))
    event.add("sequence", block.revision - 1)
    event.add("dtstart", datetime.combine(session.day, time.fromisoformat(session.start_time)))
    event.add("duration", timedelta(minutes=session.minutes_available))
    deload = ", deload" if week.kind == "deload" else ""
    event.add("summary", f"Training: week {week.week}, session {session.session}{deload}")
    event.add("description", _description(block, planned))
    event.add("status", "CANCELLED" if session.missed else "CONFIRMED")
    return event


def _uid(block: Block, planned: PlannedSession) -> str:
    """The same for the same lifter, block, week and session, whatever the revision."""
    place = f"{planned.week.week}/{planned.session.session}"
    return f"{uuid5(NAMESPACE_OID, f'{block.lifter.name}/{block.start}/{place}')}@blockwright"


def _description(block: Block, planned: PlannedSession) -> str:
    refer = ["Not cleared yet: see the sheet."] if block.status == "refer" else []
    entries = sorted(planned.session.entries, key=lambda entry: entry.order)
    return "\n".join([*refer, *(_line(entry) for entry in entries)])


def _line(entry: Entry) -> str:
    reps = reps_text(entry.sets[0].reps_low, entry.sets[0].reps_high) if entry.sets else ""
    return f"{entry.lift}, {len(entry.sets)} × {reps}"
