"""The notations of a file's sheets brought to the one that the grammar of `cells` knows."""

import itertools
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from .cells import read_load
from .grids import Cell, Grid
from .headings import read_heading, role_of

_REPS_FIRST = re.compile(
    r"(?<![\dxX.,])(?<![xX] )(?!2 ?[xX])(\d{1,2}) ?[xX] ?"
    r"((?:2[1-9]|[3-9]\d|[1-9]\d\d)(?:[.,]\d{1,2})?(?: ?(?:kg|lbs?))?)"
    r"(?![\d ]*[xX]|\d)"
)
_ANY_PAIR = re.compile(r"\d ?[xX] ?\d")
_BARE_PAIR = re.compile(r"(\d{1,3})(?:[.,]\d)? ?x ?(\d{1,3})")
_AT = re.compile(  # Behind a load ("100 3x5 @8") stands an effort: no group is told
    r"(?<![\dx.,@])(?<![@x] )\d(?:[\d.,]*\d)? ?(?:kgs?|lbs?)?:? [1-9] ?[xX] ?\d{1,2} ?@ ?"
    r"(?:10|[5-9](?:[.,]5)?)(?![\d.,])|"
    r"((?:(?<![\d.,])[1-9] ?[xX] ?\d{1,2}(?:[,/ ]+\d{1,2})*|^\d{1,2}(?:[,/] ?\d{1,2})+) ?@ ?)"
    r"(\d+(?:[.,]\d+)?)(?![\d.,x-])"
)
_REPS_X_SETS = re.compile(  # Of three parts the legend told the order
    r"(?<![x*/])(?<![x*/] )\b(?:wdh|r[eé]p\w*)\.? ?[x*/] ?s(?:ets?|[aä]tze|[eé]ries?)\b(?! ?[x*/])",
    re.I,
)
_BARE = re.compile(r"^(\d{1,2}) ?[xX] ?(\d{1,2})(?=$| ?@)")
_MOST_EFFORT = 10
_DASHED = re.compile(r"\d{1,2}(?:-\d{1,2}){2,}")
_DASHED_PAIR = re.compile(r"\d{1,2}-\d{1,2}")


def in_one_notation(read: Iterable[Grid]) -> list[Grid]:
    """The grids in the notation that the grammar knows."""
    grids = list(read)
    texts = _texts_of_sets(grids)
    pairs = sum(len(_REPS_FIRST.findall(text)) for text in texts)
    every = sum(len(_ANY_PAIR.findall(text)) for text in texts)
    told = (m[2] for text in texts if "@" in text for m in _AT.finditer(text))
    at = [float(number.replace(",", ".")) for number in told if number]
    loads = sum(not 5 <= number <= _MOST_EFFORT for number in at)
    if pairs * 2 > every:
        # "5x100": repetitions first.
        grids = [_by_form(grid, _REPS_FIRST, r"\2x\1") for grid in grids]
    if len(at) > loads > len(at) / 2:
        # "3x10 @ 10" among "3x12 @ 30": no effort.
        grids = [_by_form(grid, _AT, _as_load) for grid in grids]
    return [_with_warmups(_with_lists(_with_sets_first(grid))) for grid in grids]


def load_first(grids: Sequence[Grid]) -> bool:
    """Whether bare pairs ("80x8") put the load first: some are no count of sets."""
    texts = [text.lower() for text in _texts_of_sets(grids)]
    pairs = [(int(m[1]), int(m[2])) for text in texts if (m := _BARE_PAIR.fullmatch(text))]
    large = sum(first > 12 for first, _ in pairs)
    return (large * 5 >= len(pairs) and large > 0) or len({first for first, _ in pairs}) >= 5


def _texts_of_sets(grids: Iterable[Grid]) -> list[str]:
    counts = (told for grid in grids for told in grid.texts.items())
    each = ([text] * count for text, count in counts if "x" in text or "X" in text)
    return list(itertools.chain.from_iterable(each))


def _with_sets_first(grid: Grid) -> Grid:
    """The sheet with "5x3" as "3x5" below "Reps x sets"."""
    if not any(map(_REPS_X_SETS.search, grid.texts)):
        return grid
    columns: set[int] = set()
    rows = []
    for row in grid.rows:
        heads = {c.column for c in row if isinstance(c.value, str) and read_heading(c.text)}
        columns = columns - heads | {c.column for c in row if _REPS_X_SETS.search(c.text)}
        rows.append(
            tuple(c.saying(_BARE.sub(r"\2x\1", c.text)) if c.column in columns else c for c in row)
        )
    return replace(grid, rows=tuple(rows))


def _with_lists(grid: Grid) -> Grid:
    """The sheet with "8-9" as "8,9" in the columns that hold "8-8-7" too."""
    if not any(map(_DASHED.fullmatch, grid.texts)):
        return grid
    lists = {c.column for row in grid.rows for c in row if _DASHED.fullmatch(c.text)}
    pairs = filter(_DASHED_PAIR.fullmatch, grid.texts)
    return grid.rewritten({text: text.replace("-", ",") for text in pairs}, lists)


def _with_warmups(grid: Grid) -> Grid:
    """The sheet with a letter in the column of set numbers as a warm-up where it always stands
    before the first of its lift, with less load: C, W or A, by the language."""
    if not any(len(text) == 1 and text.isalpha() for text in grid.texts):
        return grid
    columns: dict[str, int] = {}
    lift, letters = "", list[tuple[str, Cell, float]]()
    seen: set[tuple[str, bool]] = set()
    marked: set[Cell] = set()
    for row in grid.rows:
        heads = {role: c.column for c in row if (role := role_of(c.text))}
        number = heads.get("set", heads.get("sets"))
        if number is not None and {"lift", "load"} <= heads.keys():
            columns, letters = {"set": number, "lift": heads["lift"], "load": heads["load"]}, []
            continue
        told = {role: c for role, at in columns.items() for c in row if c.column == at}
        lift = told["lift"].text if "lift" in told else lift
        weight = read_load(told["load"].text) if "load" in told else None
        if "set" not in told or weight is None:
            continue
        mark = told["set"]
        if len(mark.text) == 1 and mark.text.isalpha():
            letters.append((lift, mark, weight.amount))
            continue
        for other, letter, amount in letters:
            fits = mark.text == "1" and other == lift and amount < weight.amount
            seen.add((letter.text, fits))
            marked |= {letter} if fits else set()
        letters = []
    marked -= {c for c in marked if (c.text, False) in seen}
    rows = (tuple(c.saying("wu") if c in marked else c for c in row) for row in grid.rows)
    return replace(grid, rows=tuple(rows)) if marked else grid


def _by_form(grid: Grid, form: re.Pattern[str], instead: str | Callable[..., str]) -> Grid:
    """The sheet with what fits the form written otherwise, wherever it stands."""
    texts = (text for text in grid.texts if form.search(text))
    return grid.rewritten({text: form.sub(instead, text) for text in texts})


def _as_load(match: "re.Match[str]") -> str:
    if match[2] is None:
        return match[0]
    mark = "" if "." in match[2] or "," in match[2] else ".0"
    return f"{match[1]}{match[2]}{mark}"
