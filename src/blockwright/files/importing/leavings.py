"""What a sheet holds that told no set and was listed nowhere: nothing is dropped without a word."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from .cells import read_cell
from .column_content import SETS
from .column_rules import Columns, tells_sets
from .days import day_of_cell
from .entries import Skipped
from .grids import Cell, Grid

_MAY_HOLD_SETS = frozenset({"cell", "load", "reps", "sets", "lift", "warmup"})
_DIGIT = re.compile(r"\d")
_UNKNOWN = "the heading of this column says nothing we know; {} of its cells hold numbers"
_UNREAD = "it is no set we know how to read"

Place = tuple[int, int]


@dataclass
class Leavings:
    """The cells of a sheet that were taken, listed or are no sets, and those that may be."""

    seen: set[Place] = field(default_factory=set)
    _left: list[Cell] = field(default_factory=list)
    """Of rows of tables: what may tell sets and did not."""
    _read: set[int] = field(default_factory=set)  # Rows of tables
    _unknown: dict[Cell, list[Cell]] = field(default_factory=dict)
    """By the heading that says nothing we know, the cells below it."""
    _heads: dict[int, Cell] = field(default_factory=dict)

    def take(self, cells: Iterable[Cell]) -> None:
        self.seen.update([cell[:2] for cell in cells])

    def has(self, cell: Cell) -> bool:
        return cell[:2] in self.seen

    def opens(self, columns: Columns, header: Sequence[Cell]) -> None:
        """A table begins: its header tells no set."""
        self.take(header)
        self._heads = {cell.column: cell for cell in header if cell.column not in columns}

    def row(self, cells: Sequence[Cell], columns: Columns) -> None:
        """A row of a table, once it was read."""
        self._read.add(cells[0].row)
        for cell in cells:
            head = columns.get(cell.column)
            aside = head is not None and (head.planned or head.role not in _MAY_HOLD_SETS)
            if aside or cell[:2] in self.seen or not _may_tell(cell):
                continue
            if head is None and (heading := self._heads.get(cell.column)) is not None:
                self._unknown.setdefault(heading, []).append(cell)
            elif head is None or head.role in ("lift", "warmup"):
                self._left += [cell] if _is_like_sets(cell) else []
            else:
                counts = head.role == "sets" and re.fullmatch(r"\d{1,2}(?: ?x)?", cell.text)
                self._left += [] if counts else [cell]

    def listed(self, grid: Grid) -> list[Skipped]:
        """The cells that may tell sets and did not, a column of an unknown heading as one."""
        loose = (c for row in grid.rows if row and row[0].row not in self._read for c in row)
        left = [c for c in loose if not self.has(c) and _may_tell(c) and _is_like_sets(c)]
        return [
            Skipped(grid.place(cells[0]), heading.text[:60], _UNKNOWN.format(len(cells)))
            for heading, cells in self._unknown.items()
        ] + [
            Skipped(grid.place(cell), cell.text[:60], _UNREAD)
            for cell in sorted(left + self._left, key=lambda cell: cell[:2])
        ]


def _may_tell(cell: Cell) -> bool:
    return _DIGIT.search(cell.text) is not None and day_of_cell(cell) is None


def _is_like_sets(cell: Cell) -> bool:
    """Whether a cell outside any column of sets looks like some: "3x10 10s", "8,8,7"."""
    if not isinstance(cell.value, str):
        return False
    told = read_cell(cell.text)
    lists = told.kind == "reps" and len(told.sets) > 1
    return lists or tells_sets(cell) or SETS.search(cell.text) is not None
