"""Sheets on paper: A4, Letter, or two to an A4 page for the pocket. Tagged PDF, equal bytes.

The document goes to the template as JSON, never as markup, so a name cannot become a command.
Only the fonts we bring are used, so that a sheet looks and weighs the same everywhere.
"""

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime
from importlib import resources
from typing import Any, Literal

from blockwright.engine.units import Unit
from blockwright.sheets.fonts import paper_fonts, printable
from blockwright.sheets.phrases import (
    Document,
    advice_head,
    advice_parts,
    caution_paragraph,
    cautions_text,
    day_text,
    effort_text,
    finding_text,
    lift_title,
    minutes_text,
    place_text,
    refer_text,
    rests,
    rung_text,
    shared_bar_sentence,
    targets,
    tries_text,
)

Paper = Literal["a4", "letter", "pocket"]

_SCALES: dict[Paper, tuple[float, ...]] = {
    "a4": (1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.86, 0.82, 0.78),
    "letter": (1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.86, 0.82, 0.78),
    "pocket": (0.9, 0.86, 0.82, 0.78, 0.74, 0.7),
}
"""Type sizes tried, the largest first; the smallest still reads at arm's length."""
_OVERLEAF: dict[Paper, float] = {"a4": 1.0, "letter": 1.0, "pocket": 0.85}
"""The size of a session that needs a second page anyway."""


def sheets_pdf(documents: Sequence[Document], paper: Paper = "a4") -> bytes:
    """The PDF of one or more `blockwright/sheet/1` documents, one session to a page.

    PDF/UA-1, fonts embedded, dated by the first session, so equal documents give equal bytes.
    Raises ValueError without a document.
    """
    import typst

    if not documents:
        raise ValueError("no sheet to print")
    day = date.fromisoformat(documents[0]["date"])
    return typst.compile(
        _template(),
        font_paths=paper_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"sheets": _book(documents, paper)},
        pdf_standards="ua-1",
        timestamp=datetime(day.year, day.month, day.day, tzinfo=UTC),
    )


def _template() -> bytes:
    return (resources.files("blockwright.sheets") / "day_sheet.typ").read_bytes()


def _book(documents: Sequence[Document], paper: Paper) -> str:
    """Everything the template shows, as JSON text."""
    first = documents[0]
    book = {
        "paper": paper,
        "scales": _SCALES[paper],
        "overleaf": _OVERLEAF[paper],
        "title": f"Training sheet, {first['lifter']}, {day_text(first)}",
        "author": "Blockwright",
        "sessions": [_session(document) for document in documents],
    }
    return json.dumps(printable(json.loads(json.dumps(book))), ensure_ascii=False)


def _session(document: Document) -> dict[str, Any]:
    unit: Unit = document["units"]
    rest_of = rests(document["entries"])
    return {
        "lifter": document["lifter"],
        "unit": unit,
        "day": day_text(document),
        "place": f"{lift_title(place_text(document))}; {effort_text(document['week_rir'])}; "
        f"{minutes_text(document)}",
        "foot": f"{document['lifter']}, {day_text(document)}, "
        f"block revision {document['block_revision']}",
        "refer": refer_text(document),
        "finding": finding_text(document),
        "entries": [_entry(entry, rest_of[entry["order"]], unit) for entry in document["entries"]],
        "notes": " ".join(f"{note['says']}." for note in document["notes"]),
        "cautions": cautions_text(document),
    }


def _entry(entry: Document, rest: str, unit: Unit) -> dict[str, Any]:
    shared = entry["shared_bar"]
    tries = tries_text(entry, unit)
    warmup = "; ".join(rung_text(rung, unit) for rung in entry["warmup"])
    return {
        "order": entry["order"],
        "title": lift_title(entry["lift"]),
        "rest": rest,
        "targets": [target._asdict() for target in targets(entry, unit)],
        "standard": entry["standard"],
        "caution": caution_paragraph(entry),
        "shared": shared_bar_sentence(shared, unit) + "." if shared else "",
        "warmup": warmup + "." if warmup else "",
        "tries": tries + "." if tries else "",
        "advice_head": advice_head(entry) if entry["sets"] else "",
        "advice": [part._asdict() for part in advice_parts(entry, unit)],
        "sets": len(entry["sets"]),
    }
