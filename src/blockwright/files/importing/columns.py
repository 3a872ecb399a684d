"""Header rows: which column of a table holds what, under which labels.

A header has at most three levels: labels (a week, a day, a lift, "Set 1") above the columns' own
names. A label stands over its column and those right of it, up to the next label of its row.
"""

import itertools
from collections.abc import Sequence
from dataclasses import replace

from blockwright.files.importing.cells import read_cell
from blockwright.files.importing.days import When, day_of_cell, read_when
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.headings import Column, read_heading
from blockwright.files.importing.names import LiftMatcher

LIFT_SCORE = 0.6
"""From this likeness on a text where a lift may stand is one (judgement)."""
_LONGEST_HEADING = 40
_LONGEST_LIFT = 60
_ROWS_LOOKED_AT = 40
_TELLING = frozenset({"load", "reps", "cell", "lift", "sets"})

Columns = dict[int, Column]


class Headers:
    """Tells header rows of one grid from rows of data; remembers label rows until they serve."""

    def __init__(self, grid: Grid, matcher: LiftMatcher) -> None:
        self._grid = grid
        self._matcher = matcher
        self._labels: list[Sequence[Cell]] = []

    def read(self, cells: Sequence[Cell]) -> Columns | None:
        """The columns a row opens; {} when its labels wait for a row below; None for no header."""
        found = {cell.column: self.heading(cell) for cell in cells}
        named = {column: head for column, head in found.items() if head is not None}
        leaves = [head for head in named.values() if not is_label(head)]
        labels = [head for head in named.values() if is_label(head)]
        values = [cell for cell in cells if found[cell.column] is None and is_value(cell)]
        if values and len(values) >= len(named):
            return None
        if len(leaves) >= 2 and any(head.role in _TELLING for head in leaves):
            return self._opened(named, cells)
        over_all = not values and len(labels) + len(leaves) >= len(cells) - 1
        if labels and over_all and self._names_below(cells):
            self._labels = [*self._labels[-1:], tuple(cells)]
            return {}
        if len(labels) >= 2 and over_all:
            return self._opened(named, cells)
        return None

    def forget(self) -> None:
        """An empty row or a row of data ends what labels stand over."""
        self._labels = []

    def heading(self, cell: Cell) -> Column | None:
        """What a cell says as a heading; None when it says no such thing."""
        if not isinstance(cell.value, str):
            day = day_of_cell(cell)
            return Column("cell", when=When(day)) if day else None
        if (head := read_heading(cell.text)) is not None:
            return head
        if len(cell.text) > _LONGEST_HEADING:
            return None
        if when := read_when(cell):
            return Column("cell", when=when)
        if read_cell(cell.text) is None and self._matcher.match(cell.text).is_sure:
            return Column("cell", lift=cell.text)
        return None

    def is_lift(self, cell: Cell) -> bool:
        """Whether a cell, where a lift may stand, names one."""
        if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_LIFT or "\n" in cell.text:
            return False
        if read_cell(cell.text) is not None or read_when(cell):
            return False
        return self._matcher.match(cell.text).score >= LIFT_SCORE

    def _opened(self, named: Columns, cells: Sequence[Cell]) -> Columns:
        columns = {column: self._under_labels(column, head) for column, head in named.items()}
        columns = _with_lift_column(columns)
        if not any(head.role == "lift" or head.lift for head in columns.values()):
            left = [c for c in range(min(columns)) if c not in columns]
            lift = self._fullest(cells[0].row, left)
            if lift is not None:
                columns[lift] = Column("lift")
        self._labels = []
        return self._with_gaps(columns, cells[0].row)

    def _under_labels(self, column: int, head: Column) -> Column:
        for row in reversed(self._labels):
            over = [cell for cell in row if cell.column <= column]
            if over and (label := self.heading(over[-1])) is not None:
                head = head.under(label)
        return head

    def _with_gaps(self, columns: Columns, row: int) -> Columns:
        """A label over two columns names both, where cells stand under the second too."""
        used = {cell.column for cells in self._rows_below(row) for cell in cells if is_value(cell)}
        filled = dict(columns)
        last: Column | None = None
        width = _label_width(columns)
        for column in range(min(columns), max(columns) + width):
            if (head := columns.get(column)) is not None:
                last = head if is_label(head) else None
            elif last is not None and column in used:
                filled[column] = last
        return filled

    def _names_below(self, cells: Sequence[Cell]) -> bool:
        """Whether the next row that holds anything names columns."""
        below = next(iter(self._rows_below(cells[0].row)), ())
        heads = [read_heading(cell.text) for cell in below]
        plain = [head for head in heads if head is not None and head.role not in ("date", "day")]
        return len(plain) >= 2 and len(plain) * 2 > len(below)

    def _fullest(self, row: int, columns: Sequence[int]) -> int | None:
        """The column, of these, with most lifts below the row."""
        counts = dict.fromkeys(columns, 0)
        for cells in self._rows_below(row):
            for cell in cells:
                if cell.column in counts and self.is_lift(cell):
                    counts[cell.column] += 1
        best = max(counts, key=lambda column: counts[column], default=None)
        return best if best is not None and counts[best] else None

    def _rows_below(self, row: int) -> list[tuple[Cell, ...]]:
        below = self._grid.rows[row + 1 : row + 1 + _ROWS_LOOKED_AT]
        return [cells for cells in below if cells]


def _with_lift_column(columns: Columns) -> Columns:
    """A column called "Name" holds people beside a column of lifts, else lifts."""
    if any(head.role == "lift" or head.lift for head in columns.values()):
        return columns
    names = [column for column, head in columns.items() if head.role == "lifter"]
    if not names:
        return columns
    return {**columns, names[0]: replace(columns[names[0]], role="lift")}


def _label_width(columns: Columns) -> int:
    """How many columns a label spans: the usual distance of two."""
    labels = sorted(column for column, head in columns.items() if is_label(head))
    return min((later - first for first, later in itertools.pairwise(labels)), default=1)


def is_label(head: Column) -> bool:
    """Whether a heading stands over sets as a whole: a week, a day, a lift, a set's number."""
    return head.role == "cell" and bool(head.when or head.lift or head.set_number)


def is_value(cell: Cell) -> bool:
    """Whether a cell can tell a set or a part of one."""
    if isinstance(cell.value, str):
        return read_cell(cell.text) is not None
    return day_of_cell(cell) is None
