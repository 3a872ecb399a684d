"""Header rows: which column of a table holds what, under which labels.

A header has at most three levels: labels (a week, a day, a lift, "Set 1") above the columns' own
names. A label stands over its column and those right of it, up to the next label of its row."""

import datetime as dt
import itertools
import re
from collections.abc import Mapping, Sequence, Set
from dataclasses import replace
from types import MappingProxyType

from .column_content import SETS, with_flags, without_marks_of_all
from .column_rules import (
    DATA_OF_A_ROW,
    TELLING,
    Columns,
    has_lift,
    is_data,
    is_value,
    label_width,
    repeats,
    tells_sets,
    with_counters,
    with_dates,
    with_labels_of_pairs,
    with_lift_column,
    with_more_reps,
    with_plan_beside_done,
    with_plan_beside_labels,
    with_set_numbers,
    without_best_lifts,
    without_needless_schemes,
    without_side_table,
)
from .days import When, day_of_cell, is_year, read_day, read_when
from .entries import start_in
from .grids import Cell, Grid
from .headings import Column, is_label, role_of
from .months import next_day
from .named_columns import PERSON, NamedColumns
from .names import LiftMatcher

_DAY_NUMBER = re.compile(r"\d{1,2}")
_DAY_AND_PLAN = re.compile(r"(\d{1,2})\.?(?:\s*\(?(plan\w*|target|goal)\)?)?", re.I)


class Headers(NamedColumns):
    """Tells header rows of one grid from rows of data; remembers label rows until they serve."""

    def __init__(
        self,
        grid: Grid,
        matcher: LiftMatcher,
        people: Set[str] = frozenset(),
        answers: Mapping[str, str] = MappingProxyType({}),
    ) -> None:
        super().__init__(grid, matcher, answers)
        self._people = people
        self._labels: list[Sequence[Cell]] = []
        self._last_labels: list[Sequence[Cell]] = []
        self.guessed_people: set[str] = set()

    def read(self, cells: Sequence[Cell], open_columns: Columns) -> Columns | None:
        """The columns a row opens; {} when its labels wait for a row below; None for no header.

        Under the columns of an open table a number or a list of them is no heading."""
        data = (cell for cell in cells if is_data(cell, open_columns))
        in_table = len(tuple(itertools.islice(data, DATA_OF_A_ROW)))
        if in_table == DATA_OF_A_ROW or start_in(cells):
            return None
        cells = _with_day_numbers(cells)
        if self._month and not in_table and (days := _days_across(cells, self._grid.title)):
            self._labels = []
            return self._with_lifts(days, cells[0].row)
        found = {
            cell.column: None if is_data(cell, open_columns) else self.heading(cell)
            for cell in cells
        }
        found |= {} if in_table else self._parted(cells)
        named = {column: head for column, head in found.items() if head is not None}
        named |= {} if open_columns else self._lifts_beside(cells, named)
        leaves = [head for head in named.values() if not is_label(head)]
        labels = [head for head in named.values() if is_label(head)]
        if len(cells) == 2 == sum(bool(h.when) for h in labels):
            first, second = (head.when for head in labels)
            if first.week and second.week is None and (second.start or second.day):
                # "Week 1 | start 4 Jan" is one heading of what follows.
                return None
        values = [
            cell
            for cell in cells
            if found[cell.column] is None and is_value(cell) and not is_year(cell.text)
        ]
        if values and len(values) * (1 if len(values) < DATA_OF_A_ROW else 2) >= len(named):
            return None
        if len(leaves) >= 2 and any(head.role in TELLING for head in leaves):
            if self._is_upper_half(cells):
                self._labels = [*self._labels[-1:], tuple(cells)]
                return {}
            return self._opened(named, cells)
        people = self._people_over(cells)
        over_all = not values and max(len(named), len(people)) >= len(cells) - 1
        over_roster = not values and len(cells) > 1 and any(h.role == "lifter" for h in leaves)
        if (named or people) and (over_all or over_roster) and self.names_below(cells):
            self._labels = [*self._labels[-1:], tuple(cells)]
            return {}
        under_lifts = sum(bool(head.lift) for head in labels) >= 2 and bool(leaves)
        if self._are_of_one_kind(labels) and (over_all or (under_lifts and not values)):
            return self._opened(named, cells)
        return self._opened(people, cells) if self._over_sets(people, cells) else None

    def _is_upper_half(self, cells: Sequence[Cell]) -> bool:
        """Whether the next row names the columns under this row's wider headings."""
        if not self.names_below(cells):
            return False
        own = {cell.column for cell in cells}
        below = next(iter(self._rows_below(cells[0].row)), ())
        return any(cell.column not in own for cell in below)

    @staticmethod
    def _are_of_one_kind(labels: Sequence[Column]) -> bool:
        """Whether two labels or more name days, weeks, lifts, sets or people; a day beside a
        lift is a row of a diary."""
        kinds = []
        for head in labels:
            when, other = head.when, (head.lift, head.set_number, head.lifter)
            kinds.append(
                (when.day or when.start, when.week, when.session, when.weekday is not None, *other)
            )
        return any(sum(map(bool, kind)) >= 2 for kind in zip(*kinds, strict=True))

    def forget(self) -> None:
        """An empty row or a row of data ends what labels stand over."""
        self._labels = []

    def _opened(self, named: Columns, cells: Sequence[Cell]) -> Columns:
        below = self._columns_below(cells[0].row)
        named = self._without_lifts_over_parts(named, below)
        if not self._labels and repeats(named):
            self._labels = self._last_labels
        self._last_labels = self._labels or self._last_labels
        of_lifts = self._lacks_lifts(named)
        columns = {c: self._under_labels(c, head, of_lifts) for c, head in named.items()}
        columns |= self._named_above(columns, below)
        columns = self._with_gaps(columns, cells)
        columns = with_more_reps(columns, cells, below)
        columns = with_dates(with_plan_beside_done(columns, cells, below), below)
        columns = with_plan_beside_labels(columns, below)
        columns = without_marks_of_all(with_flags(columns, below), below)
        has_lifts = has_lift(columns)
        columns = {c: self._by_below(h, below.get(c, []), has_lifts) for c, h in columns.items()}
        columns = without_needless_schemes(with_labels_of_pairs(columns))
        if not any(h.role in ("reps", "cell", "sets") and not h.planned for h in columns.values()):
            for c, head in columns.items():
                if head.role == "skip" and not head.planned and self._are_schemes(below.get(c, [])):
                    # "Scheme" over "3x8", beside nothing else that tells the repetitions.
                    columns[c] = replace(head, role="reps")
        columns = with_set_numbers(with_counters(columns, below))
        columns = without_side_table(columns)
        columns = without_best_lifts(columns, below.keys() | {cell.column for cell in cells})
        unknown = {cell.column for cell in cells} - columns.keys()
        people = self._people_over(cells)
        people = people if self._over_sets(people, cells) else {}
        for column in self._schemes(cells) if people else ():
            if columns[column].role == "cell":
                columns[column] = replace(columns[column], role="reps")
        columns |= people
        self.guessed_people.update(head.lifter for head in people.values())
        first = min(columns)
        for column in sorted(below.keys() - columns.keys()):
            if column < first or column in unknown:
                head = self._by_content(below[column], None)
                who = [cell.text for cell in below[column] if cell.text in self._people]
                if head.role == "skip" and len(who) * 2 >= len(below[column]):
                    head = Column("lifter")
                    self.guessed_people.update(who)
                second = head.role == "lift" and has_lift(columns)
                if head.role != "skip" and not (second and not _begins_a_table(column, columns)):
                    columns[column] = head
        self._labels = []
        columns = self._with_blocks(self._with_lifts(columns, cells[0].row), below)
        for cell in cells:
            if cell.column not in columns and cell.column in below:
                unsaid = self._unsaid(cell, columns, below)
                columns |= {cell.column: unsaid} if unsaid else {}
        return columns

    def _without_lifts_over_parts(
        self, named: Columns, below: Mapping[int, Sequence[Cell]]
    ) -> Columns:
        """A heading is no lift's ("Presc" is like "press") right of a column that holds them."""
        like = [column for column, head in named.items() if head.lift]
        lifts = [
            column
            for column in below
            if like and column not in like and named.get(column, Column("lift")).role == "lift"
            if self._names_lifts(below[column])
        ]
        kept = {c: h for c, h in named.items() if c not in like or c < min(lifts, default=c + 1)}
        return kept or named

    def _by_below(self, head: Column, cells: Sequence[Cell], has_lifts: bool) -> Column:
        """A heading as what stands below it shows it to be meant."""
        if (head.role in ("date", "load") or head.lift) and self._holds_lifts(cells):
            # "Date" of the days across, "Spring (kg)" or "Glutes/hams", over lifts.
            return Column("lift")
        if not cells or head.role != "cell":
            return head
        if is_label(head):
            return head if head.lift else self._by_content(cells, head)
        if not has_lifts and self._names_lifts(cells):
            # "What" over lifts.
            return replace(head, role="lift")
        told = any(is_value(cell) or SETS.search(cell.text) for cell in cells)
        return head if told else replace(head, role="skip")

    def _with_lifts(self, columns: Columns, row: int) -> Columns:
        """The columns with the one that names the lifts, where no heading does."""
        columns = with_lift_column(columns)
        if not has_lift(columns):
            left = [c for c in range(min(columns)) if c not in columns]
            lift = self._fullest(row, left)
            if lift is not None:
                columns[lift] = Column("lift")
            elif (first := columns[min(columns)]).when and is_label(first):
                # "Monday" over names that are in no catalogue.
                below = self._columns_below(row).get(min(columns), [])
                names = [c for c in below if self.may_be_lift(c) and not re.search(r"\d", c.text)]
                if len(names) * 2 > len(below):
                    columns[min(columns)] = Column("lift", when=first.when)
        elif not any(head.role in ("lift", "lifter", "date") for head in columns.values()):
            self._add_people(columns, row)
        return columns

    def _with_blocks(self, columns: Columns, below: Mapping[int, Sequence[Cell]]) -> Columns:
        """The columns with the lifts of a second block beside the first, and the notes of each."""
        if not any(head.role == "lift" for head in columns.values()):
            return columns
        begun = {cell.column for row in self._last_labels for cell in row}
        texts = {
            column: [cell for cell in cells if self.may_be_lift(cell)]
            for column, cells in below.items()
            if column not in columns
        }
        lifts = {
            column: Column("lift")
            for column, names in texts.items()
            if names and _begins_a_table(column, columns)
            if column in begun or sum(map(self.is_lift, names)) * 2 > len(names)
        }
        notes = {column: Column("note") for column in texts.keys() - lifts.keys() if lifts}
        return {**columns, **lifts, **notes}

    def _add_people(self, columns: Columns, row: int) -> None:
        """People down the left side of lifts across."""
        for column, cells in self._columns_below(row).items():
            names = sum(
                bool(PERSON.fullmatch(cell.text)) and not (read_when(cell) or self.is_lift(cell))
                for cell in cells
            )
            if column < min(columns) and names * 2 > len(cells):
                columns[column] = Column("lifter")
                return

    def _named_above(self, columns: Columns, below: dict[int, list[Cell]]) -> Columns:
        """Columns whose only heading stands a row higher: "Name" beside lifts over kg and reps."""
        found: Columns = {}
        roles = {head.role for head in columns.values() if not is_label(head)}
        for row in self._labels:
            if len(row) < 2:
                continue
            for cell in row:
                head = self.heading(cell)
                if head is None or cell.column in columns or cell.column not in below:
                    continue
                # A lift over whole sets; a role named below, too, is of a table beside this one.
                whole = bool(head.lift) and self._holds_sets(below[cell.column], False)
                if whole if is_label(head) else head.role not in roles:
                    found[cell.column] = head
        return found

    def _lacks_lifts(self, named: Columns) -> bool:
        """Whether the labels over a table of people or days must name its lifts."""
        every = [cell for row in self._labels for cell in row]
        roles = {head.role for head in named.values()} | {role_of(cell.text) for cell in every}
        if "lift" in roles or any(head.lift for head in named.values()):
            return False
        return "lifter" in roles or any(map(self.is_lift, every))

    def _under_labels(self, column: int, head: Column, of_lifts: bool) -> Column:
        for row in reversed(self._labels):
            over = [cell for cell in row if cell.column <= column]
            # A title above all of a table holds for its rows, not for a column.
            if len(row) == 1 and over and over[0].column == 0:
                continue
            if not over or (label := self._label(over[-1], row, of_lifts)) is None:
                continue
            if is_label(label) or label.planned:
                head = head.under(label)
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

    def names_below(self, cells: Sequence[Cell]) -> bool:
        """Whether the next row that holds anything names columns."""
        below = next(iter(self._rows_below(cells[0].row)), ())
        plain = [cell for cell in below if role_of(cell.text) not in (None, "date", "day")]
        if len(plain) >= 2 and len(plain) * 2 > len(below):
            return True
        if len(below) <= len(cells) or not all(map(self.is_sure_lift, below)):
            return False
        # "Mon | Wed" over the lifts of each day, over their sets.
        sets = self._columns_below(below[0].row)
        return all(any(map(tells_sets, sets.get(cell.column, ()))) for cell in below)


def _begins_a_table(column: int, columns: Columns) -> bool:
    """Whether columns of sets stand left and right of a second column of lifts."""
    telling = [at for at, head in columns.items() if head.role in TELLING and head.role != "lift"]
    lifts = [at for at, head in columns.items() if head.role == "lift"]
    return any(max(lifts, default=-1) < at < column for at in telling) and max(telling) > column


def _with_day_numbers(cells: Sequence[Cell]) -> Sequence[Cell]:
    """Days of the month behind dates in one row ("28 Jan | 4 | 11"), as the dates they are."""
    days = [day_of_cell(cell) for cell in cells]
    if sum(day is not None for day in days) < 2 or None not in days:
        return cells
    found, last = [], None
    for cell, day in zip(cells, days, strict=True):
        match = _DAY_AND_PLAN.fullmatch(cell.text)
        if day is not None and day.readings[0][0]:
            last = dt.date(*(part or 1 for part in day.readings[0]))
        elif match and last and (later := next_day(last + dt.timedelta(1), int(match[1]))):
            last = later
            text = f"{'plan ' if match[2] else ''}{last.isoformat()}"
            cell = cell.saying(text)
        found.append(cell)
    return found


def _days_across(cells: Sequence[Cell], month: str) -> dict[int, Column]:
    """Columns headed by the days of the month that the tab names."""
    numbers = [int(cell.text) for cell in cells if _DAY_NUMBER.fullmatch(cell.text)]
    rising = all(0 < a < b <= 31 for a, b in itertools.pairwise(numbers))
    if len(numbers) < 2 or len(numbers) < len(cells) - 1 or not rising:
        return {}
    return {
        cell.column: Column("cell", when=When(read_day(f"{cell.text} {month}")))
        for cell in cells
        if _DAY_NUMBER.fullmatch(cell.text)
    }
