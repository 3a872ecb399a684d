"""What goes on to hold below and beside a cell: blanks, "same", a tick for what was planned."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from .cells import read_cell, read_load
from .column_content import sets_done
from .column_rules import Columns, is_value
from .days import NO_DAY, When
from .grids import Cell, Grid
from .names import is_no_lift
from .row_cells import NO_LABEL, RowCells
from .rows import Fields
from .words import is_ditto, one_of, says_not_done, without_warmup

NOTHING = re.compile(rf"^{one_of('nothing')}$", re.I)
AS_WRITTEN = re.compile(one_of("as_written"), re.I)
_BEGINS_WITH_SETS = re.compile(r"\s*(?:\d+(?:[.,]\d+)?|(?:empty )?bar|bw)\s*[x@]\s*\d", re.I)
_OF_A_GROUP = 5  # Parts of the key of a group's cell; the week before's has less


@dataclass(slots=True)
class State:
    """What is carried down a sheet, for one table or one of several side by side."""

    when: When = NO_DAY
    lift: str = ""
    lifter: str = ""
    scheme: Cell | None = None  # Sets and repetitions that the lift's own cell tells: "Squat 5x5"
    warmup: bool = False  # Whether the lift's line calls it and the rows below it a warm-up
    before: dict[object, Cell] = field(default_factory=dict)
    """The last cell of each role, of the row's own and of each group's."""

    def below(self) -> "State":
        """A table that opens below this."""
        return State(self.when, self.lift, self.lifter)


def tells_nothing(cell: Cell) -> bool:
    """Whether a cell of a set says that it was not done."""
    return NOTHING.match(cell.text) is not None or says_not_done(cell.text)


def from_before(
    key: tuple[When, str, str],
    numbered: dict[int, Fields],
    base: Fields,
    state: State,
    columns: Columns,
) -> None:
    """What blank and "same" cells of a group mean: the set to the left, else the row above of
    the same lift, else the week before."""
    left: dict[str, Cell] = {}
    for number in sorted(number for number, fields in numbered.items() if fields.by_role):
        fields = numbered[number]
        by_role = fields.by_role
        for role in ("load", "reps", "cell", "rir", "rpe"):
            cell, at = by_role.get(role), (*key, number, role)
            before = left.get(role) or state.before.get(at)
            if cell is not None and is_ditto(cell.text):
                before = before or state.before.get((*key[1:], number, role))
                if before is not None:
                    by_role[role] = before._replace(row=cell.row, column=cell.column)
            elif role == "load" and cell is None and before is not None:
                reps = by_role.get("reps")
                if reps is not None and is_value(reps) and "load" not in base.by_role:
                    text = without_warmup(before.text)[0]
                    by_role[role] = before.saying(text)
                    head = columns.get(before.column)
                    fields.unit = fields.unit or (head.unit if head is not None else None)
            if (now := by_role.get(role)) is not None and not NOTHING.match(now.text):
                state.before[at] = now
                if number >= 0:
                    left[role] = now
                state.before[(*key[1:], number, role)] = now


def carry(
    shared: dict[str, Cell], state: State, planned: Mapping[str, Cell], lift: Cell | None
) -> None:
    """Takes in the row's lift and person; "same" means the cell above."""
    who = shared.get("lifter")
    if who is not None and not is_ditto(who.text):
        state.lifter = who.text
    if lift is not None and not is_ditto(lift.text):
        # A new lift: only "the week before" still means something.
        state.lift = lift.text
        for key in list(state.before):
            if key == "load" or (isinstance(key, tuple) and len(key) == _OF_A_GROUP):
                del state.before[key]
    elif "load" not in shared and "reps" in shared and "load" in state.before:
        # A blank load under one of the same lift.
        shared["load"] = state.before["load"]
    for role in ("load", "reps", "rir", "rpe"):
        cell = shared.get(role)
        if cell is not None and is_ditto(cell.text):
            shared[role] = planned.get(role) or state.before.get(role, cell)
        elif cell is not None:
            state.before[role] = cell


def plan_for(fields: Fields, planned: Fields) -> None:
    """ "as planned" in the load done is the load planned."""
    if not planned.by_role:
        return
    own, load = fields.by_role.get("cell"), planned.by_role.get("load")
    told = read_cell(own.text if own else "")
    if load is None and (plan := planned.by_role.get("cell")) is not None:
        # Of "5x5 @ 60" the load.
        sets = read_cell(plan.text, False)
        weights = {w for one in sets.sets for w in one.weights}
        if sets.kind == "sets" and len(weights) == 1:
            weight = weights.pop()
            text = f"{weight.amount:g}{weight.unit or ''}"
            load = plan.saying(text)
    if load is not None and told.kind == "reps":
        # "8,8,7": at the load planned.
        fields.by_role.setdefault("load", load)
        fields.unit = fields.unit or planned.unit
    for role in ("load", "reps"):
        cell, plan = fields.by_role.get(role), planned.by_role.get(role)
        if cell is not None and plan is not None and AS_WRITTEN.fullmatch(cell.text.strip()):
            fields.by_role[role] = plan


def undone_by_mark(row: RowCells, grid: Grid) -> str:
    """Why a row beside a column of marks was not done; "3 of 4" counts its sets."""
    mark = row.shared.get("flag")
    if mark is None:
        told = row.shared.keys() & {"rpe", "rir"}
        return "" if told else "no mark beside it says that it was done"
    done = sets_done(mark.text)
    marks = (cell for cells in grid.rows for cell in cells if cell.column == mark.column)
    if mark.text.lower() == "x" and any(cell.text in "✓✔✅☑" for cell in marks):
        # Beside ticks an x is none.
        done = 0
    if done is not None and done > 0:
        count = mark.saying(str(done))
        for fields in (f for group in row.groups.values() for f in group.values()):
            fields.by_role["sets"] = count
        row.shared["sets"] = count
    if done and not row.groups:
        _blanks_as_planned(row)
    return "the mark beside it says it was not done" if done == 0 else ""


def _blanks_as_planned(row: RowCells) -> None:
    """Beside a tick the columns of what was done tell only what was not as planned."""
    plan = row.planned(NO_LABEL).by_role
    if (scheme := plan.get("cell")) is not None and "reps" not in row.shared:
        told = read_cell(scheme.text)
        if "load" not in row.shared:
            row.shared["cell"] = scheme
        elif told.kind == "sets":
            # "3x8 @ 70" of which another load was done.
            text = ",".join("+".join(map(str, one.reps)) for one in told.sets)
            row.shared["reps"] = scheme.saying(text)
        else:
            row.shared["reps"] = scheme
    for role in ("load", "reps", "sets"):
        if role in plan:
            row.shared.setdefault(role, plan[role])


def is_tick(fields: Fields) -> bool:
    """Whether all that is told is "done"."""
    cells = fields.cells()
    return bool(cells) and all(AS_WRITTEN.fullmatch(cell.text.strip()) for cell in cells)


def of_each_set(fields: Fields) -> bool:
    """Whether unnumbered cells under a label are of its numbered sets: an effort, a load that
    all share, a tick beside sets that were written out."""
    if is_tick(fields):
        fields.by_role.pop("cell", None)
    return "cell" not in fields.by_role and not {"load", "reps"} <= fields.by_role.keys()


def plan_of_one(plan: Fields) -> Fields:
    """The plan of a row as that of one of its sets: of "3x5" five repetitions; of sets that
    differ none."""
    cell = plan.by_role.get("cell")
    told = read_cell(cell.text if cell else "")
    if cell is None or not (told.numbers or told.sets):
        return plan
    if len({(one.reps, one.weights) for one in told.sets}) > 1:
        return Fields()
    text = str(told.numbers[1] if told.numbers else told.sets[0].reps[0])
    if told.kind == "sets" and (weights := told.sets[0].weights):
        text = f"{weights[0].amount:g}{weights[0].unit or ''} x {text}"
    one = cell.saying(text)
    rest = {role: cell for role, cell in plan.by_role.items() if role not in ("cell", "sets")}
    return replace(
        plan, by_role={"cell" if told.kind == "sets" else "reps": one, **rest}, planned=one
    )


def as_written(fields: Fields, plan: Fields) -> Fields:
    """A tick stands for what was planned; anything else for itself."""
    if not plan.cells() or not is_tick(fields):
        return fields
    own = {r: c for r, c in fields.by_role.items() if r not in ("cell", "reps", "load")}
    planned = {r: c for r, c in plan.by_role.items() if r not in ("rir", "rpe")}
    return replace(fields, by_role={**planned, **own}, unit=fields.unit or plan.unit)


@lru_cache(maxsize=32768)
def names_no_lift(text: str) -> bool:
    """Whether what stands where a lift should names none: a sum, a number, a set."""
    if not text or is_no_lift(text) or read_load(text) is not None:
        return True
    sets = read_cell(text).kind == "sets"
    return sets or _BEGINS_WITH_SETS.match(without_warmup(text)[0]) is not None
