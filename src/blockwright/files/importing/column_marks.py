"""Columns of ticks and marks: what was done, what was not, which rows are warm-ups."""

import re
from dataclasses import replace

from blockwright.files.importing.column_rules import MANY, TICK, Columns
from blockwright.files.importing.grids import Cell
from blockwright.files.importing.headings import Column
from blockwright.files.importing.words import is_ticked

_UNDONE = re.compile(
    r"[-n0✗✘]|(?:no\w*|nein)(?:\W.*)?|false|skip\w*|missed|(?P<did>\d)\s*(?:of|/)\s*\d", re.I
)


def without_marks_of_all(columns: Columns, below: dict[int, list[Cell]]) -> Columns:
    """A warm-up ticked beside most rows ("Warm-up done") marks none of them as one."""
    told = dict(columns)
    for column, head in columns.items():
        ticks = [cell.text for cell in below.get(column, ()) if is_ticked(cell.text)]
        rows = max((len(below.get(at, ())) for at in columns), default=0)
        if head.role == "warmup" and len(ticks) >= MANY and len(ticks) * 3 >= rows * 2:
            told[column] = head if len(set(ticks)) > 1 else Column("skip")
    return told


def with_flags(columns: Columns, below: dict[int, list[Cell]]) -> Columns:
    """ "Done" over ticks and "3 of 4", beside columns that tell what was done, marks its rows."""
    told = dict(columns)
    tells = any(h.role in ("reps", "load") and not h.planned for h in columns.values())
    for column, head in columns.items() if tells else ():
        marks = [cell for cell in below.get(column, []) if sets_done(cell.text) is not None]
        bare = head.role == "cell" and not (head.lift or head.set_number or head.planned)
        if bare and marks and len(marks) * 4 >= len(below[column]) * 3:
            told[column] = replace(head, role="flag")
    # Several are of a week or a person each.
    return told if [head.role for head in told.values()].count("flag") == 1 else columns


def sets_done(mark: str) -> int | None:
    """What a mark says of its row: 0 not done, 3 of "3 of 4", -1 all of it; None no mark."""
    said = mark.strip()
    if (match := _UNDONE.fullmatch(said)) is not None:
        return int(match["did"] or 0)
    return -1 if TICK.fullmatch(said) else None
