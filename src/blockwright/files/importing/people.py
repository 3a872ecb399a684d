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


def person_tabs(grids: Sequence[Grid], matcher: LiftMatcher) -> set[tuple[str, str]]:
    """The tabs named after people: two or more of a workbook, and nothing else they could be."""
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
    return {(book, tab) for book, tabs in by_book.items() if len(tabs) >= 2 for tab in tabs}
