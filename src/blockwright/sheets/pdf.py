"""Sheets on paper: A4, Letter, or two to an A4 page for the pocket. Tagged PDF, equal bytes.

The document goes to the template as JSON, never as markup, so a name cannot become a command.
Only the fonts we bring are used (three weights from a package), so that a sheet looks and weighs
the same everywhere; what they cannot write is said.
"""

import json
import struct
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from datetime import UTC, date, datetime
from functools import cache
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, Literal

from blockwright.sheets.sheet_words import Document, day_text, sheet_words

if TYPE_CHECKING:
    import typst


_FILES = ("SourceSansPro-Regular.ttf", "SourceSansPro-Semibold.ttf", "SourceSansPro-Bold.ttf")
_UNKNOWN, _BYTE_ORDER_MARK = "?", "\ufeff"


@cache
def paper_fonts() -> "typst.Fonts":
    """The fonts for typst, and no others.

    The package holds each font in two formats and typst takes folders only, in the order of the
    disk: so that every machine uses the same files, ours are copied to a folder of their own.
    """
    import typst

    folder = _folder()
    for name in _FILES:
        copy = Path(folder.name) / name
        copy.write_bytes((_package() / name).read_bytes())
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder.name]
    )


@cache
def _folder() -> "TemporaryDirectory[str]":
    """Kept until the process ends, which is when it is removed."""
    return TemporaryDirectory(prefix="blockwright-fonts-")


def _package() -> Path:
    import font_source_sans_pro

    return Path(font_source_sans_pro.font_directory)


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
    """Code points every one of the fonts has a shape for, and a tagged PDF may hold."""
    have = [frozenset(_mapped((_package() / name).read_bytes())) for name in _FILES]
    return frozenset.intersection(*have) - {ord(_BYTE_ORDER_MARK)}


def _mapped(font: bytes) -> Iterator[int]:
    """Code points of a TrueType font's Unicode table (OpenType specification, cmap, format 4)."""
    tables = struct.unpack(">H", font[4:6])[0]
    records = (struct.unpack(">4sIII", font[12 + 16 * i : 28 + 16 * i]) for i in range(tables))
    cmap = next(offset for tag, _, offset, _ in records if tag == b"cmap")
    for index in range(struct.unpack(">H", font[cmap + 2 : cmap + 4])[0]):
        at = cmap + 4 + 8 * index
        platform, encoding, offset = struct.unpack(">HHI", font[at : at + 8])
        if (platform, encoding) == (3, 1):
            yield from _segments(font, cmap + offset)


def _segments(font: bytes, at: int) -> Iterator[int]:
    count = struct.unpack(">H", font[at + 6 : at + 8])[0] // 2

    def column(place: int, kind: str) -> tuple[int, ...]:
        start = at + 14 + 2 * count * place + (2 if place else 0)
        return struct.unpack(f">{count}{kind}", font[start : start + 2 * count])

    ends, starts, deltas, ranges = column(0, "H"), column(1, "H"), column(2, "h"), column(3, "H")
    for number, (first, last) in enumerate(zip(starts, ends, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code + deltas[number]
            if ranges[number]:
                place = at + 16 + 6 * count + 2 * number + ranges[number] + 2 * (code - first)
                glyph = struct.unpack(">H", font[place : place + 2])[0]
            if glyph % 65536:
                yield code


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
