"""Sheets on paper: A4, Letter, or two to an A4 page for the pocket. Tagged PDF, equal bytes.

The document goes to the template as JSON, never as markup, so a name cannot become a command.
Only the fonts we bring are used, so that a sheet looks and weighs the same everywhere.
"""

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import UTC, date, datetime
from importlib import resources
from typing import Any, Literal

from blockwright.sheets.fonts import paper_fonts, printable
from blockwright.sheets.sheet_words import Document, day_text, sheet_words

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
    words = sheet_words(document)
    return asdict(words) | {"notes": " ".join(words.notes)}
