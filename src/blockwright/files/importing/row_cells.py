"""The cells of one row of a table, sorted by what their columns are."""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from .cells import read_cell
from .column_rules import WHEN_ROLES, Columns, is_value, tells_sets
from .days import NO_DAY, When
from .entries import dated
from .grids import Cell
from .headings import WARMUP, numbers_a_set
from .rows import Fields
from .words import is_drop

_NO_HELP = re.compile(r"^(?:none|no|-|nothing|bw|without)\b.*", re.I)
OF_THE_ROW = frozenset(
    {"lift", "lifter", "note", "unit", "rest", "method", "warmup", "pain", "flag"}
)
_LIFT_AT_LOAD = re.compile(
    r"(?P<lift>.*[^\W\d].*?) ?(?:(?<= )|@ ?)(?P<load>\d[\d.,]* ?(?:kgs?|lbs?))", re.I
)
"""A lift with the load of its row: "Leg press 100kg"."""
_MOST_PLANNED = 30  # Repetitions of one set (judgement)
NO_LABEL = (NO_DAY, "", "")
_NO_PLAN = Fields()


@lru_cache(maxsize=32768)
def _goes_on(text: str) -> bool:
    """Whether what stands for a lift's name is of the lift above: "Set 2", "DS"."""
    return text.isdecimal() or numbers_a_set(text) or is_drop(text)


@lru_cache(maxsize=32768)
def _lift_at_load(text: str) -> tuple[str, str] | None:
    match = _LIFT_AT_LOAD.fullmatch(text)
    return (match["lift"], match["load"]) if match else None


def plans_reps(cell: Cell) -> bool:
    """Whether a planned cell may say repetitions: a bare number so high is a load."""
    bare = cell.text.isdecimal() and int(cell.text) > _MOST_PLANNED
    return not bare and bool(read_cell(cell.text))


@dataclass(slots=True)
class RowCells:
    """The cells of one row by what they are: the row's own, and groups under their labels."""

    shared: dict[str, Cell] = field(default_factory=dict)
    groups: dict[tuple[When, str, str], dict[int, Fields]] = field(default_factory=dict)
    when: When = NO_DAY
    undated: bool = False  # Whether a day stands here that we cannot read
    plans: dict[tuple[When, str, str], Fields] = field(default_factory=dict)
    """What was planned, under the label of its columns."""

    def planned(self, key: tuple[When, str, str]) -> Fields:
        """What was planned for a group: under its own label and under none."""
        if len(self.plans) < 2:
            return next(iter(self.plans.values()), _NO_PLAN)
        of_all = self.plans.get(NO_LABEL, Fields())
        return self.plans.get(key, Fields()).over(of_all, False)


def sorted_row(cells: Sequence[Cell], columns: Columns) -> RowCells:
    """The cells of a table's row by the roles of their columns."""
    row = RowCells()
    for cell in cells:
        head = columns.get(cell.column)
        if head is None:
            continue
        if head.planned or head.role == "skip":
            role = "cell" if head.role == "skip" else head.role
            plan = row.plans.setdefault((head.when, head.lift, head.lifter), Fields())
            if role in ("reps", "cell") and plan.planned is None and plans_reps(cell):
                plan.planned = cell
            if head.role != "skip" or head.planned or tells_sets(cell):
                plan.put(role, cell, head.unit)
            continue
        if head.role == "warmup" and is_value(cell) and len(cell.text) > 2:
            # A column of warm-up sets, not of marks.
            own = row.groups.setdefault((head.when, head.lift, head.lifter), {})
            own.setdefault(WARMUP, Fields()).put("cell", cell, head.unit)
        elif head.role == "help":
            helped = re.fullmatch(r"-?\s*(\d+(?:[.,]\d+)?.*)", cell.text)
            text = f"-{helped[1]}" if helped else _NO_HELP.sub("BW", cell.text)
            row.shared["load"] = cell.saying(text)
        elif head.role in WHEN_ROLES:
            when = dated(cell, head)
            row.undated |= head.role == "date" and not when and bool(re.search(r"\d", cell.text))
            row.when = when.over(row.when)
        elif head.role == "lift" and _goes_on(cell.text):
            row.shared["set"] = cell
        elif head.role in OF_THE_ROW:
            if head.role == "lift" and (both := _lift_at_load(cell.text)):
                cell, row.shared["load"] = map(cell.saying, both)
            row.shared[head.role] = cell
            if head.role == "lift" and head.when:
                row.when = row.when.over(head.when)
        elif not head.is_labelled and head.role != "cell":
            # Of loads in kilograms and in pounds the first is what was typed.
            row.shared.setdefault(head.role, cell)
        else:
            numbered = row.groups.setdefault((head.when, head.lift, head.lifter), {})
            fields = numbered.setdefault(head.set_number or 0, Fields())
            fields.put(head.role, cell, head.unit)
            if head.scheme:
                fields.put("reps", cell.saying(head.scheme), None)
    return row
