"""A sheet walked from top to bottom: headings give columns and days, rows give sets.

Layouts are not named one by one. A column has a role and labels from the rows above it; a row has
what its own cells say; what neither says is carried from above. Rows outside any table are read by
the order of their cells."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from .carrying import (
    AS_WRITTEN,
    NOTHING,
    State,
    as_written,
    carry,
    from_before,
    names_no_lift,
    of_each_set,
    plan_for,
    plan_of_one,
    tells_nothing,
    undone_by_mark,
)
from .cells import all_warmups, read_cell
from .column_content import lift_and_scheme, sets_done
from .column_rules import (
    Columns,
    dates_below,
    has_lift,
    holds_for_all,
    is_card_line,
    is_value,
    segments,
    starts_of_tables,
    tells_sets,
)
from .days import NO_DAY, day_of_cell, read_when
from .entries import dated, title_of, week_column, with_drop
from .grids import Cell
from .headings import ALONE, SOME_SETS, calls_a_plan, read_heading
from .loose import LooseRows
from .names import sums_up
from .parts import Unread, loads_of
from .row_cells import NO_LABEL, OF_THE_ROW, RowCells, sorted_row
from .rows import Fields, sets_of_fields
from .told import OneSet, with_last_set
from .words import is_ditto, is_drop, is_warmup_word, says_not_done


class SheetReader(LooseRows):
    """Reads one grid, tables and all."""

    def read(self) -> None:
        for cells in self._grid.rows:
            if not cells:
                self.headers.forget()
                continue
            if len(cells) == 1 and (name := self._person(cells[0])):
                for state in [self._state, *self._states.values()]:
                    state.lifter = name
                    state.before.clear()
                continue
            if is_card_line(cells) and not any(h.when for h in self._columns.values()):
                self._leavings.take(cells)
                self._heading_row(cells)
                for state in self._states.values():
                    state.before.clear()
                continue
            if (days := dates_below(cells, self._columns)) and not self.headers.names_below(cells):
                self._columns = days
                continue
            columns = self.headers.read(cells, self._columns)
            if not columns and len(cells) == 1 and isinstance(cells[0].value, str):
                head = read_heading(re.split(r"\s+-\s|:", cells[0].text)[0])
                self._planned = head.planned if head is not None else self._planned
            if columns is None:
                self._title = title_of(cells)
            if columns:
                self._open(columns)
                self._leavings.opens(columns, cells)
            elif columns == {}:
                self._close()
                self._leavings.take(cells)
                self._heading_row(cells)
            elif any(cell.column in self._columns for cell in cells):
                self._table_row(cells)
                self._leavings.row(cells, self._columns)
            else:
                self._loose_row(cells)
        self.skipped += self._leavings.listed(self._grid)

    def _open(self, columns: Columns) -> None:
        """Begins a table; what stood above it goes on to hold."""
        self._close()
        # A line that says how the plan's column beside what was done is meant is no title.
        planned = self._planned and not any(head.planned for head in columns.values())
        self._planned = False
        self._columns = {
            column: replace(head, planned=True) if planned else head
            for column, head in columns.items()
        }
        self._starts = starts_of_tables(self._columns)
        self._certain = {
            column: head.role
            for column, head in self._columns.items()
            if head.role != "skip" and not head.planned
        }
        if self._title and not has_lift(columns):
            # A title over columns of sets alone is a lift, be it in no catalogue; the tab's is
            # known.
            self._state.lift = self._state.lift or self._title

    def _close(self) -> None:
        if 0 in self._states:
            self._state = self._states[0].below()
        self._columns, self._states = {}, {}

    def _table_row(self, cells: Sequence[Cell]) -> None:
        for at, part in enumerate(segments(cells, self._starts)):
            if at not in self._states:
                self._states[at] = self._state.below()
                if self._starts and self._apart:
                    over = segments(self._apart, self._starts)[at]
                    self._take_heading(over, self._states[at])
            state = self._states[at]
            if at and holds_for_all("date", self._columns):
                state.when = self._states[0].when
            if at and holds_for_all("lifter", self._columns):
                state.lifter = self._states[0].lifter
            if not any(self._tells(cell) for cell in part):
                self._see_days(cells)
                self._between(part, state)
            else:
                self._data(part, state)

    def _tells(self, cell: Cell) -> bool:
        """Whether a cell of a table can tell a set."""
        head = self._columns.get(cell.column)
        if head is None or head.planned:
            return False
        if head.role == "sets":
            return is_value(cell) and bool(read_cell(cell.text))
        if head.role == "cell":
            return bool(
                is_value(cell)
                or is_ditto(cell.text)
                or AS_WRITTEN.fullmatch(cell.text)
                or loads_of(cell.text)
                or self._lift_and_sets(cell.text)
                or self._is_session(cell)
            )
        if head.role == "flag":
            return bool(sets_done(cell.text))
        day = day_of_cell(cell) if head.role == "load" else None
        return head.role in ("load", "reps") and not (day and day.readings[0][0])

    def _between(self, cells: Sequence[Cell], state: State) -> None:
        """A row without sets: a day's heading, or a lift whose sets stand below."""
        for cell in cells:
            head = self._columns.get(cell.column)
            role = head.role if head is not None else "cell"
            aside = role in ("lifter", "note", "unit", "method") and day_of_cell(cell) is None
            unknown = head is not None and role == "skip" and not head.planned
            if aside or (unknown and len(cells) > 1):
                continue
            if self.headers.is_lift(cell) and (role == "lift" or len(cells) == 1):
                state.lift = cell.text
            elif when := dated(cell, head):
                state.when = when.after(state.when)
                state.before.clear()
            elif role == "date" and re.search(r"\d", cell.text):
                state.when = NO_DAY

    def _data(self, cells: Sequence[Cell], state: State) -> None:
        row = sorted_row(cells, self._columns)
        # Below a day that we cannot read the day above does not hold.
        before, state.when = state.when, row.when.after(NO_DAY if row.undated else state.when)
        lift = row.shared.get("lift")
        head = self._columns.get(cells[0].column)
        of_load = head is not None and head.role == "load"
        if lift is None and sums_up(cells[0].text) and not (of_load or read_when(cells[0])):
            self._skip(cells[0], "no lift stands beside it", cells)
            return
        if self._is_undone(row, state) or self._is_plan(cells, row, state):
            self._leavings.take(cells)
            return
        if lift is not None:
            asides = (cell for cell in cells if cell.column not in self._certain)
            state.warmup = any(is_warmup_word(cell.text) for cell in asides)
        # The same lift written again, on the same day, is no new one.
        again = lift is not None and lift.text == state.lift and before == state.when
        of_row = row.planned(NO_LABEL)
        carry(row.shared, state, of_row.by_role, None if again else lift)
        self._with_scheme(row, state)
        base = Fields(effort_of_each=self._legend.effort_of_each)
        for role, cell in row.shared.items():
            head = self._columns.get(cell.column)
            base.put(role, cell, head.unit if head else None)
        if not row.groups:
            base.planned = of_row.planned
            self._group(base, state, row.shared, of_row)
            return
        if not any(number >= 0 for group in row.groups.values() for number in group):
            row.groups.setdefault(NO_LABEL, {})[0] = Fields()
        weeks = [key[0].week for key in row.groups if key[0].week is not None]
        first_week = min(weeks, default=None)
        for key, numbered in row.groups.items():
            from_before(key, numbered, base, state, self._columns)
            when, lift_above, lifter = key
            if lift_above and lift is not None and self.headers.is_sure_lift(lift):
                cells_of = [cell for fields in numbered.values() for cell in fields.cells()]
                self._skip(lift, f'"{lift_above}" stands over it', cells_of)
                continue
            own = state
            if when or lift_above or lifter:
                own = replace(state, when=week_column(when, state.when, first_week))
                own.lift, own.lifter = lift_above or state.lift, lifter or state.lifter
            done = [
                number
                for number, fields in numbered.items()
                if not all(map(tells_nothing, fields.cells()))
            ]
            plan = row.planned(key)
            of_all = base
            if max(done, default=0) > 0 and 0 in numbered and of_each_set(numbered[0]):
                of_all = numbered.pop(0).over(base, False)
            for number in sorted(numbered):
                above = of_all if number >= 0 else Fields(unit=base.unit)
                if number == SOME_SETS["back"] and len(numbered) > 1:
                    # The effort beside a top set is of the top set.
                    above = above.without_effort()
                fields = numbered[number].over(above, number != 0)
                fields.warmup = number < 0
                fields.effort_of_each = base.effort_of_each
                last = not number or number == max(done, default=0) or number in ALONE
                own_effort = numbered[number].by_role.keys() & {"rir", "rpe"}
                # The row's own effort belongs to its last set.
                fields.effort_of_row = not last and not own_effort and not base.effort_of_each
                its = plan_of_one(plan) if number > 0 else plan
                fields.planned = its.planned
                self._group(fields, own, row.shared, its)

    def _with_scheme(self, row: RowCells, state: State) -> None:
        """Takes the sets and repetitions out of a lift's own cell ("Squat 5x5"), for rows of loads
        without a column of repetitions."""
        if "lift" in row.shared:
            cell, both = row.shared["lift"], lift_and_scheme(state.lift)
            state.scheme = cell.saying(both[1]) if both else None
            state.lift = both[0] if both else state.lift
            self._leavings.take([cell] if both else ())
        if state.scheme is not None and not row.plans and "reps" not in self._certain.values():
            row.shared.setdefault("reps", state.scheme)

    def _is_undone(self, row: RowCells, state: State) -> bool:
        """Whether the row's note or mark says that it was not done; its cells are listed."""
        note, why = row.shared.get("note"), ""
        if "flag" in self._certain.values():
            why = undone_by_mark(row, self._grid)
        if not why and note is not None and says_not_done(note.text):
            why = "the note beside it says it was not done"
        if not why:
            return False
        told = [cell for part in row.groups.values() for f in part.values() for cell in f.cells()]
        told += [row.shared[role] for role in ("reps", "load") if role in row.shared]
        for cell in told[:1]:
            self._skip(cell, why)
        if (lift := row.shared.get("lift")) is not None:
            carry({}, state, {}, lift)
        return True

    def _is_plan(self, cells: Sequence[Cell], row: RowCells, state: State) -> bool:
        """Whether a cell left of its sets calls the row a plan, that the row below it fulfils."""
        lift = row.shared.get("lift")
        called = [cell for cell in cells if calls_a_plan(cell.text) and cell is not lift]
        if not called or any(map(self._tells, cells[: cells.index(called[0]) + 1])):
            return False
        carry({}, state, {}, lift)
        return True

    def _sets_of(self, fields: Fields) -> tuple[OneSet, ...] | Unread:
        """The sets of a row, which hang on what its cells say and not on where they stand: a long
        log says the same again and again."""
        said = fields.said()
        known = self._known.get(said)
        told = sets_of_fields(fields, self._load_first) if known is None else known
        if said is not None and not isinstance(told, Unread):
            self._known[said] = told
        return told

    def _group(
        self, fields: Fields, state: State, shared: Mapping[str, Cell], planned: Fields
    ) -> None:
        if fields.more and (left := [c for c in fields.of_cells() if not tells_nothing(c)]):
            # A dash for the top set, beside its back-off sets.
            fields = replace(fields, by_role={**fields.by_role, "cell": left[0]}, more=left[1:])
        telling = [cell for cell in fields.cells() if cell is not state.scheme]
        nothing = [cell for cell in telling if tells_nothing(cell)]
        self._leavings.take([*fields.more, *nothing])
        if len(nothing) == len(telling):
            return
        reps = fields.by_role.get("reps")
        if reps is not None and "cell" not in fields.by_role and NOTHING.match(reps.text):
            # A dash for repetitions beside a load that was planned: not done.
            if reps.text == "0":
                self._skip(reps, "no repetition was done: a missed set")
            self._leavings.take(telling)
            return
        if "cell" in fields.by_role and self._is_session(telling[0]):
            self._state, own = state, self._state
            self._line(telling[0], ())
            self._state = own
            return
        whole = "cell" in fields.by_role and not tells_sets(telling[0])
        if whole and (both := self._lift_and_sets(telling[0].text)):
            cell = telling[0].saying(both[1])
            warmup = state.warmup or is_warmup_word(state.lift)
            state = replace(state, lift=both[0], warmup=warmup)
            fields = Fields({"cell": cell}, fields.unit)
        if names_no_lift(state.lift):
            self._skip(telling[0], "no lift stands beside it", telling)
            return
        done = as_written(fields, planned)
        if done is fields:
            plan_for(fields, planned)
        as_planned = done is not fields
        note = fields.by_role.get("note") or shared.get("note")
        if comments := [cell.comment for cell in fields.by_role.values() if cell.comment]:
            note = telling[0].saying("; ".join([*comments, note.text if note else ""]).strip("; "))
            done = replace(done, by_role={**done.by_role, "note": note})
        told = self._sets_of(done)
        if isinstance(told, Unread):
            self._skip(told.cell, told.why, telling)
            return
        told = with_last_set(told, note.text if note is not None else "", as_planned)
        if note is not None and not self._leavings.has(note):
            told = (*all_warmups(note.text), *told)
            self._leavings.take([note])
        said = {role: shared[role].text for role in OF_THE_ROW & shared.keys()}
        said["note"] = note.text if note is not None else ""
        entry = self._entry(state.lift, state, told, telling, said | {"unit": fields.unit or ""})
        marks = [fields.by_role[role].text for role in ("set", "method") if role in fields.by_role]
        gone_on = with_drop(self.entries, entry) if any(map(is_drop, marks)) else None
        self.entries[-1 if gone_on else len(self.entries) :] = [gone_on or entry]
