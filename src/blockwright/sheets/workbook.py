"""A block as a workbook: one tab a week, one row a set, blank cells for what was done; and its
sessions as a calendar file (RFC 5545): local times wherever the phone is.

The columns that a log needs carry the log's own names, so a tab filled in and saved as CSV is a
sets file. Everything is written as text or number: no name can become a formula or a link."""

from collections.abc import Iterator, Sequence
from datetime import UTC, date, datetime, time, timedelta
from io import BytesIO
from itertools import groupby
from typing import TYPE_CHECKING, Any, NamedTuple
from uuid import NAMESPACE_OID, uuid5

from blockwright.engine.day_sheet import PlannedSession, sessions_of
from blockwright.engine.training import Block, Entry
from blockwright.engine.units import Unit, in_unit
from .sheet_words import Document, effort_text, is_out, range_text

if TYPE_CHECKING:
    from icalendar import Event


class _Column(NamedTuple):
    name: str
    width: int
    to_fill: bool = False


COLUMNS = (
    _Column("when", 16),
    _Column("lift", 28),
    _Column("set", 5),
    _Column("target", 24),
    _Column("target load", 11),
    _Column("set with", 34),
    _Column("load", 9, to_fill=True),
    _Column("unit", 5),
    _Column("reps", 8, to_fill=True),
    _Column("rir", 6, to_fill=True),
    _Column("planned rest", 12),
    _Column("rest_s", 8, to_fill=True),
    _Column("method", 11),
    _Column("full_range", 10, to_fill=True),
    _Column("pain", 6, to_fill=True),
    _Column("note", 24, to_fill=True),
    _Column("lifter", 18),
)


def block_workbook(documents: Sequence[Document]) -> bytes:
    """The XLSX of a block's sheets, in order; equal documents give equal bytes.

    Raises ValueError without a document."""
    # Imported late: only this command writes workbooks.
    from xlsxwriter import Workbook

    if not documents:
        raise ValueError("no sheet to write")
    out = BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    book = Workbook(out, options)
    first = documents[0]
    day = date.fromisoformat(first["date"])
    book.set_properties(
        {
            "title": f"Training block, {first['lifter']}",
            "author": "Blockwright",
            "created": datetime(day.year, day.month, day.day),
        }
    )
    formats = _formats(book)
    for _, week in groupby(documents, key=lambda document: int(document["week"])):
        _write_week(book, list(week), formats)
    book.close()
    return out.getvalue()


def _formats(book: Any) -> dict[str, Any]:
    base = {"font_size": 11, "valign": "vcenter"}
    rule = {"bottom": 4, "bottom_color": "#b9b2a5"}
    return {
        "head": book.add_format({**base, "bold": True, "bottom": 2}),
        "text": book.add_format({**base, **rule}),
        "load": book.add_format({**base, **rule, "bold": True, "num_format": "0.##"}),
        "fill": book.add_format({**base, "bottom": 1, "locked": False}),
    }


def _write_week(book: Any, documents: Sequence[Document], formats: dict[str, Any]) -> None:
    first = documents[0]
    deload = " deload" if first["kind"] == "deload" else ""
    tab = book.add_worksheet(f"Week {first['week']}{deload}")
    for at, column in enumerate(COLUMNS):
        tab.set_column(at, at, column.width)
        tab.write_string(0, at, column.name, formats["head"])
    for row, values in enumerate(_rows(documents), start=1):
        tab.set_row(row, 20)
        for at, column in enumerate(COLUMNS):
            value = values.get(column.name)
            style = formats["fill" if column.to_fill else "text"]
            if value is None:
                tab.write_blank(row, at, None, style)
            elif isinstance(value, str):
                tab.write_string(row, at, value, style)
            else:
                number_style = formats["load"] if column.name == "target load" else style
                tab.write_number(row, at, value, number_style)
    tab.freeze_panes(1, 2)
    tab.set_landscape()
    tab.set_paper(9 if first["units"] == "kg" else 1)
    tab.fit_to_pages(1, 0)
    tab.repeat_rows(0)
    tab.set_footer("&L&A&R&P / &N")


def _rows(documents: Sequence[Document]) -> Iterator[dict[str, str | float | None]]:
    for document in documents:
        unit: Unit = document["units"]
        for entry in document["entries"]:
            if is_out(entry):
                continue
            for number, planned in enumerate(entry["sets"], start=1):
                reps = range_text(planned["reps_low"], planned["reps_high"])
                load_kg = planned["load_kg"]
                yield {
                    "when": f"{document['date']} {document['start_time']}",
                    "lift": entry["lift"],
                    "set": number,
                    "target": f"{reps}, {effort_text(planned['rir'])}",
                    "target load": None if load_kg is None else round(in_unit(load_kg, unit), 2),
                    "set with": planned["setting"],
                    "unit": unit,
                    "planned rest": entry["rest_s"],
                    "method": entry["method"],
                    "lifter": document["lifter"],
                }


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
    # The same for the same lifter, block, week and session, whatever the revision.
    named = f"{block.lifter.name}/{block.start}/{week.week}/{session.session}"
    event.add("uid", f"{uuid5(NAMESPACE_OID, named)}@blockwright")
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


def _description(block: Block, planned: PlannedSession) -> str:
    refer = ["Not cleared yet: see the sheet."] if block.status == "refer" else []
    entries = sorted(planned.session.entries, key=lambda entry: entry.order)
    return "\n".join([*refer, *(_line(entry) for entry in entries)])


def _line(entry: Entry) -> str:
    reps = range_text(entry.sets[0].reps_low, entry.sets[0].reps_high) if entry.sets else ""
    return f"{entry.lift}, {len(entry.sets)} × {reps}"
