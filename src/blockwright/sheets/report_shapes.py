"""A page of a report as plain values: parts, tables, figures, and how a day reads."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from blockwright.engine.units import Unit, capital, in_unit, number_text

Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under a head; `right` are the columns of figures."""

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Figure:
    """One panel: its finding, the drawing, the drawing in words."""

    title: str
    svg: str
    alt: str


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the report. `title` states the finding."""

    name: str
    title: str
    lead: str = ""
    figures: tuple[Figure, ...] = ()
    figure_note: str = ""
    tables: tuple[Table, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """The whole report."""

    title: str
    lifter: str
    line: str
    opening: str
    cautions: tuple[str, ...]
    first: tuple[Part, ...]  # The page that a lifter reads: done, stronger, recovered, next
    behind: str  # How to read what follows it
    parts: tuple[Part, ...] = field(default=())
    foot: str = ""


def sentence(text: str) -> str:
    """A sentence with its first letter raised and its stop."""
    return capital(text) + ("" if text.endswith((".", "?", "!")) else ".")


def interval_words(interval: Document, unit: Unit) -> str:
    """ "182 kg (171 to 194)": the middle and where it lies eight times in ten."""
    low, middle, high = (
        number_text(in_unit(interval[key], unit), 0) for key in ("low80", "median", "high80")
    )
    return f"{middle} {unit} ({low} to {high})"


def day_words(iso: str) -> str:
    """ "11 January 2027"."""
    day = date.fromisoformat(iso)
    return f"{day.day} {day:%B %Y}"


def span_text(first: date) -> str:
    """ "4–10 Jan", "28 Dec – 3 Jan": the week that begins on `first`."""
    last = first + timedelta(days=6)
    if first.month == last.month:
        return f"{first.day}–{last.day} {last:%b}"
    return f"{first.day} {first:%b} – {last.day} {last:%b}"


def is_over(week: Document, document: Document) -> bool:
    """Whether a week of the report had ended: nothing planned before its end is open."""
    last = date.fromisoformat(str(week["start"])) + timedelta(days=6)
    left = week["sessions_planned"] > week["sessions_done"] + len(week["missed"])
    return not left and last <= date.fromisoformat(str(document["through"]))


def finding(document: Document, part: str) -> str:
    """What the title of a part says."""
    return str(document["findings"][part]["says"])
