"""Rows and lines outside any table: a lift with its sets in one text, sets below a lift's name."""

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace

from blockwright.files.importing.cells import read_cell, read_load
from blockwright.files.importing.column_content import LIFT_SCORE, SETS
from blockwright.files.importing.column_rules import is_value
from blockwright.files.importing.days import day_of_cell
from blockwright.files.importing.grids import Cell
from blockwright.files.importing.names import LiftMatcher
from blockwright.files.importing.told import OneSet

_NEXT_LIFT = re.compile(r"(?:\s*[,;\n+]\s*|\.\s+)(?=(?!bw\b|w/?u\b)[a-z]{2,}[^,;]*\d)", re.I)
_LONGEST_LINE = 160
_NUMBERED_SET = 3
_SET_LABEL = re.compile(r"^(?:set|satz|serie|s)\s*\d{1,2}\s*[:.)-]\s*", re.I)


def line_parts(cell: Cell, behind: Sequence[Cell]) -> list[list[str]]:
    """The ways to read a line: several lifts in it, one lift with the cells that a comma cut off
    (all of them, or those without words), or the cell alone."""
    if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_LINE:
        return []
    rest = itertools.takewhile(lambda other: not re.search("[a-z]{3}", other.text, re.I), behind)
    every = ", ".join([cell.text, *(other.text for other in behind)])
    few = ", ".join([cell.text, *(other.text for other in rest)])
    pieces = _NEXT_LIFT.split(cell.text)
    several = [pieces] if len(pieces) > 1 else []
    return [*several, [every], [few], [cell.text]]


def values_below(cells: Sequence[Cell]) -> tuple[list[Cell], list[Cell]]:
    """The cells that tell sets of the lift named above ("24/05 | 80 | 8 | 8", "Set 1: 100x5")
    and the notes behind them; no sets where the row holds something else before."""
    values = [cell for cell in cells if day_of_cell(cell) is None]
    values = [replace(cell, text=_SET_LABEL.sub("", cell.text)) for cell in values]
    sets = list(itertools.takewhile(is_value, values))
    notes = values[len(sets) :]
    words = all(isinstance(cell.value, str) and not is_value(cell) for cell in notes)
    return (sets, notes) if words else ([], [])


def numbered_set(cells: Sequence[Cell]) -> OneSet | None:
    """A row of a set's number, its load and its repetitions ("1 | 40 | 8")."""
    plain = all(re.fullmatch(r"\d+(?:[.,]\d+)?", cell.text) for cell in cells)
    if len(cells) != _NUMBERED_SET or not plain:
        return None
    load, reps = read_load(cells[1].text), cells[2].text
    return OneSet((int(reps),), (load,)) if load is not None and reps.isdigit() else None


def lift_and_sets(text: str, matcher: LiftMatcher, load_first: bool) -> tuple[str, str] | None:
    """The lift and the sets of a line, where it holds both and no more."""
    for match in re.finditer(r"[\s:,(-]+(?=[\d+@(-]|bw\b|bwx|bodyweight\b|w/?u\b|w\d)", text, re.I):
        lift, sets = text[: match.start()], text[match.end() :]
        told = read_cell(sets, load_first)
        if SETS.search(lift) or told is None or read_cell(lift) is not None:
            continue
        if re.match(r"\([^()\d]+\)", sets):
            # "(ez bar)" is of the lift.
            continue
        name = matcher.match(lift)
        known = matcher.catalogue.find(name.best or "") if name.is_sure else None
        of_body = known is not None and known.load_kind == "bodyweight_plus"
        if name.score >= LIFT_SCORE and told.kind == "sets":
            return lift, sets
        if of_body and (told.kind == "scheme" or len(told.sets) > 1):
            # "Chins 6, 5, 4": the body is the load.
            return lift, sets
    return None
