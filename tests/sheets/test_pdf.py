"""The sheet on paper, opened with somebody else's reader."""

import hashlib
import json
import struct
import subprocess
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from blockwright.sheets import pdf
from blockwright.sheets.pdf import Paper, printable, sheets_pdf, unprintable
from blockwright.sheets.sheet_words import advice_parts
from sheet_documents import document_of
from sheet_people import LOWER_DAY, UPPER_DAY, block, entry, lifter, sets

A4, LETTER = (595, 842), (612, 792)


def pages_of(data: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(BytesIO(data)).pages]


def joined(data: bytes) -> str:
    """All text, with every run of white space one space: lines break where they must."""
    return " ".join(" ".join(pages_of(data)).split())


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", A4), ("letter", LETTER), ("pocket", (842, 595))]
)
def test_one_session_fits_one_page_of_its_paper(paper: Paper, size: tuple[int, int]) -> None:
    for place in ((1, 1), (1, 2), (4, 1)):
        reader = PdfReader(BytesIO(sheets_pdf([document_of(*place)], paper)))
        assert len(reader.pages) == 1
        box = reader.pages[0].mediabox
        assert (round(float(box.width)), round(float(box.height))) == size


def test_sessions_have_a_page_each_and_the_pocket_takes_two() -> None:
    two = [document_of(1, 2), document_of(2, 2)]
    assert len(pages_of(sheets_pdf(two, "a4"))) == 2
    assert len(pages_of(sheets_pdf(two, "pocket"))) == 1


def test_it_is_tagged_titled_and_says_that_it_is_accessible() -> None:
    reader = PdfReader(BytesIO(sheets_pdf([document_of(1, 1)])))
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/StructTreeRoot"]["/K"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.metadata is not None
    assert reader.metadata.title == "Training sheet, Ines Invented, Monday 4 January 2027, 06:30"
    assert b"pdfuaid" in root["/Metadata"].get_data()


def test_headings_are_one_for_the_session_and_one_a_lift() -> None:
    reader = PdfReader(BytesIO(sheets_pdf([document_of(1, 1)])))
    root: Any = reader.trailer["/Root"]
    kinds = list(_kinds(root["/StructTreeRoot"]["/K"]))
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == len(LOWER_DAY)


def _kinds(node: Any) -> Any:
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        for item in node:
            yield from _kinds(item)
    elif isinstance(node, dict):
        if "/S" in node:
            yield str(node["/S"])
        if "/K" in node:
            yield from _kinds(node["/K"])


def test_every_font_is_embedded_and_ours() -> None:
    reader = PdfReader(BytesIO(sheets_pdf([document_of(1, 1)])))
    found = []
    for page in reader.pages:
        fonts: Any = page["/Resources"]["/Font"]  # type: ignore[index]
        for name in fonts:
            below = fonts[name]["/DescendantFonts"][0].get_object()
            assert "SourceSansPro" in below["/BaseFont"]
            assert any(key.startswith("/FontFile") for key in below["/FontDescriptor"])
            found.append(name)
    assert found


def test_what_is_written_has_the_width_of_the_page_and_each_rule_of_a_try_its_line() -> None:
    document = document_of(1, 1)
    fewest = {**document, "entries": [e for e in document["entries"] if len(e["sets"]) <= 3]}
    (page,) = PdfReader(BytesIO(sheets_pdf([fewest]))).pages
    right: list[float] = []
    page.extract_text(
        visitor_text=lambda text, at, *more: right.append(at[4]) if "RIR" in text else None
    )
    assert max(right) > 0.85 * A4[0]
    begins = [line.partition(":")[0] for line in page.extract_text().splitlines()]
    assert {"15 or more", "5 to 7", "Fewer, or repetitions missing"} <= set(begins)


@pytest.mark.parametrize("paper", ["a4", "letter", "pocket"])
def test_a_session_weighs_less_than_100_kb(paper: Paper) -> None:
    assert len(sheets_pdf([document_of(1, 1)], paper)) < 100_000


def test_equal_sheets_give_equal_bytes_in_this_process_and_another() -> None:
    document = document_of(1, 1)
    data = sheets_pdf([document])
    assert sheets_pdf([document]) == data
    script = (
        "import sys, json, hashlib\n"
        "from blockwright.sheets.pdf import sheets_pdf\n"
        "print(hashlib.sha256(sheets_pdf([json.load(sys.stdin)])).hexdigest())"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        input=json.dumps(document),
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == hashlib.sha256(data).hexdigest()


@pytest.mark.parametrize(
    "name",
    [
        'Ana *Bold* #strong[x] $x^2$ \\ "quote" `raw` <label> @ref // no comment',
        '#read("/etc/hostname") #panic()',
        "Ørjan Łukasz Ćwik Ἀ Жанна",
    ],
)
def test_a_name_is_shown_as_it_is_written(name: str) -> None:
    text = joined(sheets_pdf([document_of(1, 1, block(lifter(name)))]))
    assert printable(name) in text


def test_a_character_without_a_shape_becomes_a_question_mark_and_is_named() -> None:
    name = "\N{CJK UNIFIED IDEOGRAPH-5C71}\N{GRINNING FACE}\N{ZERO WIDTH NO-BREAK SPACE} Ana"
    assert unprintable(name) == name[:3]
    assert "??? Ana" in joined(sheets_pdf([document_of(1, 1, block(lifter(name)))]))
    assert unprintable("Ana, 82.5 kg: 20 + 10 + 1.25 × 3 – é ß Ж Ω") == ""


def test_the_list_of_what_can_be_printed_is_what_the_fonts_have() -> None:
    import font_source_sans_pro

    fonts = [Path(font_source_sans_pro.font_directory) / name for name in pdf.FONTS]
    have = [frozenset(_mapped(font.read_bytes())) for font in fonts]
    wanted = frozenset.intersection(*have) - {ord("\N{ZERO WIDTH NO-BREAK SPACE}")}
    assert wanted == {code for code in range(0x110000) if not pdf.unprintable(chr(code))}


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


def test_the_fonts_have_every_character_the_product_writes() -> None:
    from blockwright.files.catalogue import builtin_catalogue
    from blockwright.files.words import sentences

    texts = [*sentences().values()]
    for lift in builtin_catalogue().lifts.values():
        texts += [lift.name, lift.standard, lift.caution or ""]
    assert unprintable("".join(text.replace("\n", " ") for text in texts)) == ""


def test_a_long_session_goes_on_overleaf_and_loses_nothing() -> None:
    lifts = [one.lift for one in (*LOWER_DAY, *UPPER_DAY)] * 2
    many = [
        entry(order, lift, sets(5, 20, 8, 12), 120) for order, lift in enumerate(lifts, start=1)
    ]
    data = sheets_pdf([document_of(1, 1, block(), many)])
    pages = pages_of(data)
    assert len(pages) > 2
    text = joined(data)
    for lift in lifts:
        assert lift[:1].upper() + lift[1:] in text
    assert "effort of the whole session" in " ".join(pages[-1].split())
    for page in pages:
        assert "Ines Invented" in page, "every page says whose it is"


def test_what_is_said_on_screen_is_said_on_paper() -> None:
    document = document_of(1, 1)
    text = joined(sheets_pdf([document]))
    for one in document["entries"]:
        assert one["standard"] in text
        assert one["caution"] is None or one["caution"] in text
        for part in advice_parts(one, document["units"]):
            assert f"{part.reps}, {part.rest}" in text
    for caution in document["cautions"]:
        assert caution["says"] in text


def test_a_referral_stands_across_the_top() -> None:
    text = pages_of(sheets_pdf([document_of(1, 1, block(status="refer"))]))[0]
    assert text.index("Not cleared yet") < text.index("Barbell back squat")


def test_a_session_without_lifts_is_a_page_too() -> None:
    document = document_of(4, 1) | {"entries": []}
    assert len(pages_of(sheets_pdf([document]))) == 1


def test_no_sheet_is_a_programming_error() -> None:
    with pytest.raises(ValueError, match="no sheet"):
        sheets_pdf([])
