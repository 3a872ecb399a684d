"""Names over columns that no word explains: of people, where lifts stand down the side, else of
lifts; alone, or with what their column holds ("Jo kg", "reps (Sam)").

A table has one axis of lifts. So what the names are is told by what else the table names."""

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from rapidfuzz.distance import OSA

from .carrying import NOTHING
from .cells import read_cell
from .column_content import LIFT_SCORE, ColumnContent, labelled_roles
from .column_rules import DATA_OF_A_ROW, Columns, is_plain, is_value
from .days import is_month, read_when
from .grids import Cell, Grid
from .headings import WARMUP, Column, is_label, read_heading, role_of
from .names import NO_LIFT, LiftMatcher, is_no_lift
from .parts import loads_of
from .words import is_ditto, says_not_done, words

_SHORTEST_SLIP = 4
_SHORTEST_SHOUT = 3  # Fewer capitals are initials: "TJ"
_TOP_ROWS = 3
_IN_BRACKETS = re.compile(r"\s*\(.*\)$|\s+-\s.*$")
_A_LIFT = 0.95
_BEHIND = re.compile(r"(?:\s*[(:,;\d]|\s+-|'s\b).*$", re.S)
PERSON = re.compile(r"[^\W\d_]+(?:[ .'-]+[^\W\d_]+){0,2}\.?")
_GENERIC_TAB = re.compile(rf"(?:{'|'.join(words()['headings']['tabs'])})\b.*", re.I)

_NO_PERSON = NO_LIFT | frozenset(words()["headings"]["no_person"])
_PERSON_IN = re.compile(rf"(?P<name>{PERSON.pattern})\s*[(\[-]+\s*(?:kgs?|lbs?)\s*[)\]]?", re.I)
_LONGEST_NAME = 40


class NamedColumns(ColumnContent):
    """Tells whose columns are."""

    guessed_people: set[str]  # Names that stand over columns with no word that they are of people

    def _people_over(self, cells: Sequence[Cell]) -> Columns:
        """The columns of a row that are headed by names of people, right of lifts.

        A short name may look like a lift ("Bo"), but not each of them."""
        unknown = [cell for cell in cells if isinstance(cell.value, str) and is_plain(cell)]
        if sum(bool(PERSON.fullmatch(cell.text)) for cell in unknown) < DATA_OF_A_ROW:
            return {}
        if any(is_value(cell) for cell in cells):
            return {}
        below = self._columns_below(cells[0].row)
        lifts = [column for column in below if self._names_lifts(below[column])]
        found = [c for c in unknown if lifts and c.column > min(lifts) and c.column in below]
        if not len({cell.text for cell in found}) == len(found) >= DATA_OF_A_ROW:
            return {}
        if not all(PERSON.fullmatch(cell.text) for cell in found):
            return {}
        if sum(map(self.is_lift, found)) * 2 > len(found):
            return {}
        return {cell.column: Column("cell", lifter=cell.text) for cell in found}

    def _over_sets(self, people: Columns, cells: Sequence[Cell]) -> bool:
        """Whether whole sets stand under each name, or loads beside a column of schemes."""
        below = self._columns_below(cells[0].row)
        schemes = self._schemes(cells)
        done = [c for c in people if not all(NOTHING.match(cell.text) for cell in below.get(c, ()))]
        # One who was away has no set, beside two who were there.
        return len(done) >= min(len(people), DATA_OF_A_ROW) > 0 and all(
            self._holds_sets(below[column], bool(schemes)) for column in done
        )

    def _holds_sets(self, cells: Sequence[Cell], loads: bool) -> bool:
        cells = [c for c in cells if re.search(r"\d|\bbw\b", c.text) and not NOTHING.match(c.text)]
        count = sum(
            read_cell(c.text).kind == "sets" or (loads and bool(loads_of(c.text))) for c in cells
        )
        return count > 0 and count * 2 >= len(cells)

    def _lifts_beside(self, cells: Sequence[Cell], named: Columns) -> Columns:
        """Names in no catalogue beside one that is, over whole sets: "Squat | Mystery lift"."""
        heads = named.values()
        if not any(h.lift and is_label(h) for h in heads) or any(h.role == "lift" for h in heads):
            return {}
        below = self._columns_below(cells[0].row)
        return {
            cell.column: Column("cell", lift=cell.text)
            for cell in cells
            if cell.column not in named
            and self.may_be_lift(cell)
            and not re.search(r"\d", cell.text)
            and self._holds_sets(below.get(cell.column, ()), False)
        }

    def _schemes(self, cells: Sequence[Cell]) -> list[int]:
        """The columns that tell the sets and repetitions of their rows, no load."""
        heads = {cell.column: role_of(cell.text) for cell in cells}
        if "load" in heads.values():
            return []
        below = self._columns_below(cells[0].row)
        return [
            column
            for column, role in heads.items()
            if role in ("reps", "cell", "skip")
            and self._are_schemes(below.get(column, []), role == "reps")
        ]

    @staticmethod
    def _are_schemes(cells: Sequence[Cell], of_reps: bool = False) -> bool:
        """Bare numbers are some only below repetitions: "Mood" and "Sleep" hold such, too."""
        plain = [
            one
            for one in (read_cell(cell.text) for cell in cells)
            if one.numbers or (one.kind == "reps" and (of_reps or len(one.sets) > 1))
        ]
        return bool(plain) and len(plain) * 2 >= len(cells)

    def _parted(self, cells: Sequence[Cell]) -> Columns:
        """Headings of a name and what is below it: "Jo kg | Jo reps | Sam kg | Sam reps"."""
        told = {cell.column: part for cell in cells if (part := _name_and_part(cell))}
        roles: dict[str, set[str]] = {}
        for name, head in told.values():
            roles.setdefault(name, set()).add(head.role)
        if len(roles) < DATA_OF_A_ROW or len({frozenset(one) for one in roles.values()}) > 1:
            return {}
        if len(told) != sum(map(len, roles.values())) or not {"load", "cell"} & {
            role for one in roles.values() for role in one
        }:
            return {}
        lifts = sum(self._matcher.match(name).score >= LIFT_SCORE for name in roles)
        if lifts * 2 <= len(roles) and self._has_lifts_beside(cells):
            self.guessed_people.update(roles)
            return {at: replace(head, lifter=name) for at, (name, head) in told.items()}
        return {at: replace(head, lift=name) for at, (name, head) in told.items()}

    def _has_lifts_beside(self, cells: Sequence[Cell]) -> bool:
        """Whether a column says the lifts, by its heading or by what it holds."""
        if any(role_of(cell.text) == "lift" for cell in cells):
            return True
        below = self._columns_below(cells[0].row)
        return any(self._by_content(one, None).role == "lift" for one in below.values())

    def _label(self, cell: Cell, row: Sequence[Cell], of_lifts: bool) -> Column | None:
        """What a cell of a label row says; `of_lifts`, where the table names no lift elsewhere."""
        if (named := self._people_over(row).get(cell.column)) is not None:
            self.guessed_people.add(cell.text)
            return named
        head = self.heading(cell)
        if head is not None and head.role == "warmup":
            return Column("cell", head.unit, WARMUP)
        person = _PERSON_IN.fullmatch(cell.text) if head and head.role == "load" else None
        if head and person and read_heading(person["name"]) is None:
            # Over the columns of its sets "Ana (lb)" is no load.
            return Column("cell", head.unit, lifter=person["name"])
        if head is not None and head.role == "cell" and not head.is_labelled:
            # "Top set" over kg and reps, "Back-offs" over kg, sets and reps.
            of_some = read_heading(f"{cell.text} reps")
            return replace(head, set_number=of_some.set_number if of_some else None)
        if head is not None or len(row) < DATA_OF_A_ROW:
            return head
        if self.is_lift(cell) or (of_lifts and self.may_be_lift(cell)):
            return Column("cell", lift=cell.text)
        return Column("cell", lifter=cell.text) if PERSON.fullmatch(cell.text) else None

    @staticmethod
    def may_be_lift(cell: Cell) -> bool:
        text = isinstance(cell.value, str) and len(cell.text) <= _LONGEST_NAME
        return text and not is_no_lift(cell.text) and not is_value(cell) and not read_when(cell)


def _name_and_part(cell: Cell) -> tuple[str, Column] | None:
    """The name in a heading and what its column holds."""
    if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_NAME:
        return None
    for name, head in labelled_roles(cell.text):
        if all(
            len(w) > 1 and PERSON.fullmatch(w) and is_plain(cell.saying(w)) for w in name.split()
        ):
            return name, head
    return None


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
