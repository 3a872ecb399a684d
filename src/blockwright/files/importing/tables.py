"""A sheet walked from top to bottom: headings give columns and days, rows give sets.

Layouts are not named one by one. A column has a role and labels from the rows above it; a row has
what its own cells say; what neither says is carried from above. Rows outside any table are read by
the order of their cells.
"""

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from blockwright.engine.units import Unit
from blockwright.files.importing.cells import OneSet, read_cell
from blockwright.files.importing.columns import LIFT_SCORE, Columns, Headers, is_value
from blockwright.files.importing.days import When, day_of_cell, read_when, serial_day
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.headings import Column
from blockwright.files.importing.names import LiftMatcher, is_no_lift
from blockwright.files.importing.rows import Fields, Unread, sets_of_fields, sets_of_sequence

_DITTO = frozenset({'"', "''", "same", "ditto", "do", "idem", '-"-', "„", "as above", "^"})
_NOTHING = re.compile(
    r"^(?:-+|x|n/?a|none|off|rest|rest day|skip(?:ped)?|missed|sick|holiday|vacation|\?|0|no)$",
    re.I,
)
_OF_THE_ROW = frozenset({"lift", "lifter", "note", "unit", "rest", "method", "pain"})
_WHEN_ROLES = frozenset({"date", "day", "week"})
_WHO = r"(?:name|lifter|athlete|client|trainee)"
_LONGEST_LINE = 160


@dataclass(frozen=True, slots=True)
class Entry:
    """Sets of one lift as a sheet tells them, with what it says of day, person and unit."""

    lift: str
    when: When
    lifter: str
    sets: tuple[OneSet, ...]
    unit: Unit | None
    place: str
    order: tuple[int, ...]
    rest: str = ""
    note: str = ""
    method: str = ""
    pain: str = ""


@dataclass(frozen=True, slots=True)
class Skipped:
    """A cell that told no set: where, its text, and why."""

    place: str
    text: str
    why: str


@dataclass
class _State:
    """What is carried down a sheet, for one table or one of several side by side."""

    when: When = field(default_factory=When)
    lift: str = ""
    lifter: str = ""
    unit: Unit | None = None
    before: dict[str, Cell] = field(default_factory=dict)

    def below(self) -> "_State":
        """A table that opens below this."""
        return _State(self.when, self.lift, self.lifter, self.unit)


@dataclass
class _RowCells:
    """The cells of one row by what they are: the row's own, and groups under their labels."""

    shared: dict[str, Cell] = field(default_factory=dict)
    groups: dict[tuple[When, str, str], dict[int, Fields]] = field(default_factory=dict)
    when: When = field(default_factory=When)


class SheetReader:
    """Reads one grid; `entries` and `skipped` hold what it found."""

    def __init__(self, grid: Grid, number: int, matcher: LiftMatcher, load_first: bool) -> None:
        self.entries: list[Entry] = []
        self.skipped: list[Skipped] = []
        self._grid = grid
        self._number = number
        self._matcher = matcher
        self._load_first = load_first
        self._headers = Headers(grid, matcher)
        self._columns: Columns = {}
        self._states: dict[int, _State] = {}
        self._state = _State(read_when(Cell(0, 0, grid.tab, grid.tab)) if grid.tab else When())

    def read(self) -> None:
        for cells in self._grid.rows:
            if not cells:
                self._headers.forget()
                continue
            columns = self._headers.read(cells)
            if columns:
                self._open(columns)
            elif columns == {}:
                self._heading_row(cells)
            elif any(cell.column in self._columns for cell in cells):
                self._table_row(cells)
            else:
                self._loose_row(cells)

    def _open(self, columns: Columns) -> None:
        """Begins a table; what stood above it goes on to hold."""
        if 0 in self._states:
            self._state = self._states[0].below()
        self._columns = columns
        self._states = {}

    # Rows of a table

    def _table_row(self, cells: Sequence[Cell]) -> None:
        for at, part in enumerate(self._segments(cells)):
            state = self._states.setdefault(at, self._state.below())
            if not any(self._tells(cell) for cell in part):
                self._between(part, state)
            else:
                self._data(part, state)

    def _segments(self, cells: Sequence[Cell]) -> list[list[Cell]]:
        """The row's cells cut where a second table stands beside the first."""
        lifts = sorted(column for column, head in self._columns.items() if head.role == "lift")
        if len(lifts) < 2:
            return [list(cells)]
        starts = []
        for before, lift in itertools.pairwise([-1, *lifts]):
            own = [
                column
                for column in range(before + 1, lift)
                if column in self._columns and self._columns[column].role in _WHEN_ROLES
            ]
            starts.append(min([*own, lift]))
        parts: list[list[Cell]] = [[] for _ in starts]
        for cell in cells:
            at = max((i for i, start in enumerate(starts) if start <= cell.column), default=0)
            parts[at].append(cell)
        return parts

    def _tells(self, cell: Cell) -> bool:
        """Whether a cell of a table can tell a set."""
        head = self._columns.get(cell.column)
        if head is None or head.planned:
            return False
        if head.role in ("cell", "sets"):
            return is_value(cell) and (head.role == "cell" or read_cell(cell.text) is not None)
        return head.role in ("load", "reps")

    def _between(self, cells: Sequence[Cell], state: _State) -> None:
        """A row without sets: a day's heading, or a lift whose sets stand below."""
        for cell in cells:
            head = self._columns.get(cell.column)
            role = head.role if head is not None else "cell"
            if role in ("lifter", "note", "unit", "method"):
                continue
            if self._headers.is_lift(cell) and (role == "lift" or len(cells) == 1):
                state.lift = cell.text
            elif when := self._dated(cell, head):
                state.when = when.over(state.when)
                state.before.clear()

    def _dated(self, cell: Cell, head: Column | None) -> When:
        """What a cell says of the day, read as its column asks."""
        if head is None or head.role not in _WHEN_ROLES:
            return read_when(cell)
        number = re.search(r"\d{1,2}", cell.text)
        if head.role == "week" and number and day_of_cell(cell) is None:
            return When(week=int(number[0]))
        if day := day_of_cell(cell, inside=True):
            return When(day)
        if head.role == "date" and (serial := serial_day(cell.value)):
            return When(serial)
        if head.role == "day" and re.fullmatch(r"\d{1,2}", cell.text):
            return When(session=int(cell.text))
        return read_when(cell)

    def _data(self, cells: Sequence[Cell], state: _State) -> None:
        row = self._sorted(cells)
        state.when = row.when.over(state.when)
        self._carry(row.shared, state)
        base = Fields()
        for role, cell in row.shared.items():
            head = self._columns.get(cell.column)
            base.put(role, cell, head.unit if head else None)
        groups = row.groups or {(When(), "", ""): {0: Fields()}}
        first_week = min((key[0].week for key in groups if key[0].week is not None), default=None)
        for (when, lift, lifter), numbered in groups.items():
            own = replace(state, when=_week_column(when, state.when, first_week))
            own.lift, own.lifter = lift or state.lift, lifter or state.lifter
            for number in sorted(numbered):
                self._group(numbered[number].over(base, number > 0), own, row.shared)

    def _sorted(self, cells: Sequence[Cell]) -> _RowCells:
        row = _RowCells()
        for cell in cells:
            head = self._columns.get(cell.column)
            if head is None:
                continue
            if head.planned or head.role == "skip":
                if read_cell(cell.text) is not None and head.role in ("skip", "reps", "cell"):
                    row.shared.setdefault("planned", cell)
                continue
            if head.role in _WHEN_ROLES:
                row.when = self._dated(cell, head).over(row.when)
            elif head.role in _OF_THE_ROW:
                row.shared[head.role] = cell
                if head.role == "lift" and head.when:
                    row.when = row.when.over(head.when)
            elif self._is_shared(head):
                row.shared[head.role] = cell
            else:
                key = (head.when, head.lift, head.lifter)
                numbered = row.groups.setdefault(key, {})
                fields = numbered.setdefault(head.set_number or 0, Fields())
                fields.put(head.role, cell, head.unit)
        return row

    @staticmethod
    def _is_shared(head: Column) -> bool:
        labelled = head.set_number or head.when or head.lift or head.lifter
        return not labelled and head.role != "cell"

    def _carry(self, shared: dict[str, Cell], state: _State) -> None:
        """Takes in the row's lift and person; "same" means the cell above."""
        lift, who = shared.get("lift"), shared.get("lifter")
        if lift is not None and lift.text.lower() not in _DITTO:
            state.lift = lift.text
        if who is not None and who.text.lower() not in _DITTO:
            state.lifter = who.text
        for role in ("load", "reps", "rir", "rpe"):
            cell = shared.get(role)
            if cell is not None and cell.text.lower() in _DITTO and role in state.before:
                shared[role] = state.before[role]
            elif cell is not None:
                state.before[role] = cell

    def _group(self, fields: Fields, state: _State, shared: dict[str, Cell]) -> None:
        telling = fields.cells()
        if not telling or all(_NOTHING.match(cell.text) for cell in telling):
            return
        if not state.lift or is_no_lift(state.lift):
            self._skip(telling[0], "no lift stands beside it")
            return
        told = sets_of_fields(fields, self._load_first)
        if isinstance(told, Unread):
            self._skip(told.cell, told.why)
            return
        words = {role: shared[role].text for role in _OF_THE_ROW & shared.keys()}
        entry = self._entry(state.lift, state, told, telling[0])
        self.entries.append(
            replace(
                entry,
                unit=fields.unit or state.unit,
                rest=words.get("rest", ""),
                note=words.get("note", ""),
                method=words.get("method", ""),
                pain=words.get("pain", ""),
            )
        )

    def _entry(self, lift: str, state: _State, sets: tuple[OneSet, ...], first: Cell) -> Entry:
        order = (self._number, first.row, first.column)
        place = self._grid.place(first)
        return Entry(lift, state.when, state.lifter, sets, state.unit, place, order)

    # Rows outside tables

    def _loose_row(self, cells: Sequence[Cell]) -> None:
        """A lift with its sets, a lift alone, or a heading."""
        self._headers.forget()
        lifts = [at for at, cell in enumerate(cells) if self._headers.is_lift(cell)]
        found = False
        for at, after in itertools.pairwise([*lifts, len(cells)]):
            if at == lifts[0]:
                self._heading_row(cells[:at])
            if values := list(cells[at + 1 : after]):
                found |= self._sequence(cells[at].text, values)
        if found:
            return
        for at, cell in enumerate(cells):
            found |= self._line(cell, cells[at + 1 :])
        if found:
            return
        if lifts and len(cells) == 1:
            self._state.lift = cells[0].text
        elif not lifts:
            self._heading_row(cells)

    def _line(self, cell: Cell, behind: Sequence[Cell]) -> bool:
        """A line such as "Bench press 3x8 @ 80"; a comma may have cut it into cells."""
        if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_LINE:
            return False
        rest = itertools.takewhile(
            lambda other: not re.search("[a-z]{3}", other.text, re.I), behind
        )
        text = ",".join([cell.text, *(other.text for other in rest)])
        for match in re.finditer(r"[\s:,(-]+(?=[\d+@(-]|bw\b|w/?u\b)", text, re.I):
            lift, sets = text[: match.start()], text[match.end() :]
            told = read_cell(sets, self._load_first)
            if told is None or told.kind != "sets":
                continue
            if self._matcher.match(lift).score >= LIFT_SCORE:
                return self._sequence(lift, [Cell(cell.row, cell.column, sets, sets)])
        return False

    def _sequence(self, lift: str, values: list[Cell]) -> bool:
        told = sets_of_sequence(values, self._load_first)
        if isinstance(told, Unread):
            if any(is_value(cell) for cell in values):
                self._skip(told.cell, told.why)
            return False
        sets, note = told
        entry = self._entry(lift, self._state, sets, values[0])
        self.entries.append(replace(entry, note=note))
        return True

    def _heading_row(self, cells: Sequence[Cell]) -> None:
        """A day, a week, a person or a unit for what follows."""
        state = self._state
        for at, cell in enumerate(cells):
            if match := re.match(rf"{_WHO}\s*[:=-]\s*(.+)", cell.text, re.I):
                state.lifter = match[1].strip()
            elif re.fullmatch(_WHO, cell.text.strip(": "), re.I) and at + 1 < len(cells):
                state.lifter = cells[at + 1].text
                return
            elif match := re.search(
                r"\b(?:all|weights?|loads?|units?)\b.*\b(kg|kilos|lbs?|pounds)\b", cell.text, re.I
            ):
                state.unit = "kg" if match[1].lower().startswith("k") else "lb"
            elif when := read_when(cell):
                state.when = when.over(state.when)

    def _skip(self, cell: Cell, why: str) -> None:
        self.skipped.append(Skipped(self._grid.place(cell), cell.text[:60], why))


def _week_column(label: When, heading: When, first_week: int | None) -> When:
    """The day of a labelled column in a row below a heading.

    Under "Mon 7 June" the column of the first week is that Monday, the next one a week on.
    """
    when = label.over(heading)
    dated = heading.day is not None or heading.start is not None
    if label.week is None or label.day is not None or label.start is not None or not dated:
        return when
    on = label.week - (first_week or label.week)
    if heading.day is not None:
        return When(day=heading.day, weeks_on=on)
    return replace(heading, week=None, weeks_on=on)


def read_sheet(grid: Grid, number: int, matcher: LiftMatcher, load_first: bool) -> SheetReader:
    """The entries and skipped cells of one sheet; `number` is its place among the files' sheets."""
    reader = SheetReader(grid, number, matcher, load_first)
    reader.read()
    return reader


def bare_pairs(grids: Sequence[Grid]) -> Iterator[tuple[int, int]]:
    """All bare pairs of numbers ("8x12") in the sheets, to settle what comes first in them."""
    pattern = re.compile(r"(\d{1,3})(?:[.,]\d)? ?x ?(\d{1,3})")
    for cell in (cell for grid in grids for row in grid.rows for cell in row):
        if isinstance(cell.value, str) and (match := pattern.fullmatch(cell.text.lower())):
            yield int(match[1]), int(match[2])
