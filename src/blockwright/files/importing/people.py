"""Names of people as a log spells them: "petra k" and "PK" are Petra K."""

import re
from collections import Counter, defaultdict
from collections.abc import Sequence

from rapidfuzz.distance import OSA

from blockwright.files.importing.days import is_month, read_when
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.names import LiftMatcher, is_no_lift
from blockwright.files.importing.words import words

_SHORTEST_SLIP = 4
_TOP_ROWS = 3
_GENERIC_TAB = re.compile(rf"(?:{'|'.join(words()['headings']['tabs'])})\\b.*", re.I)


def same_people(counts: "Counter[str]") -> dict[str, str]:
    """Each name to the spelling that is taken for the person: the fuller, more frequent one."""
    taken: dict[str, str] = {}
    ranked = sorted(counts, key=lambda name: (-len(name.split()), -counts[name], name))
    for name in ranked:
        plain = " ".join(name.split())
        same = [other for other in taken.values() if plain and _is_same(plain, other)]
        taken[name] = same[0] if len(set(same)) == 1 else plain
    return taken


def _is_same(name: str, other: str) -> bool:
    short, full = name.lower(), other.lower()
    if short == full:
        return True
    if len(name) > 1 and name.isupper():
        return short == "".join(part[0] for part in full.split())
    return min(len(short), len(full)) >= _SHORTEST_SLIP and OSA.distance(short, full) == 1


def person_tabs(grids: Sequence[Grid], matcher: LiftMatcher) -> dict[tuple[str, str], str]:
    """The tabs named after people, two or more of a workbook and nothing else they could be,
    and their names, in full where a title tells more: "Tom Birch" in the tab "Tom B"."""
    by_book: dict[str, list[str]] = defaultdict(list)
    for grid in grids:
        tab = grid.title.strip()
        plain = re.fullmatch(r"[^\W\d_]+(?:[ .'-]+[^\W\d_]+){0,2}\.?", tab) is not None
        if plain and not (
            _GENERIC_TAB.fullmatch(tab)
            or is_month(tab)
            or is_no_lift(tab)
            or read_when(Cell(0, 0, tab, tab))
            or (len(tab) > 4 and matcher.match(tab).is_sure)
        ):
            by_book[grid.book].append(grid.title)
    persons = {(book, tab): tab for book, tabs in by_book.items() if len(tabs) >= 2 for tab in tabs}
    full = {(g.book, g.title): _full_name(g) for g in grids if (g.book, g.title) in persons}
    behind = Counter(name.split()[-1] for name in full.values() if name)
    # What stands behind each name is a title: "Ana Log", "Ben Log".
    return persons | {
        at: name for at, name in full.items() if name and behind[name.split()[-1]] < 2
    }


def _full_name(grid: Grid) -> str:
    """The name on top of a sheet of which the tab's is short."""
    begun = r"\w*\s+".join(map(re.escape, re.findall(r"[^\W\d_]+", grid.title)))
    behind = "" if " " in grid.title.strip() else r"\s+[^\W\d_][\w'-]+"
    for cell in (cell for row in grid.rows[:_TOP_ROWS] for cell in row[:2]):
        for part in re.split(r"\s+-\s+|[:,;(]\s*", cell.text):
            if re.fullmatch(rf"{begun}\w*{behind}", part.strip()) and part.istitle():
                return part.strip()
    return ""
