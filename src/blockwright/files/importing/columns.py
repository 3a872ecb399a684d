"""Header rows: which column of a table holds what, under which labels.

A header has at most three levels: labels (a week, a day, a lift, "Set 1") above the columns' own
names. A label stands over its column and those right of it, up to the next label of its row.
"""

import itertools
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from blockwright.files.importing.cells import read_cell, read_load
from blockwright.files.importing.column_rules import (
    DATA_OF_A_ROW,
    TELLING,
    Columns,
    has_values,
    is_data,
    is_plain,
    is_value,
    label_width,
    repeats,
    tells_sets,
    with_counters,
    with_lift_column,
    with_set_numbers,
    without_records,
    without_side_table,
)
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
_LONGEST_HEADING = 40
_LONGEST_LIFT = 60
_ROWS_LOOKED_AT = 40
_LIFT_AND_ROLE = re.compile(
    r"(?P<lift>.*[a-z)])[\s:_-]+(?P<role>[(\[]?(?:kgs?|lbs?|weight|load|reps?|rpe|rir|done|actual|"
    r"plan(?:ned)?|target|results?|sets? ?x ?reps)[)\]]?)",
    re.I,
)
_LIFT_AND_SCHEME = re.compile(
    r"(?P<lift>.*[a-z)])[\s:,(-]+(?P<scheme>\d{1,2} ?x ?\d{1,2})\)?", re.I
)
_MOST_REPS = 30
_PERSON = re.compile(r"[^\W\d_]+(?:[ .'-]+[^\W\d_]+){0,2}\.?")
_PERSON_IN = re.compile(rf"(?P<name>{_PERSON.pattern})\s*[(\[-]+\s*(?:kgs?|lbs?)\s*[)\]]?", re.I)
_SETS = re.compile(r"\d\s*[x@]\s*\d", re.I)


class Headers:
    """Tells header rows of one grid from rows of data; remembers label rows until they serve."""

    def __init__(self, grid: Grid, matcher: LiftMatcher) -> None:
        self._grid = grid
        self._matcher = matcher
        self._labels: list[Sequence[Cell]] = []
        self._last_labels: list[Sequence[Cell]] = []
        self.guessed_people: set[str] = set()
        """Names that stand over columns with no word that they are of people."""
        self._month = is_month(grid.title)

    def read(self, cells: Sequence[Cell], open_columns: Columns) -> Columns | None:
        """The columns a row opens; {} when its labels wait for a row below; None for no header.

        Under the columns of an open table a number or a list of them is no heading.
        """
        in_table = sum(is_data(cell, open_columns) for cell in cells)
        if in_table >= DATA_OF_A_ROW:
            return None
        cells = with_day_numbers(cells)
        if self._month and not in_table and (days := days_across(cells, self._grid.title)):
            self._labels = []
            return self._with_lifts(days, cells[0].row)
        found = {
            cell.column: None if is_data(cell, open_columns) else self.heading(cell)
            for cell in cells
        }
        named = {column: head for column, head in found.items() if head is not None}
        leaves = [head for head in named.values() if not is_label(head)]
        labels = [head for head in named.values() if is_label(head)]
        values = [cell for cell in cells if found[cell.column] is None and is_value(cell)]
        if values and len(values) * (1 if len(values) < DATA_OF_A_ROW else 2) >= len(named):
            return None
        if len(leaves) >= 2 and any(head.role in TELLING for head in leaves):
            if self._is_upper_half(cells):
                self._labels = [*self._labels[-1:], tuple(cells)]
                return {}
            return self._opened(named, cells)
        people = self._people_over(cells)
        over_all = not values and max(len(named), len(people)) >= len(cells) - 1
        if (named or people) and over_all and self._names_below(cells):
            self._labels = [*self._labels[-1:], tuple(cells)]
            return {}
        under_lifts = sum(bool(head.lift) for head in labels) >= 2 and bool(leaves)
        if len(labels) >= 2 and (over_all or (under_lifts and not values)):
            return self._opened(named, cells)
        return self._opened(people, cells) if self._over_sets(people, cells[0].row) else None

    def _people_over(self, cells: Sequence[Cell]) -> Columns:
        """The columns of a row that holds names of people and nothing else, right of lifts.

        A short name may look like a lift ("Bo"), but not each of them.
        """
        if not _PERSON.fullmatch(cells[-1].text):
            return {}
        below = self._columns_below(cells[0].row)
        left = list(itertools.takewhile(lambda column: self._is_left(below[column]), sorted(below)))
        cells = [cell for cell in cells if cell.column not in left]
        if not len({cell.text for cell in cells}) == len(cells) >= DATA_OF_A_ROW:
            return {}
        if not all(_PERSON.fullmatch(cell.text) and is_plain(cell) for cell in cells):
            return {}
        if sum(map(self.is_lift, cells)) * 2 > len(cells):
            return {}
        if not any(self._by_content(below[column], None).role == "lift" for column in left):
            return {}
        return {cell.column: Column("cell", lifter=cell.text) for cell in cells}

    def _is_left(self, cells: Sequence[Cell]) -> bool:
        """Whether a column says of its rows what they are: a day, a lift."""
        return self._by_content(cells, None).role in ("date", "day", "lift")

    def _over_sets(self, people: Columns, row: int) -> bool:
        """Whether whole sets stand under each name."""
        below = self._columns_below(row)
        return bool(people) and all(
            column in below and self._by_content(below[column], None).role == "cell"
            for column in people
        )

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
        if len(cell.text) > _LONGEST_HEADING or tells_sets(cell):
            return None
        if when := read_when(cell):
            if re.match(r"plan\w*|target|goal", cell.text, re.I) and when.day is not None:
                return Column("skip", planned=True)
            rest = re.split(r"\s*[:-]\s+", cell.text, maxsplit=1)
            lift = rest[1] if len(rest) > 1 and self._matcher.match(rest[1]).is_sure else ""
            return Column("cell", when=when, lift=lift)
        match = _LIFT_AND_SCHEME.fullmatch(cell.text)
        if match and self._matcher.match(match["lift"]).is_sure and self._over_loads(cell):
            return Column("cell", lift=match["lift"], scheme=match["scheme"])
        if read_cell(cell.text) is None and self._matcher.match(cell.text).is_sure:
            return Column("cell", lift=cell.text)
        return None

    def _over_loads(self, cell: Cell) -> bool:
        """Whether bare numbers that can be no repetitions stand below the cell."""
        below = self._columns_below(cell.row).get(cell.column, [])
        loads = [read_load(other.text) for other in below]
        amounts = [load.amount for load in loads if load is not None]
        many = any(amount > _MOST_REPS or amount != int(amount) for amount in amounts)
        return many and len(amounts) * 2 > len(below)

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
        named = without_records(named)
        if not self._labels and repeats(named):
            self._labels = self._last_labels
        self._last_labels = self._labels or self._last_labels
        columns = {column: self._under_labels(column, head) for column, head in named.items()}
        columns |= self._named_above(columns, below)
        columns = self._with_gaps(columns, cells)
        for column, head in list(columns.items()):
            if head.role == "date" and self._holds_lifts(below.get(column, [])):
                columns[column] = replace(head, role="lift")
            elif head.role == "cell" and not is_label(head) and not has_values(below, column):
                columns[column] = replace(head, role="skip")
            elif is_label(head) and not head.lift and column in below:
                columns[column] = self._by_content(below[column], head)
        columns = with_set_numbers(with_counters(columns, below))
        columns = without_side_table(columns)
        unknown = {cell.column for cell in cells} - columns.keys()
        people = self._people_over(cells)
        people = people if self._over_sets(people, cells[0].row) else {}
        columns |= people
        self.guessed_people.update(head.lifter for head in people.values())
        first = min(columns)
        for column in sorted(below.keys() - columns.keys()):
            if column < first or column in unknown:
                head = self._by_content(below[column], None)
                has_lift = any(h.role == "lift" or h.lift for h in columns.values())
                if head.role != "skip" and not (head.role == "lift" and has_lift):
                    columns[column] = head
        self._labels = []
        return self._with_lifts(columns, cells[0].row)

    def _with_lifts(self, columns: Columns, row: int) -> Columns:
        """The columns with the one that names the lifts, where no heading does."""
        columns = with_lift_column(columns)
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
            names = sum(
                bool(_PERSON.fullmatch(cell.text)) and not (read_when(cell) or self.is_lift(cell))
                for cell in cells
            )
            if column < min(columns) and names * 2 > len(cells):
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
        told = read_cell(cell.text)
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
        if (named := self._people_over(row).get(cell.column)) is not None:
            self.guessed_people.add(cell.text)
            return named
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
        width = label_width(columns)
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
