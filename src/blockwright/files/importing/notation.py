"""How a file writes its sets, by the evidence of all its cells: what comes first in "5x100" and
"8x12", whether "@ 10" is a load, whether "8-9" is a list."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from blockwright.files.importing.grids import Cell, Grid

_REPS_FIRST = re.compile(
    r"(?<![\dxX.,])(?<![xX] )(?!2 ?[xX])(\d{1,2}) ?[xX] ?"
    r"((?:2[1-9]|[3-9]\d|[1-9]\d\d)(?:[.,]\d{1,2})?(?: ?(?:kg|lbs?))?)"
    r"(?![\d xX]*[xX]|\d)"
)
_ANY_PAIR = re.compile(r"\d ?[xX] ?\d")
_BARE_PAIR = re.compile(r"(\d{1,3})(?:[.,]\d)? ?x ?(\d{1,3})")
_AT = re.compile(
    r"((?<![\d.,])[1-9] ?[xX] ?\d{1,2}(?:[,/ ]+\d{1,2})* ?@ ?)(\d+(?:[.,]\d+)?)(?![\d.,x-])"
)
_MOST_EFFORT = 10
_DASHED = re.compile(r"\d{1,2}(?:-\d{1,2}){2,}")
_DASHED_PAIR = re.compile(r"(\d{1,2})-(\d{1,2})")


def in_one_notation(read: Iterable[Grid]) -> list[Grid]:
    """The grids in the notation that the grammar knows."""
    grids = list(read)
    texts = [c.text for grid in grids for row in grid.rows for c in row if isinstance(c.value, str)]
    pairs = sum(len(_REPS_FIRST.findall(text)) for text in texts if "x" in text.lower())
    every = sum(len(_ANY_PAIR.findall(text)) for text in texts if "x" in text.lower())
    at = [_number(match[2]) for text in texts if "@" in text for match in _AT.finditer(text)]
    loads = sum(not 5 <= number <= _MOST_EFFORT for number in at)
    if pairs * 2 > every:
        # "5x100": repetitions first.
        grids = [
            _rewritten(grid, lambda cell: _REPS_FIRST.sub(r"\2x\1", cell.text)) for grid in grids
        ]
    if len(at) > loads > len(at) / 2:
        # "3x10 @ 10" among "3x12 @ 30": no effort.
        grids = [_rewritten(grid, lambda cell: _AT.sub(_as_load, cell.text)) for grid in grids]
    return [_with_lists(grid) for grid in grids]


def load_first(grids: Sequence[Grid]) -> bool:
    """Whether bare pairs ("80x8") put the load first: some are no count of sets."""
    texts = [c.text for grid in grids for row in grid.rows for c in row if isinstance(c.value, str)]
    pairs = [(int(m[1]), int(m[2])) for text in texts if (m := _BARE_PAIR.fullmatch(text.lower()))]
    large = sum(first > 12 for first, _ in pairs)
    return (large * 5 >= len(pairs) and large > 0) or len({first for first, _ in pairs}) >= 5


def _with_lists(grid: Grid) -> Grid:
    """The sheet with "8-9" as "8,9" in the columns that hold "8-8-7" too."""
    lists = {cell.column for row in grid.rows for cell in row if _DASHED.fullmatch(cell.text)}
    if not lists:
        return grid
    return _rewritten(
        grid,
        lambda cell: (
            _DASHED_PAIR.sub(r"\1,\2", cell.text)
            if cell.column in lists and _DASHED_PAIR.fullmatch(cell.text)
            else cell.text
        ),
    )


def _rewritten(grid: Grid, text_of: Callable[[Cell], str]) -> Grid:
    return replace(
        grid, rows=tuple(tuple(_with(cell, text_of) for cell in row) for row in grid.rows)
    )


def _with(cell: Cell, text_of: Callable[[Cell], str]) -> Cell:
    text = text_of(cell) if isinstance(cell.value, str) else cell.text
    return cell if text == cell.text else replace(cell, value=text, text=text)


def _as_load(match: "re.Match[str]") -> str:
    mark = "" if "." in match[2] or "," in match[2] else ".0"
    return f"{match[1]}{match[2]}{mark}"


def _number(text: str) -> float:
    return float(text.replace(",", "."))
