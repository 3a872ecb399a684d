"""The cells of one row that belong together to sets: count, load, repetitions, effort."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from blockwright.engine.units import Unit
from .cells import read_cell, read_load
from .column_content import SETS
from .days import reps_of_a_date
from .grids import Cell
from .line import MOST_SETS_A_CELL
from .parts import Unread, loads_of, repetitions, sets_of, with_loads
from .sequence import WHICH_IS_LOAD, sets_of_sequence
from .told import OneSet, Told, all_so, last_so, read_effort
from .words import is_ticked, is_warmup_label, warmups_first, without_warmup

_NOTED_EFFORT = re.compile(
    r"(?:(?:to|about|last(?: set| one)?)\s+)?(?:(?:rir|rpe|@) ?\d|\d ?rir\b|(?:to )?failure\b|"
    r"\d (?:reps? )?(?:(?:left )?in (?:the )?(?:tank|reserve)\b|left$))"
    r"(?!.*(?:target|plan|next))",
    re.I,
)
_HALF = re.compile(r"\d,5")  # An effort with its decimal comma, not one of each of two sets
NO_REPS = "the repetitions are missing"


@dataclass(slots=True)
class Fields:
    """Cells by role: load, reps, sets, set, rir, rpe, cell; `unit` is the column's, if it says."""

    by_role: dict[str, Cell] = field(default_factory=dict)
    unit: Unit | None = None
    planned: Cell | None = None  # What says how many repetitions were planned
    more: list[Cell] = field(default_factory=list)
    """Further cells under one label: a load beside its "5x5"."""
    warmup: bool = False
    effort_of_row: bool = False  # Whether the effort is the row's, and this not its last set
    effort_of_each: bool = False  # Whether one effort is of each set of the row, not of its last

    def put(self, role: str, cell: Cell, unit: Unit | None) -> None:
        if role == "unit" and not cell.text.lower().startswith("st"):
            self.unit = "lb" if cell.text.lower().startswith(("lb", "p", "#")) else "kg"
            return
        if role == "sets" and read_cell(cell.text).kind == "sets":
            role = "cell"
        if role == "cell" and "cell" in self.by_role:
            self.more.append(cell)
        self.by_role.setdefault(role, cell)
        if role in ("load", "cell") and unit is not None and self.unit is None:
            self.unit = unit

    def cells(self) -> list[Cell]:
        """The cells that can tell a set."""
        return [self.by_role[role] for role in ("cell", "load", "reps") if role in self.by_role]

    def said(self) -> object:
        """All that its sets hang on; None where cells must be told apart by their place."""
        if self.more:
            return None
        told = [
            (role, *cell[2:4])
            for role, cell in self.by_role.items()
            if role != "lift" and not (role == "set" and cell.text.isdecimal())
        ]
        plan = self.planned and self.planned[2:4]
        return (*told, plan, self.warmup, self.effort_of_row, self.effort_of_each)

    def of_cells(self) -> list[Cell]:
        """All cells under one label."""
        return [self.by_role["cell"], *self.more] if "cell" in self.by_role else []

    def without_effort(self) -> "Fields":
        kept = {role: cell for role, cell in self.by_role.items() if role not in ("rpe", "rir")}
        return replace(self, by_role=kept)

    def over(self, base: "Fields", is_set: bool) -> "Fields":
        """These with what they lack from the row's own; a numbered set's bare cell tells what
        the row does not: repetitions beside a load, a load beside repetitions."""
        merged = Fields(
            {**base.by_role, **self.by_role}, self.unit or base.unit, self.planned or base.planned,
            self.more, self.warmup, self.effort_of_row, self.effort_of_each,
        )  # fmt: skip
        cell = self.by_role.get("cell")
        if not is_set:
            return merged
        if not self.by_role.keys() & {"cell", "load", "reps"}:
            # Only an effort of a set that was not done.
            return Fields()
        if "sets" not in self.by_role:
            merged.by_role.pop("sets", None)
        if cell is not None and "load" in base.by_role and "reps" not in base.by_role:
            merged.by_role["reps"] = merged.by_role.pop("cell")
        elif cell is not None and "reps" in base.by_role and "load" not in base.by_role:
            merged.by_role["load"] = merged.by_role.pop("cell")
        return merged


def sets_of_fields(fields: Fields, load_first: bool) -> tuple[OneSet, ...] | Unread:
    """The sets of one row or one numbered group of it."""
    if fields.more and "cell" not in fields.by_role:
        return Unread(fields.more[0], WHICH_IS_LOAD)
    if (unit := fields.by_role.get("unit")) is not None:
        return Unread(unit, "its unit is neither kg nor lb")
    if (parts := _each_with_its_effort(fields)) is not None:
        each = [sets_of_fields(part, load_first) for part in parts]
        bad = next((one for one in each if isinstance(one, Unread)), None)
        return bad or tuple(one for part in each if not isinstance(part, Unread) for one in part)
    if fields.more:
        cells = fields.of_cells()
        odd = [cell for cell in cells if SETS.search(cell.text) and not read_cell(cell.text)]
        if odd:
            return Unread(odd[0], "it is no set we know how to read")
        both = sets_of_sequence(cells, load_first)
        told = both if isinstance(both, Unread) else both[0]
    else:
        told = _told(fields, load_first)
    if isinstance(told, Unread):
        return told
    told = _with_efforts(_with_last(told, fields), fields)
    note = fields.by_role.get("note")
    if note is not None and len(told) > (first := warmups_first(note.text)) > 0:
        told = (*all_so(told[:first], warmup=True), *told[first:])
    elif fields.warmup or _is_warmup(fields):
        told = all_so(told, warmup=True)
    return told


def _with_last(told: tuple[OneSet, ...], fields: Fields) -> tuple[OneSet, ...]:
    """The sets with the repetitions that a column of its own tells of the last ("AMRAP")."""
    last = fields.by_role.get("last")
    reps = read_cell(last.text if last else "")
    if reps.kind != "reps" or len(reps.sets) != 1:
        return told
    return last_so(told, reps=reps.sets[0].reps)


def _each_with_its_effort(fields: Fields) -> list[Fields] | None:
    """The cells of "Top set | RPE | Back-offs" apart, where an effort stands between two."""
    if not fields.more:
        return None
    efforts = [(role, fields.by_role[role]) for role in ("rpe", "rir") if role in fields.by_role]
    cells = fields.of_cells()
    lighter = _falls(cells)
    if not lighter and not any(cell.column < cells[-1].column for _, cell in efforts):
        return None
    parts = [replace(fields, by_role={**fields.by_role, "cell": cell}, more=[]) for cell in cells]
    for role, effort in efforts:
        at = max((i for i, cell in enumerate(cells) if cell.column < effort.column), default=0)
        at = 0 if lighter and at == len(cells) - 1 else at
        for part in (*parts[:at], *parts[at + 1 :]):
            del part.by_role[role]
    return parts


def _falls(cells: Sequence[Cell]) -> bool:
    """Whether lighter sets follow a top set, in cells of their own: one effort is the top's."""
    told = [read_cell(cell.text) for cell in cells]
    loads = [[w.amount for one in t.sets for w in one.weights] for t in told if t]
    return len(loads) == len(cells) > 1 and all(loads) and min(loads[0]) > max(map(max, loads[1:]))


def _is_warmup(fields: Fields) -> bool:
    """Whether any cell of a set, or its plan's, marks it as a warm-up."""
    by_role: Mapping[str, Cell] = fields.by_role
    if fields.planned is not None and without_warmup(fields.planned.text)[1]:
        return True
    if (mark := by_role.get("warmup")) is not None and is_ticked(mark.text):
        return True
    labels = ("set", "sets", "method", "rpe", "rir", "note")
    if any(is_warmup_label(by_role[role].text) for role in labels if role in by_role):
        return True
    cell = by_role.get("cell")
    if cell is not None and (told := read_cell(cell.text)) and told.kind != "sets":
        # Of whole sets in a cell each bears its own mark.
        by_role = {**by_role, "reps": cell}
    marked = ("method", "load", "reps")
    return any(without_warmup(by_role[role].text)[1] for role in marked if role in by_role)


def _with_efforts(told: tuple[OneSet, ...], fields: Fields) -> tuple[OneSet, ...]:
    """The sets with what an effort column says: a list tells each, one effort the last."""
    efforts: dict[str, Cell] = {
        role: fields.by_role[role] for role in ("rir", "rpe") if role in fields.by_role
    }
    for role in ("note", "method"):
        note = fields.by_role.get(role)
        if note is not None and not efforts and _NOTED_EFFORT.match(note.text):
            efforts = {"rir": note}
    for role, cell in efforts.items():
        halved = _HALF.fullmatch(cell.text) is not None
        parts = re.split(r"[,/;] *| +", cell.text) if len(told) > 1 and not halved else []
        listed = [read_effort(part, role == "rpe") for part in parts]
        if len(listed) == len(told) > 1 and None not in listed:
            return tuple(
                one._replace(rir=one.rir or each) for one, each in zip(told, listed, strict=True)
            )
        found = read_effort(cell.text, role == "rpe")
        if found is None:
            continue
        if fields.effort_of_each or _set_range(fields):
            return tuple(one._replace(rir=one.rir or found) for one in told)
        if not told or told[-1].rir is not None:
            return told
        if len(told) == 1 and not fields.effort_of_row:
            return last_so(told, rir=found)
        rows = all_so(told, row_rir=found)
        return rows if fields.effort_of_row else last_so(rows, rir=found)
    return told


def _told(fields: Fields, load_first: bool) -> tuple[OneSet, ...] | Unread:
    cell, load, reps = (fields.by_role.get(role) for role in ("cell", "load", "reps"))
    count = _count(fields)
    if cell is not None:
        return _of_cell(cell, fields, load_first, count)
    if load is not None and (reps is None or read_load(load.text) is None):
        # Where the column's own reading holds, a load is not looked at as a set.
        whole = read_cell(load.text, load_first if reps is None else None)
        if whole.kind == "sets":
            return whole.sets
    if reps is None:
        return Unread(load or next(iter(fields.by_role.values())), NO_REPS)
    told = read_cell(reps.text, load_first if load is None else None)
    if told.kind == "sets" and (load is None or read_load(load.text) is None):
        return told.sets
    return sets_of(reps, told, count, load)


def _of_cell(
    cell: Cell, fields: Fields, load_first: bool, count: int | None
) -> tuple[OneSet, ...] | Unread:
    """A cell of a week, a day or a lift: whole sets, or a part of what the row's columns say."""
    load = fields.by_role.get("load")
    reps = fields.by_role.get("reps") or fields.planned
    told = read_cell(cell.text, None if load is not None else load_first)
    if told.kind == "sets":
        return told.sets
    if reps is not None and (listed := _loads_by_scheme(cell, reps, told)) is not None:
        return listed
    if told.kind == "load" and reps is not None:
        return sets_of(reps, read_cell(reps.text), count, cell)
    if told.kind in ("reps", "scheme", "pair") and load is not None:
        own = count if len(told.sets) < 2 else None
        return sets_of(cell, told, own, load)
    both = told.kind in ("pair", "scheme")
    if both and reps is not None and reps is fields.planned:
        # "2x4" beside the plan "2x5" is what was done, "2x20" beside "3x10" a pair of weights.
        plan = repetitions(reps, read_cell(reps.text), None)
        most = 0 if isinstance(plan, Unread) else max(map(max, plan))
        if told.numbers[1] <= most:
            return sets_of(cell, told, None, None)
        if told.numbers[1] < 1.5 * most:
            return Unread(cell, WHICH_IS_LOAD)
    if reps is not None and read_load(cell.text) is not None:
        return with_loads(repetitions(reps, read_cell(reps.text), count), cell)
    if not told:
        return Unread(cell, "it is no set we know how to read")
    if told.kind == "load":
        return Unread(cell, NO_REPS)
    # Whether a lift needs a load is the catalogue's to say.
    return sets_of(cell, told, count, None)


def _loads_by_scheme(cell: Cell, reps: Cell, told: Told) -> tuple[OneSet, ...] | None:
    """A list of as many loads as the scheme beside it has sets: "95-105-110" beside "5-5-5"."""
    loads = loads_of(cell.text)
    counts = repetitions(reps, read_cell(reps.text), None)
    if isinstance(counts, Unread) or len(loads) < 2 or len(loads) != len(counts):
        return None
    most = max(max(parts) for parts in counts)
    amounts = [load.amount for load in loads if load is not None and not load.bodyweight]
    if told.kind == "reps" and not any(a > 2 * most for a in amounts):
        # These may be the repetitions that were done.
        return None
    sets = with_loads(counts, cell)
    return None if isinstance(sets, Unread) else sets


def _count(fields: Fields) -> int | None:
    cell = fields.by_role.get("sets")
    if cell is None:
        return _set_range(fields)
    match = re.fullmatch(r"(\d{1,2})(?:\s*x)?", cell.text.strip().lower())
    return int(match[1]) if match and 1 <= int(match[1]) <= MOST_SETS_A_CELL else None


def _set_range(fields: Fields) -> int | None:
    """How many sets a row numbered "3-5" tells: so many equal ones."""
    cell = fields.by_role.get("set")
    if cell is None or cell.text.isdecimal():
        return None
    ends = [one[0] for one in reversed(reps_of_a_date(cell) or ())]
    if match := re.fullmatch(r"(\d{1,2})\s*(?:-|to|bis|à|a)\s*(\d{1,2})", cell.text):
        ends = [int(match[1]), int(match[2])]
    if len(ends) == 2 and 1 <= ends[0] < ends[1] <= MOST_SETS_A_CELL:
        return ends[1] - ends[0] + 1
    return None
