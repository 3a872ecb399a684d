"""Sets whose parts stand below each other: a row "kg" over a row "reps", the days across."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from blockwright.files.importing.cells import read_load
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.headings import Role, read_heading

_FEWEST = 2
"""Groups of such rows that show it to be the file's way (judgement)."""
_FIRST_COLUMNS = 3

Row = tuple[Cell, ...]
Group = dict[Role, tuple[Cell, Row]]


def with_whole_sets(grid: Grid) -> Grid:
    """The grid with each "kg" row and the "reps" row below it made one row of "80kg x 8"."""
    for column in range(_FIRST_COLUMNS):
        groups = list(_groups(grid.rows, column))
        if len(groups) >= _FEWEST:
            rows = list(grid.rows)
            for group in groups:
                first, *later = sorted({label.row for label, _ in group.values()})
                rows[first] = _merged(group, grid.rows[first], column)
                for row in later:
                    rows[row] = ()
            # Rows that are gone would end a table.
            return replace(grid, rows=tuple(row for row in rows if row))
    return grid


def _groups(rows: Sequence[Row], column: int) -> Iterator[Group]:
    """Neighbouring rows that the column calls load, repetitions and perhaps effort."""
    group: Group = {}
    for row in [*rows, ()]:
        label = next((cell for cell in row if cell.column == column), None)
        head = read_heading(label.text) if label and isinstance(label.value, str) else None
        role = head.role if head and head.role in ("load", "reps", "rpe", "rir") else None
        if role is None or role in group:
            if {"load", "reps"} <= group.keys():
                yield group
            group = {}
        if role is not None and label is not None:
            group[role] = (label, row)
    return


def _merged(group: Group, first: Row, column: int) -> Row:
    """One row: what stands left of the labels, then whole sets."""
    label, loads = group["load"]
    head = read_heading(label.text)
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
        said = unit if read_load(load.text) and load.text[-1].isdigit() else ""
        effort = [
            f" {role} {parts[role][load.column].text}"
            for role in ("rpe", "rir")
            if load.column in parts.get(role, {})
        ]
        text = f"{load.text}{said} x {reps.text}{''.join(effort)}"
        sets.append(replace(load, value=text, text=text))
    alone = parts["reps"].values()
    left = [cell for cell in first if cell.column < column]
    return tuple(sorted([*left, *sets, *alone], key=lambda cell: cell.column))
