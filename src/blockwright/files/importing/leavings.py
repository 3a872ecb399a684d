"""What a sheet holds that told no set and was listed nowhere: nothing is dropped without a word."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from blockwright.files.importing.cells import read_cell
from blockwright.files.importing.column_content import SETS
from blockwright.files.importing.column_rules import Columns, tells_sets
from blockwright.files.importing.days import day_of_cell
from blockwright.files.importing.entries import Skipped
from blockwright.files.importing.grids import Cell, Grid

_OF_SETS = frozenset({"cell", "load", "reps", "sets"})
_UNKNOWN = "the heading of this column says nothing we know; {} of its cells hold numbers"
_UNREAD = "it is no set we know how to read"

Place = tuple[int, int]


@dataclass
class Leavings:
    """The cells of a sheet that were taken, listed or are no sets, and those that may be."""

    seen: set[Place] = field(default_factory=set)
    _open: set[Place] = field(default_factory=set)
    """Cells of columns of sets."""
    _unknown: dict[Cell, list[Cell]] = field(default_factory=dict)
    """By the heading that says nothing we know, the cells below it."""
    _heads: dict[int, Cell] = field(default_factory=dict)

    def take(self, cells: Iterable[Cell]) -> None:
        self.seen.update([cell[:2] for cell in cells])

    def has(self, cell: Cell) -> bool:
        return (cell.row, cell.column) in self.seen

    def opens(self, columns: Columns, header: Sequence[Cell]) -> None:
        """A table begins: its header tells no set."""
        self.take(header)
        self._heads = {cell.column: cell for cell in header if cell.column not in columns}

    def row(self, cells: Sequence[Cell], columns: Columns) -> None:
        """A row of a table, once it was read."""
        for cell in cells:
            head = columns.get(cell.column)
            count = head and head.role == "sets" and re.fullmatch(r"\d{1,2}(?: ?x)?", cell.text)
            if head is not None and head.role in _OF_SETS and not head.planned and not count:
                self._open.add((cell.row, cell.column))
            elif head is not None and not (head.role in ("lift", "warmup") and _is_like_sets(cell)):
                self.seen.add((cell.row, cell.column))
            elif (heading := self._heads.get(cell.column)) is not None and _may_tell(cell):
                self.take([cell])
                self._unknown.setdefault(heading, []).append(cell)

    def listed(self, grid: Grid) -> list[Skipped]:
        """The cells that may tell sets and did not, a column of an unknown heading as one."""
        found = [
            Skipped(grid.place(cells[0]), heading.text[:60], _UNKNOWN.format(len(cells)))
            for heading, cells in self._unknown.items()
        ]
        for cell in (cell for row in grid.rows for cell in row):
            at = (cell.row, cell.column)
            if (
                at not in self.seen
                and _may_tell(cell)
                and (at in self._open or _is_like_sets(cell))
            ):
                found.append(Skipped(grid.place(cell), cell.text[:60], _UNREAD))
        return found


def _may_tell(cell: Cell) -> bool:
    return re.search(r"\d", cell.text) is not None and day_of_cell(cell) is None


def _is_like_sets(cell: Cell) -> bool:
    """Whether a cell outside any column of sets looks like some: "3x10 10s", "8,8,7"."""
    if not isinstance(cell.value, str):
        return False
    told = read_cell(cell.text)
    lists = told is not None and told.kind == "reps" and len(told.sets) > 1
    return lists or tells_sets(cell) or SETS.search(cell.text) is not None
