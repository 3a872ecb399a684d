"""The block's sessions as a calendar: local times, stable names, RFC 5545."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from icalendar import Calendar

from blockwright.engine.day_sheet import sessions_of
from blockwright.engine.training import Block
from blockwright.sheets.workbook import block_calendar
from sheet_people import block


def events(made: Block) -> list[Any]:
    return list(Calendar.from_ical(block_calendar(made)).walk("VEVENT"))


def test_every_session_is_an_event_at_its_local_time() -> None:
    made = block()
    planned = list(sessions_of(made))
    found = events(made)
    assert len(found) == len(planned)
    for event, one in zip(found, planned, strict=True):
        starts = event.decoded("dtstart")
        assert starts.tzinfo is None
        assert starts == datetime.fromisoformat(f"{one.session.day} {one.session.start_time}")
        assert event.decoded("duration") == timedelta(minutes=one.session.minutes_available)


def test_an_event_keeps_its_name_from_revision_to_revision() -> None:
    first, second = block(), replace(block(), revision=2)
    assert [e["uid"] for e in events(first)] == [e["uid"] for e in events(second)]
    assert {int(e["sequence"]) for e in events(second)} == {1}
    assert len({e["uid"] for e in events(first)}) == len(events(first))


def test_equal_blocks_give_equal_bytes_and_lines_end_as_the_rfc_says() -> None:
    data = block_calendar(block())
    assert data == block_calendar(block())
    lines = data.split(b"\r\n")
    assert lines[-1] == b""
    assert all(b"\n" not in line for line in lines)
    assert all(len(line) <= 75 for line in lines)


def test_a_missed_session_is_cancelled() -> None:
    made = block()
    monday = made.weeks[0].sessions[0]
    missed = replace(monday, missed=True, entries=())
    week = replace(made.weeks[0], sessions=(missed, *made.weeks[0].sessions[1:]))
    found = events(replace(made, weeks=(week, *made.weeks[1:])))
    assert [str(event["status"]) for event in found].count("CANCELLED") == 1


def test_a_referral_is_said_in_the_event() -> None:
    assert "Not cleared yet" in str(events(block(status="refer"))[0]["description"])
