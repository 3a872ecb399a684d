"""Header rows: which column of a table holds what, under which labels.

A header has at most three levels: labels (a week, a day, a lift, "Set 1") above the columns' own
names. A label stands over its column and those right of it, up to the next label of its row.
"""

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from blockwright.files.importing.cells import read_cell
from blockwright.files.importing.days import (
    When,
    day_of_cell,
    is_month,
    read_when,
)
from blockwright.files.importing.days_across import days_across, with_day_numbers
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.headings import Column, Role, is_label, read_heading
from blockwright.files.importing.names import LiftMatcher
from blockwright.files.importing.warmups import is_warmup_label

LIFT_SCORE = 0.6
"""From this likeness on a text where a lift may stand is one (judgement)."""
_DATA_OF_A_ROW = 2
_LONGEST_HEADING = 40
_LONGEST_LIFT = 60
_ROWS_LOOKED_AT = 40
_NUMBERS = frozenset({"load", "reps", "rir", "rpe", "sets", "set"})
_LIFT_AND_ROLE = re.compile(
    r"(?P<lift>.*[a-z)])[\s:_-]+(?P<role>[(\[]?(?:kgs?|lbs?|weight|load|reps?|rpe|rir|done|actual|"
    r"plan(?:ned)?|target|results?|sets? ?x ?reps)[)\]]?)",
    re.I,
)
_PERSON = re.compile(r"[^\W\d_]+(?:[ .'-]+[^\W\d_]+){0,2}\.?")
_PERSON_IN = re.compile(rf"(?P<name>{_PERSON.pattern})\s*[(\[-]+\s*(?:kgs?|lbs?)\s*[)\]]?", re.I)
_CLOCK = re.compile(r"\d{1,2}:\d{2}(?::\d{2})?")
_SETS = re.compile(r"\d\s*[x@]\s*\d", re.I)
_NUMBER_LIST = re.compile(r"[\d\s.,;/x+@>-]*\d[\d\s.,;/x+@>-]*", re.I)
_TELLING = frozenset({"load", "reps", "cell", "lift", "sets"})

Columns = dict[int, Column]


class Headers:
    """Tells header rows of one grid from rows of data; remembers label rows until they serve."""

    def __init__(self, grid: Grid, matcher: LiftMatcher) -> None:
        self._grid = grid
        self._matcher = matcher
        self._labels: list[Sequence[Cell]] = []
        self._last_labels: list[Sequence[Cell]] = []
        self._month = is_month(grid.title)

    def read(self, cells: Sequence[Cell], open_columns: Columns) -> Columns | None:
        """The columns a row opens; {} when its labels wait for a row below; None for no header.

        Under the columns of an open table a number or a list of them is no heading.
        """
        in_table = sum(_is_data(cell, open_columns) for cell in cells)
        if in_table >= _DATA_OF_A_ROW:
            return None
        cells = with_day_numbers(cells)
        if self._month and not in_table and (days := days_across(cells, self._grid.title)):
            self._labels = []
            return self._with_lifts(days, cells[0].row)
        found = {
            cell.column: None if _is_data(cell, open_columns) else self.heading(cell)
            for cell in cells
        }
        named = {column: head for column, head in found.items() if head is not None}
        leaves = [head for head in named.values() if not is_label(head)]
        labels = [head for head in named.values() if is_label(head)]
        values = [cell for cell in cells if found[cell.column] is None and is_value(cell)]
        if values and len(values) * (1 if len(values) < _DATA_OF_A_ROW else 2) >= len(named):
            return None
        if len(leaves) >= 2 and any(head.role in _TELLING for head in leaves):
            if self._is_upper_half(cells):
                self._labels = [*self._labels[-1:], tuple(cells)]
                return {}
            return self._opened(named, cells)
        over_all = not values and len(labels) + len(leaves) >= len(cells) - 1
        if (labels or leaves) and over_all and self._names_below(cells):
            self._labels = [*self._labels[-1:], tuple(cells)]
            return {}
        under_lifts = sum(bool(head.lift) for head in labels) >= 2 and bool(leaves)
        if len(labels) >= 2 and (over_all or (under_lifts and not values)):
            return self._opened(named, cells)
        return None

    def _is_upper_half(self, cells: Sequence[Cell]) -> bool:
        """Whether the next row names the columns under this row's wider headings."""
        if not self._names_below(cells):
            return False
        own = {cell.column for cell in cells}
        below = next(iter(self._rows_below(cells[0].row)), ())
        return any(cell.column not in own for cell in below)

    def forget(self) -> None:
        """An empty row or a row of data ends what labels stand over."""
        self._labels = []

    def heading(self, cell: Cell) -> Column | None:
        """What a cell says as a heading; None when it says no such thing."""
        if not isinstance(cell.value, str):
            day = day_of_cell(cell)
            return Column("cell", when=When(day)) if day else None
        if (head := self._lift_and_role(cell.text)) is not None:
            return head
        if (head := read_heading(cell.text)) is not None:
            return head
        if len(cell.text) > _LONGEST_HEADING:
            return None
        if when := read_when(cell):
            if re.match(r"plan\w*|target|goal", cell.text, re.I) and when.day is not None:
                return Column("skip", planned=True)
            rest = re.split(r"\s*[:-]\s+", cell.text, maxsplit=1)
            lift = rest[1] if len(rest) > 1 and self._matcher.match(rest[1]).is_sure else ""
            return Column("cell", when=when, lift=lift)
        if read_cell(cell.text) is None and self._matcher.match(cell.text).is_sure:
            return Column("cell", lift=cell.text)
        return None

    def _lift_and_role(self, text: str) -> Column | None:
        """A lift with what its column holds: "Bench kg", "Squat (lb)", "Row reps", "Squat plan"."""
        match = _LIFT_AND_ROLE.fullmatch(text.strip())
        if match is None or len(text) > _LONGEST_HEADING or read_heading(match["lift"]):
            return None
        if self._matcher.match(match["lift"]).score < LIFT_SCORE:
            return None
        head = read_heading(match["role"])
        if head is None:
            return None
        if head.role == "load" and "(" in match["role"]:
            head = replace(head, role="cell")
        return replace(head, lift=match["lift"])

    def is_sure_lift(self, cell: Cell) -> bool:
        return self.is_lift(cell) and self._matcher.match(cell.text).is_sure

    def is_lift(self, cell: Cell) -> bool:
        """Whether a cell, where a lift may stand, names one."""
        if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_LIFT or "\n" in cell.text:
            return False
        if read_cell(cell.text) is not None or read_when(cell) or _SETS.search(cell.text):
            return False
        return self._matcher.match(cell.text).score >= LIFT_SCORE

    def _opened(self, named: Columns, cells: Sequence[Cell]) -> Columns:
        below = self._columns_below(cells[0].row)
        named = _without_records(named)
        if not self._labels and _repeats(named):
            self._labels = self._last_labels
        self._last_labels = self._labels or self._last_labels
        columns = {column: self._under_labels(column, head) for column, head in named.items()}
        columns |= self._named_above(columns, below)
        columns = self._with_gaps(columns, cells)
        for column, head in list(columns.items()):
            if head.role == "date" and self._holds_lifts(below.get(column, [])):
                columns[column] = replace(head, role="lift")
            elif head.role == "cell" and not is_label(head) and not _has_values(below, column):
                columns[column] = replace(head, role="skip")
            elif is_label(head) and not head.lift and column in below:
                columns[column] = self._by_content(below[column], head)
        columns = _without_side_table(columns)
        unknown = {cell.column for cell in cells} - columns.keys()
        for column in sorted(below.keys() - columns.keys()):
            if column < min(columns) or column in unknown:
                head = self._by_content(below[column], None)
                has_lift = any(h.role == "lift" or h.lift for h in columns.values())
                if head.role != "skip" and not (head.role == "lift" and has_lift):
                    columns[column] = head
        self._labels = []
        return self._with_lifts(columns, cells[0].row)

    def _with_lifts(self, columns: Columns, row: int) -> Columns:
        """The columns with the one that names the lifts, where no heading does."""
        columns = _with_lift_column(columns)
        if not any(head.role == "lift" or head.lift for head in columns.values()):
            left = [c for c in range(min(columns)) if c not in columns]
            lift = self._fullest(row, left)
            if lift is not None:
                columns[lift] = Column("lift")
        elif not any(head.role in ("lift", "lifter", "date") for head in columns.values()):
            self._add_people(columns, row)
        return columns

    def _add_people(self, columns: Columns, row: int) -> None:
        """People down the left side of lifts across."""
        for column, cells in self._columns_below(row).items():
            names = sum(_PERSON.fullmatch(cell.text) is not None for cell in cells)
            told = any(read_when(cell) or self.is_lift(cell) for cell in cells)
            if column < min(columns) and names * 2 > len(cells) and not told:
                columns[column] = Column("lifter")
                return

    def _holds_lifts(self, cells: Sequence[Cell]) -> bool:
        """Whether a column called "Date" (of the days across) holds lifts."""
        lifts = sum(self.is_lift(cell) for cell in cells)
        return lifts * 2 > len(cells) and not any(day_of_cell(cell) for cell in cells)

    def _columns_below(self, row: int) -> dict[int, list[Cell]]:
        """The cells under the row by column, down to the next table."""
        found: dict[int, list[Cell]] = {}
        for cells in self._rows_below(row):
            for cell in cells:
                found.setdefault(cell.column, []).append(cell)
        return found

    def _named_above(self, columns: Columns, below: dict[int, list[Cell]]) -> Columns:
        """Columns whose only heading stands a row higher: "Name" beside lifts over kg and reps."""
        found: Columns = {}
        roles = {head.role for head in columns.values() if not is_label(head)}
        for row in self._labels:
            if len(row) < 2:
                continue
            for cell in row:
                head = self.heading(cell)
                if cell.column in columns or head is None or is_label(head):
                    continue
                if head.role in roles:
                    # A table beside this one.
                    continue
                if cell.column in below:
                    found[cell.column] = head
        return found

    def _by_content(self, cells: Sequence[Cell], head: Column | None) -> Column:
        """What a column without a telling heading holds, by the most of its cells."""
        counts: Counter[Role] = Counter(self._kind(cell) for cell in cells)
        role, count = counts.most_common(1)[0]
        if head is not None:
            is_day = role in ("date", "day", "lift") and count * 2 > len(cells)
            return Column(role, when=head.when) if is_day else head
        return Column(role if count * 2 >= len(cells) else "skip")

    def _kind(self, cell: Cell) -> Role:
        if isinstance(cell.value, str) and is_warmup_label(cell.text) and cell.text.isalpha():
            return "warmup"
        if day_of_cell(cell) is not None:
            return "date"
        if not isinstance(cell.value, str):
            return "skip"
        told = None if _CLOCK.fullmatch(cell.text) else read_cell(cell.text)
        if told is not None:
            return "cell" if told.kind == "sets" else "skip"
        if read_when(cell):
            return "day"
        return "lift" if self.is_lift(cell) else "skip"

    def _under_labels(self, column: int, head: Column) -> Column:
        for row in reversed(self._labels):
            over = [cell for cell in row if cell.column <= column]
            # A title above all of a table holds for its rows, not for a column.
            if len(row) == 1 and over and over[0].column == 0:
                continue
            if not over or (label := self._label(over[-1], row)) is None:
                continue
            if is_label(label) or label.planned:
                head = head.under(label)
        return head

    def _label(self, cell: Cell, row: Sequence[Cell]) -> Column | None:
        """What a cell of a label row says; beside lifts, a likely lift is one too."""
        head = self.heading(cell)
        person = _PERSON_IN.fullmatch(cell.text) if head and head.role == "load" else None
        if head and person and read_heading(person["name"]) is None:
            # Over the columns of its sets "Ana (lb)" is no load.
            return Column("cell", head.unit, lifter=person["name"])
        if head is None and self.is_lift(cell) and len(row) > 1:
            return Column("cell", lift=cell.text)
        if head is None and len(row) > 1 and _PERSON.fullmatch(cell.text):
            return Column("cell", lifter=cell.text)
        return head

    def _with_gaps(self, columns: Columns, row: Sequence[Cell]) -> Columns:
        """A label over two columns names both, where cells stand under the second too; a heading
        that says nothing to us ends it."""
        own = {cell.column for cell in row}
        below = self._rows_below(row[0].row)
        used = {cell.column for cells in below for cell in cells if is_value(cell)}
        filled = dict(columns)
        last: Column | None = None
        width = _label_width(columns)
        for column in range(min(columns), max(columns) + width):
            if (head := columns.get(column)) is not None:
                last = head if is_label(head) else None
            elif column in own:
                last = None
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


def dates_below(cells: Sequence[Cell], columns: Columns) -> Columns:
    """The columns with the days of a row "Date:" below their header; {} for any other row."""
    head = read_heading(cells[0].text) if isinstance(cells[0].value, str) else None
    days = {cell.column: day for cell in cells[1:] if (day := day_of_cell(cell)) is not None}
    if not columns or not days or len(days) < len(cells) - 1:
        return {}
    if head is None or head.role != "date" or len(cells) < _DATA_OF_A_ROW:
        return {}
    dated: Columns = {}
    for column, old in columns.items():
        before = [first for first in days if first <= column]
        dated[column] = replace(old, when=When(days[max(before)])) if before else old
    return dated


def _is_data(cell: Cell, columns: Columns) -> bool:
    head = columns.get(cell.column)
    if head is None or head.role not in _NUMBERS:
        return False
    if not isinstance(cell.value, str):
        return day_of_cell(cell) is None
    if (day := day_of_cell(cell)) is not None and day.readings[0][0] is not None:
        return False
    return _NUMBER_LIST.fullmatch(cell.text) is not None or read_cell(cell.text) is not None


def _without_records(named: Columns) -> Columns:
    """A full header beside a table of records ("Squat 180"): the records' lifts head no column."""
    roles = {head.role for head in named.values()}
    if not ({"lift"} < roles and roles & {"load", "reps", "sets"}):
        return named
    return {column: head for column, head in named.items() if not head.lift}


def _without_side_table(columns: Columns) -> Columns:
    """A second date right of the sets, over nothing that tells one, begins a table of its own."""
    telling = [column for column, head in columns.items() if head.role in _TELLING]
    dates = [column for column, head in columns.items() if head.role == "date"]
    aside = [date for date in dates if telling and date > max(telling) and date != min(dates)]
    if not aside:
        return columns
    return {
        column: Column("skip") if column >= min(aside) else head for column, head in columns.items()
    }


def _has_values(below: dict[int, list[Cell]], column: int) -> bool:
    """Whether a column of results holds any, or nothing yet."""
    return column not in below or any(is_value(cell) for cell in below[column])


def _repeats(named: Columns) -> bool:
    """Whether a role stands in several columns: of weeks or lifts named above an earlier table."""
    roles = [head.role for head in named.values() if head.role in ("load", "reps")]
    return len(roles) > len(set(roles))


def _label_width(columns: Columns) -> int:
    """How many columns a label spans: the usual distance of two."""
    labels = sorted(column for column, head in columns.items() if is_label(head))
    return min((later - first for first, later in itertools.pairwise(labels)), default=1)


def is_value(cell: Cell) -> bool:
    """Whether a cell can tell a set or a part of one."""
    if isinstance(cell.value, str):
        return read_cell(cell.text) is not None
    return day_of_cell(cell) is None
