"""Workbooks and CSV files as plain grids of cells, with a place for every message."""

import csv
import datetime as dt
import io
import re
from collections import Counter
from collections.abc import Container, Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import NamedTuple

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.csv_text import decoded
from .workbooks import MOST_CELLS, OTHER_WORKBOOKS, WORKBOOKS, Comments, read_workbook

Value = str | float | int | bool | dt.date | dt.datetime | dt.time | dt.timedelta

MOST_COLUMNS = 2_000  # Ten years of weeks of four columns; what is wider takes minutes to read
MOST_CELL_LETTERS = 4_000
"""Two pages (judgement): no rule that reads a cell is made for more, and one cell of 40 million
letters held the whole site for minutes."""
_BETWEEN = re.compile(r"\s+-+\s+|_+|--+|(?<=[^\W\d])-(?=[^\W\d])")
_CUTS = re.compile(r'[^\s\d],\S|,[^\s\d]|^,|,$|"', re.M)
_DASHES = str.maketrans("–—−×✕✖\u00a0\u202f’“”″", '---xxx  \'"""') | {ord("½"): ".5"}


class Cell(NamedTuple):
    """One cell that holds something. `text` is trimmed, with plain dashes and a plain x."""

    row: int
    column: int
    value: Value
    text: str
    comment: str = ""  # What hangs on the cell of a workbook

    def saying(self, text: str) -> "Cell":
        """The cell as if this stood in it."""
        return self if text == self.text else self._replace(value=text, text=text)


@dataclass(frozen=True)
class Grid:
    """A sheet: its non-empty cells by row, rows and columns counted from 0."""

    file: str
    tab: str  # The sheet's name; empty for a CSV file
    rows: tuple[tuple[Cell, ...], ...]

    def rewritten(
        self, texts: Mapping[str, str], columns: Container[int] = range(MOST_COLUMNS)
    ) -> "Grid":
        """The sheet with each of these texts, in these columns, written otherwise."""

        def said(cell: Cell) -> Cell:
            return cell.saying(texts.get(cell.text, cell.text)) if cell.column in columns else cell

        return replace(self, rows=tuple(tuple(map(said, r)) for r in self.rows)) if texts else self

    @cached_property
    def texts(self) -> Counter[str]:
        """The different texts of its cells, with how often each stands there."""
        return Counter([c.text for row in self.rows for c in row if isinstance(c.value, str)])

    @cached_property
    def title(self) -> str:
        """The sheet's name; of a CSV file the last part of its own, which often was a sheet's."""
        return self.tab or _split_name(self.file)[1]

    @cached_property
    def book(self) -> str:
        """The file; of CSV files that were sheets of one workbook, what their names share."""
        return self.file if self.tab else _split_name(self.file)[0]

    def place(self, cell: Cell) -> str:
        """The cell as a spreadsheet names it: `log.xlsx, Week 1, C7`."""
        return f"{self.name}, {cell_name(cell.row, cell.column)}"

    @cached_property
    def name(self) -> str:
        """The file, and the sheet of a workbook."""
        return f"{self.file}, {self.tab}" if self.tab else self.file


def _split_name(file: str) -> tuple[str, str]:
    """A CSV file's name as workbook and sheet: `club - Week 1.csv` is `club` and `Week 1`."""
    stem = Path(file).stem
    book, _, sheet = _BETWEEN.sub("\0", stem).rpartition("\0")
    return (book or file, sheet.strip() or stem)


def cell_name(row: int, column: int) -> str:
    """`C7` for row 6, column 2."""
    return f"{_letters(column + 1)}{row + 1}"


@cache
def _letters(column: int) -> str:
    before, last = divmod(column - 1, 26)
    return (_letters(before) if before else "") + chr(65 + last)


def read_grids(path: Path) -> list[Grid]:
    """The sheets of a workbook or the one table of a CSV file; BadInput when it is neither."""
    ending = path.suffix.lower()
    if ending in OTHER_WORKBOOKS:
        says, mend = f"is a {ending[1:]} workbook", "save it as xlsx or CSV (UTF-8)"
        raise BadInput(Problem(file=path.name, says=says, mend=mend))
    if ending in WORKBOOKS:
        return [_grid(path.name, *sheet) for sheet in read_workbook(path)]
    text, _ = decoded(path)
    return [_grid(path.name, "", _csv_rows(text), {})]


def _grid(file: str, tab: str, table: list[list[Value]], comments: Comments) -> Grid:
    if sum(map(len, table)) > MOST_CELLS:
        says = f"has more than {MOST_CELLS:,} cells"
        raise BadInput(Problem(file=file, says=says, mend="split it into several files"))
    rows = []
    for at, row in enumerate(table):
        texts = map(plain, row)
        both = enumerate(zip(row, texts, strict=True))
        rows.append(tuple([Cell(at, number, *told) for number, told in both if told[1]]))
        for cell in rows[-1]:
            if len(cell.text) > MOST_CELL_LETTERS:
                says = f"{cell_name(at, cell.column)} holds more than {MOST_CELL_LETTERS:,} letters"
                raise BadInput(Problem(file=file, says=says, mend="shorten that cell"))
    for (at, column), said in comments.items():
        if at < len(rows):
            rows[at] = tuple(
                cell._replace(comment=said) if cell.column == column else cell for cell in rows[at]
            )
    if any(row[-1].column >= MOST_COLUMNS for row in rows if row):
        says, mend = f"has more than {MOST_COLUMNS:,} columns", "split it into several files"
        raise BadInput(Problem(file=file, says=says, mend=mend))
    return Grid(file, tab, tuple(rows))


def plain(value: Value) -> str:
    """A value as text: trimmed, one space between words, numbers without a needless `.0`."""
    if isinstance(value, str):
        return _plain_text(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value)


@lru_cache(maxsize=32768)
def _plain_text(value: str) -> str:
    if value.isascii() and value.isprintable():
        return " ".join(value.split()) if "  " in value else value.strip()
    lines = (" ".join(line.split()) for line in value.translate(_DASHES).splitlines())
    return "\n".join(line for line in lines if line)


def _csv_rows(text: str) -> list[list[Value]]:
    first, _, rest = text.partition("\n")
    if match := re.fullmatch(r'"?sep=([,;|\t])"?\s*', first):
        return _split(rest, match[1])
    mark = max(";\t|,", key=lambda mark: _fitness(text, mark))
    if mark == "," and not _CUTS.search(text):
        # "Squat 32,5x3, 35x3": lines of a diary, cut by no comma.
        return [[line] for line in text.splitlines()]
    return _split(text, mark)


def _split(text: str, separator: str) -> list[list[Value]]:
    try:
        return [list(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator)]
    except csv.Error:
        return [list(line.split(separator)) for line in text.splitlines()]


def _fitness(text: str, separator: str) -> tuple[float, int]:
    """How evenly a separator cuts the first lines: a decimal comma cuts few of them alike."""
    head = "\n".join(text.splitlines()[:200])
    widths = Counter(len(row) for row in _split(head, separator) if any(map(str, row)))
    wide = [(count, width) for width, count in widths.items() if width > 1]
    if not wide:
        return (0.0, 0)
    count, width = max(wide)
    return (round(count / sum(widths.values()), 2), width if separator != "," else width - 1)
