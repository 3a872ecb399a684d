"""A sheet walked from top to bottom: headings give columns and days, rows give sets.

Layouts are not named one by one. A column has a role and labels from the rows above it; a row has
what its own cells say; what neither says is carried from above. Rows outside any table are read by
the order of their cells.
"""

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from blockwright.engine.units import Unit
from blockwright.files.importing.cells import read_cell
from blockwright.files.importing.columns import Columns, Headers, dates_below, is_value
from blockwright.files.importing.days import (
    When,
    day_of_cell,
    day_of_month,
    read_when,
    serial_day,
)
from blockwright.files.importing.entries import (
    Entry,
    Skipped,
    anchor_of,
    title_of,
    week_column,
)
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.headings import Column
from blockwright.files.importing.lines import lift_and_sets, line_parts, numbered_set, values_below
from blockwright.files.importing.names import LiftMatcher, is_no_lift
from blockwright.files.importing.rows import Fields, Unread, sets_of_fields, sets_of_sequence
from blockwright.files.importing.told import OneSet

_DITTO = frozenset({'"', "''", "same", "ditto", "do", "idem", '-"-', "„", "as above", "^"})
_NOTHING = re.compile(
    r"^(?:-+|x|n/?a|none|off|rest|rest day|skip(?:ped)?|missed|sick|holiday|vacation|\?|0|no)$",
    re.I,
)
_OF_THE_ROW = frozenset({"lift", "lifter", "note", "unit", "rest", "method", "pain"})
_WHEN_ROLES = frozenset({"date", "day", "week"})
_WHO = r"(?:(?:lifter|athlete|client|trainee)(?:'s)?(?: name)?|name)"


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
        self._title = ""
        tab = Cell(0, 0, grid.title, grid.title)
        self._state = _State(read_when(tab))
        self.anchor = anchor_of(grid, self._state.when.week or 1)
        if self._headers.is_sure_lift(tab):
            self._state.lift = grid.title

    def read(self) -> None:
        for cells in self._grid.rows:
            if not cells:
                self._headers.forget()
                continue
            if dated := dates_below(cells, self._columns):
                self._columns = dated
                continue
            columns = self._headers.read(cells, self._columns)
            if columns is None:
                self._title = title_of(cells)
            if columns:
                self._open(columns)
            elif columns == {}:
                self._close()
                self._heading_row(cells)
            elif any(cell.column in self._columns for cell in cells):
                self._table_row(cells)
            else:
                self._loose_row(cells)

    def _open(self, columns: Columns) -> None:
        """Begins a table; what stood above it goes on to hold."""
        self._close()
        self._columns = columns
        if self._title and not any(head.role == "lift" or head.lift for head in columns.values()):
            # A title over columns of sets alone is a lift, be it in no catalogue.
            self._state.lift = self._title

    def _close(self) -> None:
        if 0 in self._states:
            self._state = self._states[0].below()
        self._columns, self._states = {}, {}

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
        dates = sorted(column for column, head in self._columns.items() if head.role == "date")
        if len(lifts) < 2 and (lifts or len(dates) < 2):
            return [list(cells)]
        if len(lifts) < 2:
            lifts = dates
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
            if head.role == "cell" and self._lift_and_sets(cell.text):
                return True
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
            return When(week=int(number[0]), start=day_of_cell(cell, inside=True))
        if day := day_of_cell(cell, inside=True):
            return When(day)
        if head.role == "date" and re.fullmatch(r"\d{1,2}", cell.text):
            return When(day_of_month(self._grid.title, int(cell.text)))
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
            own = replace(state, when=week_column(when, state.when, first_week))
            own.lift, own.lifter = lift or state.lift, lifter or state.lifter
            done = [number for number, fields in numbered.items() if fields.cells()]
            for number in sorted(numbered):
                fields = numbered[number].over(base, number > 0)
                if number and number != max(done, default=0):
                    # The row's own effort belongs to its last set.
                    fields.by_role = {
                        role: cell
                        for role, cell in fields.by_role.items()
                        if role not in ("rir", "rpe") or cell is not base.by_role.get(role)
                    }
                self._group(fields, own, row.shared)

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
        if lift is not None and lift.text.lower() not in _DITTO:
            state.before.pop("load", None)
        elif "load" not in shared and "reps" in shared and "load" in state.before:
            # A blank load under one of the same lift.
            shared["load"] = state.before["load"]
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
        if "cell" in fields.by_role and (both := self._lift_and_sets(telling[0].text)):
            cell = replace(telling[0], value=both[1], text=both[1])
            state, fields = replace(state, lift=both[0]), Fields({"cell": cell}, fields.unit)
        if not state.lift or is_no_lift(state.lift):
            self._skip(telling[0], "no lift stands beside it")
            return
        told = sets_of_fields(fields, self._load_first)
        if isinstance(told, Unread):
            self._skip(told.cell, told.why)
            return
        words = {role: shared[role].text for role in _OF_THE_ROW & shared.keys()}
        entry = self._entry(state.lift, state, told, telling)
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

    def _entry(
        self, lift: str, state: _State, sets: tuple[OneSet, ...], cells: Sequence[Cell]
    ) -> Entry:
        first = cells[0]
        order = (self._number, first.row, first.column)
        place = self._grid.place(first)
        text = " | ".join(cell.text for cell in cells)
        return Entry(lift, state.when, state.lifter, sets, state.unit, place, text, order)

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
            if self._line(cell, cells[at + 1 :]):
                return
            self._heading_row([cell])
        if not lifts and self._state.lift and self._sets_below(cells):
            return
        if lifts and len(cells) == 1:
            self._state.lift = cells[0].text
        elif not lifts:
            self._heading_row(cells)

    def _sets_below(self, cells: Sequence[Cell]) -> bool:
        """Sets of the lift named above."""
        values = values_below(cells)
        if not values:
            return False
        if (one := numbered_set(cells)) is not None:
            entry = self._entry(self._state.lift, self._state, (one,), list(cells[1:]))
            self.entries.append(entry)
            return True
        return self._sequence(self._state.lift, values)

    def _line(self, cell: Cell, behind: Sequence[Cell]) -> bool:
        """A line such as "Bench press 3x8 @ 80"; a comma may have cut it into cells."""
        for parts in line_parts(cell, behind):
            told = [self._lift_and_sets(part) for part in parts]
            if None not in told:
                for lift, sets in filter(None, told):
                    self._sequence(lift, [Cell(cell.row, cell.column, sets, sets)])
                return True
        return False

    def _lift_and_sets(self, text: str) -> tuple[str, str] | None:
        return lift_and_sets(text, self._matcher, self._load_first)

    def _sequence(self, lift: str, values: list[Cell]) -> bool:
        told = sets_of_sequence(values, self._load_first)
        if isinstance(told, Unread):
            if any(is_value(cell) for cell in values):
                self._skip(told.cell, told.why)
            return False
        sets, note = told
        entry = self._entry(lift, self._state, sets, values)
        self.entries.append(replace(entry, note=note))
        return True

    def _heading_row(self, cells: Sequence[Cell]) -> None:
        """A day, a week, a person, a lift or a unit for what follows."""
        for state in [self._state, *self._states.values()]:
            self._take_heading(cells, state)

    def _take_heading(self, cells: Sequence[Cell], state: _State) -> None:
        if len(cells) == 1 and self._headers.is_sure_lift(cells[0]):
            state.lift = cells[0].text
        for at, cell in enumerate(cells):
            if match := re.match(rf"{_WHO}\s*[:=-]\s*(.+)", cell.text, re.I):
                state.lifter = match[1].strip()
            elif re.fullmatch(_WHO, cell.text.strip(": "), re.I) and at + 1 < len(cells):
                if not self._headers.is_lift(cells[at + 1]):
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


def read_sheet(grid: Grid, number: int, matcher: LiftMatcher, load_first: bool) -> SheetReader:
    """The entries and skipped cells of one sheet; `number` is its place among the files' sheets."""
    reader = SheetReader(grid, number, matcher, load_first)
    reader.read()
    return reader
