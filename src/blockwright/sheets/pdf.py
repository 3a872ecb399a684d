"""Sheets on paper: A4, Letter, or two to an A4 page for the pocket. Tagged PDF, equal bytes.

The document goes to the template as JSON, never as markup, so a name cannot become a command. Only
the fonts we bring are used (three weights from a package), so that a sheet looks and weighs the
same everywhere; what they cannot write is said."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import UTC, date, datetime
from functools import cache
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, Literal

from .sheet_words import Document, day_text, sheet_words

if TYPE_CHECKING:
    import typst


FONTS = ("SourceSansPro-Regular.ttf", "SourceSansPro-Semibold.ttf", "SourceSansPro-Bold.ttf")
_UNKNOWN = "?"


@cache
def paper_fonts() -> "typst.Fonts":
    """The fonts for typst, and no others.

    The package holds each font in two formats and typst takes folders only, in the order of the
    disk: so that every machine uses the same files, ours are copied to a folder of their own."""
    import font_source_sans_pro
    import typst

    folder = _folder()
    for name in FONTS:
        font = Path(font_source_sans_pro.font_directory) / name
        (Path(folder.name) / name).write_bytes(font.read_bytes())
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder.name]
    )


@cache
def _folder() -> "TemporaryDirectory[str]":
    """Kept until the process ends, which is when it is removed."""
    return TemporaryDirectory(prefix="blockwright-fonts-")


def printable(value: Any) -> Any:
    """JSON with every character the fonts lack written as "?", since a tagged PDF refuses a
    character without a shape. Dictionaries keep their keys."""
    if isinstance(value, str):
        known = _characters()
        return "".join(c if ord(c) in known else _UNKNOWN for c in value)
    if isinstance(value, dict):
        return {key: printable(item) for key, item in value.items()}
    return [printable(item) for item in value] if isinstance(value, list) else value


def unprintable(text: str) -> str:
    """The characters of `text` the fonts lack, each once, in order; "" when all print."""
    return "".join(dict.fromkeys(c for c in text if ord(c) not in _characters()))


@cache
def _characters() -> frozenset[int]:
    """Code points for which every one of the fonts has a shape, and which a tagged PDF may hold:
    `printable.txt` has their ranges, hexadecimal."""
    text = (resources.files("blockwright.sheets") / "printable.txt").read_text("utf-8")
    ranges = [[int(end, 16) for end in one.split("-")] for one in text.split()]
    return frozenset(code for ends in ranges for code in range(ends[0], ends[-1] + 1))


Paper = Literal["a4", "letter", "pocket"]

_SCALES: dict[Paper, tuple[float, ...]] = {
    "a4": (1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.86, 0.82, 0.78),
    "letter": (1.15, 1.1, 1.05, 1.0, 0.95, 0.9, 0.86, 0.82, 0.78, 0.76),
    "pocket": (0.9, 0.86, 0.82, 0.78, 0.74, 0.7),
}
"""Type sizes tried, the largest first; the smallest still reads at arm's length."""
_OVERLEAF: dict[Paper, float] = {"a4": 1.0, "letter": 1.0, "pocket": 0.85}
"""The size of a session that needs a second page anyway."""


def sheets_pdf(documents: Sequence[Document], paper: Paper = "a4") -> bytes:
    """The PDF of one or more `blockwright/sheet/1` documents, one session to a page.

    PDF/UA-1, fonts embedded, dated by the first session, so equal documents give equal bytes.
    Raises ValueError without a document."""
    if not documents:
        raise ValueError("no sheet to print")
    first = documents[0]
    book = {
        "paper": paper,
        "scales": _SCALES[paper],
        "overleaf": _OVERLEAF[paper],
        "title": f"Training sheet, {first['lifter']}, {day_text(first)}",
        "author": "Blockwright",
        "sessions": [_session(document) for document in documents],
    }
    return compiled("day_sheet", "sheets", book, first["date"])


def compiled(template: str, name: str, shown: dict[str, Any], day: str) -> bytes:
    """The PDF that a template makes of what it shows, given to it as JSON under a name; dated by
    that day."""
    import typst

    on = date.fromisoformat(day)
    text = json.dumps(printable(json.loads(json.dumps(shown))), ensure_ascii=False)
    return typst.compile(
        (resources.files("blockwright.sheets") / f"{template}.typ").read_bytes(),
        font_paths=paper_fonts(),
        ignore_system_fonts=True,
        sys_inputs={name: text},
        pdf_standards="ua-1",
        timestamp=datetime(on.year, on.month, on.day, tzinfo=UTC),
    )


def _session(document: Document) -> dict[str, Any]:
    words = sheet_words(document)
    return asdict(words) | {"notes": " ".join(words.notes)}
