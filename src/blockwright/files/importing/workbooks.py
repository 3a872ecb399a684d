"""Workbooks (xlsx) to tables of values, by calamine; looked at before it reads.

calamine lays each sheet out as one full rectangle, and writes a shared text out for each cell that
holds it: a few kB would take gigabytes and end the process. So all of it is counted first, in every
part that could be read as a sheet, whatever it is called and however it is written."""

import io
import posixpath
import re
import zipfile
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree
from xml.parsers import expat

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.limits import read_limited

WORKBOOKS = frozenset({".xlsx", ".xlsm"})
OTHER_WORKBOOKS = frozenset({".xls", ".xlsb", ".ods", ".numbers"})
MOST_CELLS = 2_000_000
"""More cells, empty ones between included, than any training log has (judgement)."""
MOST_MARKS = 1_500_000
"""XML elements of its parts, some 2 s of counting: small files hold any number, all of one cell."""
MOST_UNPACKED = 256 * 2**20
"""Bytes of a workbook's parts; 20,000 rows of ten columns take about 10 MB."""
MOST_LETTERS = 50_000_000
"""Letters of all cells, a shared text counted for each and as written (judgement)."""
MOST_COMMENTED = 4 * 2**20
"""Bytes of a part that is read for its comments; what is larger is no log (judgement)."""
_PLACE = re.compile(r"([A-Za-z]{1,3})(\d{1,9})")


Comments = dict[tuple[int, int], str]  # What hangs on cells, by row and column from 0


def read_workbook(path: Path) -> list[tuple[str, list[list[Any]], Comments]]:
    """The sheets: name, values row by row from A1, comments. BadInput when it is none."""
    data = read_limited(path)
    _refuse_what_would_burst(path.name, data)
    from python_calamine import CalamineError, CalamineWorkbook

    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheets = [
            book.get_sheet_by_name(meta.name)
            for meta in book.sheets_metadata
            if "worksheet" in str(meta.typ).lower()
        ]
        comments = _comments_of(data)
        return [
            (sheet.name, sheet.to_python(skip_empty_area=False), comments.get(sheet.name, {}))
            for sheet in sheets
        ]
    except (CalamineError, ValueError, OSError, KeyError, ElementTree.ParseError) as error:
        raise BadInput(_no_workbook(path.name, str(error)[:80])) from error


def _comments_of(data: bytes) -> dict[str, Comments]:
    """The comments of each sheet, which calamine does not give."""
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        if not any("comment" in name for name in book.namelist()):
            return {}
        sheets = {id: part for id, _, part in _related(book, "xl/workbook.xml")}
        return {
            sheet.get("name", ""): _comments_in(_parsed(book, part))
            for sheet in _parsed(book, "xl/workbook.xml").iterfind(".//{*}sheet")
            for key, id in sheet.items()
            if key.endswith("}id")
            for _, kind, part in _related(book, sheets[id])
            if kind.endswith("/comments")
        }


def _parsed(book: zipfile.ZipFile, part: str) -> ElementTree.Element:
    if book.getinfo(part).file_size > MOST_COMMENTED:
        raise ValueError("its comments are too many")
    return ElementTree.fromstring(book.read(part))


def _related(book: zipfile.ZipFile, part: str) -> list[tuple[str, str, str]]:
    """What a part of a workbook refers to: id, kind and part."""
    folder, name = posixpath.split(part)
    path = f"{folder}/_rels/{name}.rels"
    if path not in book.namelist():
        return []
    return [
        (
            one.get("Id", ""),
            one.get("Type", ""),
            posixpath.normpath(posixpath.join("/", folder, one.get("Target", ""))).lstrip("/"),
        )
        for one in _parsed(book, path)
    ]


def _comments_in(root: ElementTree.Element) -> Comments:
    authors = [author.text or "" for author in root.iterfind(".//{*}author")]
    found: Comments = {}
    for one in root.iterfind(".//{*}comment"):
        at = _PLACE.fullmatch(one.get("ref", ""))
        said = "".join(part.text or "" for part in one.iterfind(".//{*}t"))
        said = said.rpartition("Comment:\n")[2]
        author = authors[int(one.get("authorId", 0))] if authors else ""
        if at:
            place = (int(at[2]) - 1, _number(at[1]) - 1)
            found[place] = " ".join(said.removeprefix(f"{author}:").split())
    return found


def _no_workbook(file: str, why: str) -> Problem:
    mend = "open it in a spreadsheet and save it as xlsx or CSV (UTF-8)"
    return Problem(file=file, says=f"cannot be read as a workbook ({why})", mend=mend)


def _refuse_what_would_burst(file: str, data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as book:
            if sum(part.file_size for part in book.infolist()) > MOST_UNPACKED:
                raise BadInput(_too_large(file, f"unpacks to over {MOST_UNPACKED // 2**20} MB"))
            if book.testzip() is not None:
                raise BadInput(_no_workbook(file, "a part of it is damaged"))
            # calamine goes by what is inside, and would try these when the rest is none.
            if {"xl/workbook.bin", "content.xml"} & {name.lower() for name in book.namelist()}:
                raise BadInput(_no_workbook(file, "it is one of another kind"))
            count = _Count(file)
            for part in sorted(
                book.namelist(), key=lambda name: "sharedstrings" not in name.lower()
            ):
                count.part(book.read(part))
    except BadInput:
        raise
    except Exception as error:
        # A damaged zip fails in many ways (zlib, struct); each means the same.
        raise BadInput(_no_workbook(file, str(error)[:80] or "it is damaged")) from error


def _too_large(file: str, says: str) -> Problem:
    mend = "delete cells far from the table, or split the file into several"
    return Problem(file=file, says=says, mend=mend)


class _Count:
    """What a workbook comes to when it is laid out: its parts are told one after the other, the
    shared texts first. BadInput as soon as it is too much."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._cells = self._letters = self._marks = 0
        self._texts: list[int] = []
        """How long each shared text is."""

    def part(self, content: bytes) -> None:
        if b"sheetData" not in content and b"sst" not in content:
            return
        self._row = self._column = self._rows = self._columns = 0
        self._is_shared, self._inside, self._said = False, "", ""
        reader = expat.ParserCreate()
        reader.buffer_text = True
        reader.StartElementHandler, reader.EndElementHandler = self._opens, self._closes
        reader.CharacterDataHandler = self._says
        try:
            reader.Parse(content, True)
        except expat.ExpatError as error:
            raise BadInput(_no_workbook(self._file, "a part of it is damaged")) from error
        self._cells += self._rows * self._columns

    def _opens(self, name: str, given: dict[str, str]) -> None:
        name = name.rpartition(":")[2]
        self._inside, self._said = name, ""
        self._marks += 1
        if self._marks > MOST_MARKS:
            raise BadInput(_too_large(self._file, f"is made of more than {MOST_MARKS:,} parts"))
        if name == "si":
            self._texts.append(0)
        elif name == "row":
            self._row, self._column = int(given.get("r") or self._row + 1), 0
        elif name == "c":
            at = _PLACE.fullmatch(given.get("r", ""))
            self._column = _number(at[1]) if at else self._column + 1
            self._row = int(at[2]) if at else self._row
            self._is_shared = given.get("t") == "s"
        elif name in ("v", "is", "f"):
            self._rows, self._columns = (
                max(self._rows, self._row), max(self._columns, self._column)
            )  # fmt: skip
            if self._cells + self._rows * self._columns > MOST_CELLS:
                says = f"spans more than {MOST_CELLS:,} cells, empty ones included"
                raise BadInput(_too_large(self._file, says))

    def _says(self, text: str) -> None:
        if self._inside == "t":
            self._letters += len(text)
            if self._texts:
                self._texts[-1] += len(text)
        elif self._inside == "v" and self._is_shared:
            self._said += text

    def _closes(self, _name: str) -> None:
        if self._inside == "v" and self._is_shared and self._said.strip().isdecimal():
            at = int(self._said)
            self._letters += self._texts[at] if at < len(self._texts) else 0
        if self._letters > MOST_LETTERS:
            raise BadInput(_too_large(self._file, f"holds more than {MOST_LETTERS:,} letters"))
        self._inside = ""


@cache
def _number(letters: str) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number
