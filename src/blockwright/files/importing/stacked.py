"""Sets whose parts stand below each other: a row "kg" over a row "reps", the days across."""

import operator
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from .cells import read_load
from .column_content import LIFT_AND_ROLE
from .days import NO_DAY, read_when
from .grids import Cell, Grid
from .headings import Column, Role, read_heading, role_of

_FEWEST = 2  # Groups of such rows that show it to be the file's way (judgement)
_FIRST_COLUMNS = 3

_SCHEME = re.compile(r"\d{1,2} ?x ?\d{1,2}", re.I)
_OPEN = re.compile(r"\d{1,2} ?x ?(?:max|amrap|f|failure|\?)", re.I)
_OF_REPS = re.compile(r"x ?\d{1,2}(?: ?reps?)?|\d{1,2} ?reps?", re.I)
_COUNT = re.compile(r"[1-9]|[12]\d")
_MOST_REPS = 30
_OF_A_SET = re.compile(r"([1-9])[.:]? ?-? ?([^\W\d][^\d]*)")
_EACH_SET = 4
_SECOND = frozenset({"2", "2 ", "2.", "2:", "2-"})
_STACKED = frozenset({"load", "reps", "rpe", "rir"})
_ABSENT = 4  # Rows below a roster's schemes in which each lift has a load (judgement)

Row = tuple[Cell, ...]
Group = dict[Role, tuple[Cell, Row]]  # Of one lift: by what a row tells, its label and the row


def as_whole_sets(grid: Grid) -> Grid:
    """The grid with each "kg" row and the "reps" row below it made one row of "80kg x 8"."""
    told = _with_schemes_above(grid).rows
    of_reps = frozenset(filter(_OF_REPS.fullmatch, grid.texts))
    numbered = [_with_numbered_sets(row, above, of_reps) for above, row in pairwise(((), *told))]
    if any(map(operator.is_not, numbered, grid.rows)):
        grid = replace(grid, rows=tuple(numbered))
    for column in range(_FIRST_COLUMNS):
        groups = list(_groups(grid.rows, column))
        if len(groups) >= _FEWEST:
            rows = list(grid.rows)
            for group in groups:
                first, *later = sorted({label.row for label, _ in group.values()})
                rows[first] = _merged(group, grid.rows[first], column)
                for row in later:
                    rows[row] = ()
            # An empty row stays, as a row is found by its number.
            return replace(grid, rows=tuple(rows))
    return grid


def _with_schemes_above(grid: Grid) -> Grid:
    """The grid with lifts over schemes over bare numbers as "Squat 3x5" over its loads, and a row
    of set numbers or of repetitions between them as "Set 1", "Set 1 x5"."""
    rows = list(grid.rows)
    for at, lifts in enumerate(rows[:-2]):
        signs = rows[at + 1]
        if not any(_COUNT.fullmatch(c.text) for c in signs[:1]) and not any(
            _SCHEME.fullmatch(c.text) for c in signs if "x" in c.text or "X" in c.text
        ):
            continue
        below = rows[at + 1 : at + 3 + _ABSENT]
        asides = [c for c in below[0] if _OPEN.fullmatch(c.text) or role_of(c.text) == "note"]
        schemes = tuple(cell for cell in below[0] if cell not in asides)
        schemes = schemes if _all(_SCHEME, schemes) else ()
        if schemes:
            below.pop(0)
        counts = below.pop(0) if _all(_COUNT, below[0]) else ()
        if not (schemes or counts):
            continue
        names = {
            c.column: c for c in lifts if isinstance(c.value, str) and not read_heading(c.text)
        }
        loads = {
            c.column: weight.amount
            for row in (below[:_ABSENT] if schemes and not counts else below[:1])
            for c in row
            if (weight := read_load(c.text))
        }
        told = {cell.column for cell in counts or schemes}
        first = {cell.column for cell in schemes or counts[:1]}
        if not told <= loads.keys() or not first <= names.keys():
            continue
        marks = _marks(counts, sorted(names))
        if counts and (
            "Set 2" not in " ".join(marks.values()) or max(loads.values()) <= _MOST_REPS
        ):
            # A row of repetitions, one a lift, over its loads; or of loads.
            continue
        joined = {c.column: f"{names[c.column].text} {c.text}" for c in schemes}
        own = {cell.column for cell in lifts}
        rows[at] = (
            *(_said(cell, joined.get(cell.column, cell.text)) for cell in lifts),
            *(_said(c, c.text, at) for c in asides if schemes and c.column not in own),
        )
        rows[at + 1] = tuple(_said(cell, marks[cell.column], at + 1) for cell in counts)
        if counts and schemes:
            rows[at + 2] = ()
    return grid if rows == list(grid.rows) else replace(grid, rows=tuple(rows))


def _with_numbered_sets(row: Row, above: Row, of_reps: frozenset[str]) -> Row:
    """A row with the numbers behind a load or plan as sets ("kg | 1 | 2 | 3 | RIR"), those below
    a day, and those before what is told of each ("1 kg | 1 reps | 2 kg | 2 reps")."""
    counts = [cell for cell in row if cell.text in of_reps] if of_reps else []
    if len(counts) >= _FEWEST and len(counts) * 2 >= len(row) and read_heading(row[0].text):
        # Loads below the repetitions of each: "x5 | x5 | x3".
        number = {cell: at for at, cell in enumerate(counts, 1)}
        return tuple(
            _said(c, f"Set {number[c]} x{re.sub(r'[^0-9]', '', c.text)}") if c in number else c
            for c in row
        )
    if _SECOND.isdisjoint([cell.text[:2] for cell in row]):
        return row
    when = read_when(above[0]) if len(above) == 1 else NO_DAY
    plain = [cell for cell in row if cell.text.isdecimal()]
    runs = [int(cell.text) for cell in plain] == list(range(1, len(plain) + 1))
    if (when.day or when.weekday is not None) and runs and len(plain) >= max(3, len(row) - 1):
        return tuple(_said(c, f"Set {c.text}") if c in plain else c for c in row)
    each = [_OF_A_SET.fullmatch(cell.text) for cell in row]
    if len(each) - each.count(None) >= _EACH_SET:
        numbers = {m[2].lower(): [n[1] for n in each if n and n[2] == m[2]] for m in each if m}
        if all(told == [*"123456789"[: len(told)]] and told[1:] for told in numbers.values()):
            return tuple(
                _said(cell, f"Set {cell.text}") if m else cell
                for cell, m in zip(row, each, strict=True)
            )
    if not any(cell.text == "2" for cell in row):
        return row
    found, last = [], -1
    for cell in row:
        if last >= 0 and cell.text == str(last + 1):
            last += 1
            cell = _said(cell, f"Set {last}")
        else:
            head = read_heading(cell.text) if isinstance(cell.value, str) else None
            last = 0 if head is not None and (head.role == "load" or head.planned) else -1
        found.append(cell)
    return tuple(found)


def _marks(counts: Row, names: Sequence[int]) -> dict[int, str]:
    """What heads each set's column: its number, and its repetitions where they do not number it."""
    spans: dict[int, list[Cell]] = {}
    for cell in counts:
        spans.setdefault(
            max((name for name in names if name <= cell.column), default=-1), []
        ).append(cell)
    numbered = all(
        [int(c.text) for c in span] == list(range(1, len(span) + 1)) for span in spans.values()
    )
    return {
        cell.column: f"Set {at}" if numbered else f"Set {at} x{cell.text}"
        for span in spans.values()
        for at, cell in enumerate(span, 1)
    }


def _all(form: re.Pattern[str], row: Row) -> bool:
    return len(row) >= _FEWEST and all(form.fullmatch(cell.text) for cell in row)


def _said(cell: Cell, text: str, row: int | None = None) -> Cell:
    return cell.saying(text)._replace(row=cell.row if row is None else row)


def _groups(rows: Sequence[Row], column: int) -> Iterator[Group]:
    """Neighbouring rows that the column calls load, repetitions and perhaps effort."""
    group: Group = {}
    cells = (cell for row in rows for cell in row[: column + 1] if cell.column == column)
    heads = {text: head for text in {c.text for c in cells} if (head := _told_by(text))}
    for row in [*rows, ()] if heads else ():
        label = next((cell for cell in row[: column + 1] if cell.column == column), None)
        head = heads.get(label.text) if label else None
        of_other = head and any(head.lift != heads[one.text].lift for one, _ in group.values())
        if head is None or head.role in group or of_other:
            if {"load", "reps"} <= group.keys():
                yield group
            group = {}
        if head is not None and label is not None:
            group[head.role] = (label, row)


def _told_by(label: str) -> Column | None:
    """What a row labelled so tells of each day: "reps", "Squat kg"."""
    match = LIFT_AND_ROLE.fullmatch(label)
    role = read_heading(match["role"].strip("()[]")) if match else None
    head = read_heading(label)
    if match and role and read_heading(match["lift"]) is None:
        head = replace(role, lift=match["lift"])
    return head if head and head.role in _STACKED else None


def _merged(group: Group, first: Row, column: int) -> Row:
    """One row: what stands left of the labels, then whole sets."""
    label, loads = group["load"]
    head = _told_by(label.text)
    unit = head.unit or "" if head else ""
    parts = {
        role: {cell.column: cell for cell in row if cell.column > column}
        for role, (_, row) in group.items()
    }
    sets = []
    for load in loads:
        reps = parts["reps"].pop(load.column, None)
        if load.column <= column or reps is None:
            sets += [load] if load.column > column else []
            continue
        said = unit if read_load(load.text) and load.text[-1].isdecimal() else ""
        effort = [
            f" {role} {parts[role][load.column].text}"
            for role in ("rpe", "rir")
            if load.column in parts.get(role, {})
        ]
        text = f"{load.text}{said} x {reps.text}{''.join(effort)}"
        sets.append(load.saying(text))
    alone = parts["reps"].values()
    left = [cell for cell in first if cell.column < column]
    left += [label.saying(head.lift)] if head and head.lift else []
    return tuple(sorted([*left, *sets, *alone], key=lambda cell: cell.column))
