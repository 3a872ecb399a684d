"""Workbooks (xlsx) to tables of values, by calamine; looked at before it reads.

calamine lays a sheet out as one full rectangle: a cell in the farthest corner of an otherwise
empty sheet of 5 kB would take gigabytes and end the process. So the cells' own addresses are
looked at first.
"""

import io
import re
import zipfile
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.limits import read_limited

WORKBOOKS = frozenset({".xlsx", ".xlsm"})
OTHER_WORKBOOKS = frozenset({".xls", ".xlsb", ".ods", ".numbers"})
MOST_CELLS = 2_000_000
"""More cells, empty ones between included, than any training log has (judgement)."""
MOST_UNPACKED = 256 * 2**20
"""Bytes of a workbook's parts; 20,000 rows of ten columns take about 10 MB."""

_PART = re.compile(r"xl/worksheets/[^/]+\.xml", re.I)
_TAG = re.compile(rb"<(?:\w+:)?(row|c)\b([^>]*)>")
_ROW_AT = re.compile(rb'\br="(\d{1,9})"')
_CELL_AT = re.compile(rb'\br="([A-Za-z]{1,3})(\d{1,9})"')

Merged = tuple[tuple[int, int], tuple[int, int]]


def read_workbook(path: Path) -> list[tuple[str, list[list[Any]], list[Merged]]]:
    """The sheets: name, values row by row from A1, merged ranges. BadInput when it is none."""
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
        return [
            (sheet.name, sheet.to_python(skip_empty_area=False), sheet.merged_cell_ranges or [])
            for sheet in sheets
        ]
    except (CalamineError, ValueError, OSError) as error:
        raise BadInput(_no_workbook(path.name, str(error)[:80])) from error


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
            for part in book.namelist():
                if _PART.fullmatch(part) and _area(book.read(part)) > MOST_CELLS:
                    says = f"spans more than {MOST_CELLS:,} cells, empty ones included"
                    raise BadInput(_too_large(file, says))
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, ValueError, OSError) as error:
        raise BadInput(_no_workbook(file, str(error)[:80])) from error
    except Exception as error:
        # A damaged zip fails in many ways (zlib, struct); each means the same.
        if isinstance(error, BadInput):
            raise
        raise BadInput(_no_workbook(file, "it is damaged")) from error


def _too_large(file: str, says: str) -> Problem:
    mend = "delete cells far from the table, or split the file into several"
    return Problem(file=file, says=says, mend=mend)


def _area(sheet: bytes) -> int:
    """Rows times columns of the rectangle around all cells that hold something."""
    row = column = rows = columns = 0
    for tag in _TAG.finditer(sheet):
        if tag[1] == b"row":
            at = _ROW_AT.search(tag[2])
            row, column = (int(at[1]) if at else row + 1), 0
            continue
        cell = _CELL_AT.search(tag[2])
        column = _number(cell[1]) if cell else column + 1
        if tag[2].endswith(b"/"):
            continue
        rows = max(rows, int(cell[2]) if cell else row)
        columns = max(columns, column)
    return rows * columns


def _number(letters: bytes) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + letter - 64
    return number
