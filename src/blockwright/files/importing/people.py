"""Names of people as a log spells them: "petra k" and "PK" are Petra K."""

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from functools import lru_cache

from rapidfuzz.distance import OSA

from blockwright.files.importing.column_content import ColumnContent
from blockwright.files.importing.column_rules import is_plain
from blockwright.files.importing.days import is_month, read_when
from blockwright.files.importing.grids import Cell, Grid
from blockwright.files.importing.names import NO_LIFT, LiftMatcher, is_no_lift
from blockwright.files.importing.words import is_ditto, says_not_done, words

_SHORTEST_SLIP = 4
_SHORTEST_SHOUT = 3
"""Fewer capitals are initials: "TJ"."""
_TOP_ROWS = 3
_IN_BRACKETS = re.compile(r"\s*\(.*\)$|\s+-\s.*$")
_A_LIFT = 0.95
_BEHIND = re.compile(r"(?:\s*[(:,;\d]|\s+-|'s\b).*$", re.S)
PERSON = re.compile(r"[^\W\d_]+(?:[ .'-]+[^\W\d_]+){0,2}\.?")
_GENERIC_TAB = re.compile(rf"(?:{'|'.join(words()['headings']['tabs'])})\\b.*", re.I)

_NO_PERSON = NO_LIFT | frozenset(words()["headings"]["no_person"])


def same_people(counts: "Counter[str]") -> dict[str, str]:
    """Each name to the spelling that is taken for the person: the fuller, more frequent one."""
    taken: dict[str, str] = {}
    ranked = sorted(counts, key=lambda name: (-len(name.split()), -counts[name], name))
    for name in ranked:
        plain = " ".join(name.split())
        if len(plain) >= _SHORTEST_SHOUT and plain.isupper():
            plain = plain.title()
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
        tab = _IN_BRACKETS.sub("", grid.title.strip())
        plain = PERSON.fullmatch(tab) is not None
        if plain and not (
            _GENERIC_TAB.fullmatch(tab)
            or is_month(tab)
            or is_no_lift(tab)
            or read_when(Cell(0, 0, tab, tab))
            or (len(tab) > 4 and matcher.match(tab).is_sure)
        ):
            by_book[grid.book].append(grid.title)
    persons = {
        (book, tab): _IN_BRACKETS.sub("", tab)
        for book, tabs in by_book.items()
        if len(tabs) >= 2
        for tab in tabs
    }
    full = {(g.book, g.title): _full_name(g) for g in grids if (g.book, g.title) in persons}
    behind = Counter(name.split()[-1] for name in full.values() if name)
    # What stands behind each name is a title: "Ana Log", "Ben Log".
    return persons | {
        at: name for at, name in full.items() if name and behind[name.split()[-1]] < 2
    }


def _full_name(grid: Grid) -> str:
    """The name on top of a sheet of which the tab's is short."""
    tab = _IN_BRACKETS.sub("", grid.title.strip())
    begun = r"\w*\s+".join(map(re.escape, re.findall(r"[^\W\d_]+", tab)))
    behind = "" if " " in tab else r"\s+[^\W\d_][\w'-]+"
    for cell in (cell for row in grid.rows[:_TOP_ROWS] for cell in row[:2]):
        for part in re.split(r"\s+-\s+|[:,;(]\s*", cell.text):
            if re.fullmatch(rf"{begun}\w*{behind}", part.strip()) and part.istitle():
                return part.strip()
    return ""


def headed_people(grid: Grid, matcher: LiftMatcher) -> frozenset[str]:
    """The people whose names, with no word that they are people, stand over blocks of a sheet or
    left of the first of their lifts: two or more, who share lifts as the days of a split do not."""
    content = ColumnContent(grid, matcher)
    lifts: dict[str, set[str]] = defaultdict(set)
    firsts = {row[0].text for row in grid.rows if row and isinstance(row[0].value, str)}
    if len({name for text in firsts if (name := person_in(text))}) < 2:
        return frozenset()
    name = ""
    for row in filter(None, grid.rows):
        own = [cell for cell in row if content.is_lift(cell)]
        found = _over_a_block(row, own)
        if found and matcher.match(found).score < _A_LIFT:
            # "Bo" is only like a lift.
            name, own = found, own[row[0] in own :]
        lifts[name] |= {matcher.match(cell.text).best or cell.text for cell in own}
    lifts.pop("", None)
    shared = [
        one
        for one, own_lifts in lifts.items()
        if any(own_lifts & others for other, others in lifts.items() if other != one)
    ]
    return frozenset(shared if len(shared) >= 2 else ())


def _over_a_block(row: Sequence[Cell], lifts: Sequence[Cell]) -> str:
    """The name that a row begins with, where it stands alone or left of a lift."""
    name = person_in(row[0].text) if isinstance(row[0].value, str) else ""
    return name if name and (len(row) == 1 or row[1] in lifts) else ""


@lru_cache(maxsize=32768)
def person_in(text: str) -> str:
    """The name of a person at the beginning of a text, without what stands behind it."""
    name = _BEHIND.sub("", text.strip())
    plain = Cell(0, 0, name, name)
    known = any(word.lower() in _NO_PERSON or _GENERIC_TAB.match(word) for word in name.split())
    if (
        not PERSON.fullmatch(name)
        or len(name) < 2
        or not name[0].isupper()
        or known
        or not is_plain(plain)
    ):
        return ""
    return "" if is_month(name) or is_ditto(name) or says_not_done(name) else name
