"""What the cells below a column hold, and what a cell says as a heading."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from types import MappingProxyType

from .cells import read_cell, read_load
from .column_rules import MANY, TICK, Columns, tells_sets
from .days import NO_DAY, When, day_of_cell, is_day_number, is_month, read_when
from .grids import Cell, Grid
from .headings import Column, Role, is_label, read_heading
from .names import LiftMatcher, is_no_lift
from .parts import loads_of
from .words import is_ticked, is_warmup_label, slug

LIFT_SCORE = 0.6  # From this likeness on a text where a lift may stand is one (judgement)
_LONGEST_HEADING = 40
_LONGEST_LIFT = 60
_ROWS_LOOKED_AT = 40
LIFT_AND_ROLE = re.compile(
    r"(?P<lift>.*[a-z)])[\s:_-]+(?P<role>[(\[]?(?:kgs?|lbs?|weight|load|reps?|rpe|rir|done|actual|"
    r"plan(?:ned)?|target|results?|sets? ?x ?reps)[)\]]?)",
    re.I,
)
_LIFT_AND_SCHEME = re.compile(
    r"(?P<lift>.*[a-z)])[\s:,(-]+(?P<scheme>\d{1,2} ?x ?\d{1,2})\)?", re.I
)
_MOST_REPS = 30
_MOST_EFFORT = 10
_FEWEST_OF_A_COLUMN = 3
_FEWEST_MARKS = 2
_INITIALS_OF_LOAD = frozenset({"w", "l"})
_PART = re.compile(r"[^\s:_()\[\]-]+")
_PARTS = frozenset({"load", "reps", "rpe", "rir", "cell", "sets"})
_TELLING = frozenset({"load", "reps", "cell"})
_OF_SETS: dict[Role, str] = {
    "load": "the load", "reps": "the repetitions", "rpe": "RPE", "rir": "repetitions in reserve",
}  # fmt: skip
SETS = re.compile(
    r"(?:\d ?(?:reps?|kgs?|lbs?)?|\bbw)\s*[x@]\s*\d|\d ?(?:kgs?|kilos?|lbs?|pounds) for \d", re.I
)


_UNDONE = re.compile(
    r"[-n0✗✘]|(?:no\w*|nein)(?:\W.*)?|false|skip\w*|missed|(?P<did>\d)\s*(?:of|/)\s*\d", re.I
)


class ColumnContent:
    """Looks at the columns of one grid from a row of it downwards."""

    def __init__(
        self, grid: Grid, matcher: LiftMatcher, answers: Mapping[str, str] = MappingProxyType({})
    ) -> None:
        self._grid = grid
        self._answers = answers
        self.asked_columns: dict[str, tuple[str, list[str]]] = {}
        """By the heading that says nothing we know: the question's id and its choices."""
        self._matcher = matcher
        self._month = is_month(grid.title)
        self._of_lifts: dict[int, bool] = {}

    def _rows_below(self, row: int) -> list[tuple[Cell, ...]]:
        below = self._grid.rows[row + 1 : row + 1 + _ROWS_LOOKED_AT]
        return [cells for cells in below if cells]

    def _columns_below(self, row: int) -> dict[int, list[Cell]]:
        """The cells under the row by column, down to the next table."""
        found: dict[int, list[Cell]] = {}
        for cells in self._rows_below(row):
            for cell in cells:
                found.setdefault(cell.column, []).append(cell)
        return found

    def _by_content(self, cells: Sequence[Cell], head: Column | None) -> Column:
        """What a column without a telling heading holds, by the most of its cells."""
        counts: Counter[Role] = Counter(self._kind(cell) for cell in cells)
        role, count = counts.most_common(1)[0]
        if head is not None:
            is_day = role in ("date", "day", "lift") and count * 2 > len(cells)
            return Column(role, when=head.when) if is_day else head
        return Column(role if count * 2 >= len(cells) else "skip")

    def _unsaid(
        self, heading: Cell, columns: Columns, below: Mapping[int, Sequence[Cell]]
    ) -> Column | None:
        """What a column holds whose heading says nothing we know: by its numbers and what the other
        columns do not tell. A unit tells a load; bare numbers are asked about, once a file."""
        cells = below[heading.column]
        if self._mark_warmups(cells, columns, below):
            return Column("warmup")
        told: set[str] = {head.role for head in columns.values() if not head.planned}
        if "cell" in told and not any(
            head.role == "cell" and any(map(tells_sets, below.get(at, ())))
            for at, head in columns.items()
        ):
            told = told - {"cell"} | {"reps"}
        if "lift" not in told or not told & _TELLING:
            return None
        loads = [load for cell in cells if (load := read_load(cell.text))]
        if len(loads) * 4 < len(cells) * 3 or len(loads) < _FEWEST_OF_A_COLUMN:
            return None
        amounts = [load.amount for load in loads]
        whole = all(amount == int(amount) for amount in amounts)
        beside = [head.role for at, head in columns.items() if abs(at - heading.column) == 1]
        of_load = "unit" in beside or any(load.unit or load.bodyweight for load in loads)
        if of_load and not told & {"load", "cell"}:
            return Column("load")
        roles: list[Role] = []
        if not told & {"load", "cell"} and max(amounts) > _MOST_REPS:
            roles = ["load"]
            if heading.text.lower() in _INITIALS_OF_LOAD:
                return Column("load")
        elif not told & {"reps", "cell"} and whole and 0 < max(amounts) <= _MOST_REPS:
            roles = ["reps"]
        elif not told & {"rpe", "rir"} and max(amounts) <= _MOST_EFFORT:
            roles = ["rpe", "rir"]
        id = f"heading-{slug(heading.text)}"
        if not roles or heading.text.isdecimal() or self.asked_columns.keys() - {heading.text}:
            return None
        self.asked_columns[heading.text] = id, [_OF_SETS[role] for role in roles]
        chosen = [role for role in roles if _OF_SETS[role] == self._answers.get(id)]
        return Column(chosen[0]) if chosen else None

    @staticmethod
    def _mark_warmups(
        marks: Sequence[Cell], columns: Columns, below: Mapping[int, Sequence[Cell]]
    ) -> bool:
        """Whether one mark stands beside first sets of lifts alone, each lighter than the next."""
        rows = {cell.row for cell in marks}
        if len({cell.text for cell in marks}) > 1 or len(rows) < _FEWEST_MARKS:
            return False
        lifts, loads = (
            {c.row: c.text for at, head in columns.items() if head.role == role
             and not head.planned for c in below.get(at, ())}
            for role in ("lift", "load")
        )  # fmt: skip
        amounts = {at: one.amount for at, text in loads.items() if (one := read_load(text))}
        behind = {
            at: next((on for on in sorted(amounts) if on > at and on not in rows), at)
            for at in rows
        }
        return all(
            lifts.get(at) == lifts.get(on)
            and amounts.get(at, 0) < amounts.get(on, 0)
            and (lifts.get(at - 1) != lifts.get(at) or at - 1 in rows)
            for at, on in behind.items()
        )

    def _kind(self, cell: Cell) -> Role:
        if isinstance(cell.value, str) and is_warmup_label(cell.text) and cell.text.isalpha():
            return "warmup"
        if day_of_cell(cell) is not None:
            return "date"
        if not isinstance(cell.value, str):
            return "skip"
        if re.fullmatch(r"kgs?|lbs?", cell.text, re.I):
            return "unit"
        told = read_cell(cell.text)
        if told:
            return "cell" if told.kind == "sets" else "skip"
        if read_when(cell):
            return "day"
        return "lift" if self._begins_with_lift(cell) else "skip"

    def _fullest(self, row: int, columns: Sequence[int]) -> int | None:
        """The column, of these, with most lifts below the row."""
        counts = dict.fromkeys(columns, 0)
        for cells in self._rows_below(row):
            for cell in cells:
                if cell.column in counts and self._begins_with_lift(cell):
                    counts[cell.column] += 1
        best = max(counts, key=lambda column: counts[column], default=None)
        return best if best is not None and counts[best] else None

    def _holds_lifts(self, cells: Sequence[Cell]) -> bool:
        """Whether a column called "Date" (of the days across) holds lifts."""
        lifts = sum(self.is_lift(cell) for cell in cells)
        return lifts * 2 > len(cells) and not any(day_of_cell(cell) for cell in cells)

    def _names_lifts(self, cells: Sequence[Cell]) -> bool:
        """Whether a third of a column's cells are lifts we know, and fewer tell sets."""
        kinds = Counter(self._kind(cell) for cell in cells)
        return kinds["lift"] > kinds["cell"] and kinds["lift"] * 3 >= len(cells)

    def is_of_lifts(self, column: int) -> bool:
        """Whether some of a column's texts beside whole sets name lifts we know."""
        if column not in self._of_lifts:
            pairs = (two for row in self._grid.rows[:_ROWS_LOOKED_AT] for two in pairwise(row))
            words = [cell for cell, sets in pairs if cell.column == column and tells_sets(sets)]
            words = [cell for cell in words if re.search(r"[^\W\d]{2}", cell.text)]
            self._of_lifts[column] = sum(map(self.is_lift, words)) * 4 >= len(words) > 0
        return self._of_lifts[column]

    def _with_scheme(self, cell: Cell, lift: str, scheme: str) -> Column | None:
        """ "Squat 3x10" over loads or over the repetitions that were done; None over others."""
        name = self._matcher.match(lift)
        known = self._matcher.catalogue.lifts.get(name.best or "") if name.is_sure else None
        reps = int(re.split("x", scheme, flags=re.I)[1])
        most = reps if known and known.load_kind != "bodyweight_plus" else _MOST_REPS
        below = self._columns_below(cell.row).get(cell.column, [])
        below = [other for other in below if read_heading(other.text) is None]
        loads = [load.amount for other in below if (load := read_load(other.text))]
        if len(loads) * 2 > len(below) and any(one > most or one % 1 for one in loads):
            return Column("cell", lift=lift, scheme=scheme)
        lists = [told for other in below if (told := read_cell(other.text)) and len(told.sets) > 1]
        return Column("cell", lift=lift) if known and len(lists) * 2 >= len(below) > 0 else None

    def is_sure_lift(self, cell: Cell) -> bool:
        return self.is_lift(cell) and self._matcher.match(cell.text).is_sure

    def _begins_with_lift(self, cell: Cell) -> bool:
        """Whether a cell names a lift, perhaps with its sets and repetitions: "Squat 5x5"."""
        both = lift_and_scheme(cell.text) if isinstance(cell.value, str) else None
        return self.is_lift(cell.saying(both[0]) if both else cell)

    def is_lift(self, cell: Cell) -> bool:
        """Whether a cell, where a lift may stand, names one."""
        if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_LIFT or "\n" in cell.text:
            return False
        if read_cell(cell.text) or read_when(cell) or SETS.search(cell.text):
            return False
        if loads_of(cell.text) or is_day_number(cell.text):
            return False
        return self._matcher.match(cell.text).score >= LIFT_SCORE

    def heading(self, cell: Cell) -> Column | None:
        """What a cell says as a heading; None when it says no such thing."""
        if not isinstance(cell.value, str):
            day = day_of_cell(cell)
            return Column("cell", when=When(day)) if day else None
        if (head := self._lift_and_role(cell.text)) is not None:
            return head
        if (head := read_heading(cell.text)) is not None:
            # "Week 1 (kg)" is no column of loads alone.
            when = read_when(cell) if head.role == "load" and head.unit else NO_DAY
            return Column("cell", head.unit, when=when) if when else head
        if len(cell.text) > _LONGEST_HEADING or tells_sets(cell):
            return None
        for label, head in labelled_roles(cell.text):
            if when := read_when(cell.saying(label)):
                return replace(head, when=when)
        if when := read_when(cell):
            if re.match(r"plan\w*|target|goal", cell.text, re.I) and when.day is not None:
                return Column("skip", planned=True)
            rest = re.split(r"\s*[:-]\s+", cell.text, maxsplit=1)
            lift = rest[1] if len(rest) > 1 and self._matcher.match(rest[1]).is_sure else ""
            return Column("cell", when=when, lift=lift)
        both = lift_and_scheme(cell.text)
        if both and not is_no_lift(both[0]) and (head := self._with_scheme(cell, *both)):
            return head
        if not read_cell(cell.text) and self._matcher.match(cell.text).is_sure:
            return Column("cell", lift=cell.text)
        return None

    def _lift_and_role(self, text: str) -> Column | None:
        """A lift with what its column holds: "Bench kg", "Squat (lb)", "Row reps", "Squat plan"."""
        match = LIFT_AND_ROLE.fullmatch(text.strip())
        if match is None or len(text) > _LONGEST_HEADING or read_heading(match["lift"]):
            return None
        if self._matcher.match(match["lift"]).score < LIFT_SCORE:
            return None
        head = read_heading(match["role"])
        if head is None:
            return None
        if head.role == "load" and "(" in match["role"]:
            head = replace(head, role="cell")
        return replace(head, lift=match["lift"])


@lru_cache(maxsize=32768)
def lift_and_scheme(text: str) -> tuple[str, str] | None:
    """A lift and the sets and repetitions behind it: "Squat 5x5"."""
    match = _LIFT_AND_SCHEME.fullmatch(text)
    return (match["lift"], match["scheme"]) if match else None


def labelled_roles(text: str) -> Iterator[tuple[str, Column]]:
    """The ways to cut a heading into a label and what its column holds: "W1 reps", "kg Jo"."""
    parts = _PART.findall(text)
    for at in (1, 2):
        for label, rest in ((parts[:-at], parts[-at:]), (parts[at:], parts[:at])):
            head = read_heading(" ".join(rest)) if label and rest else None
            if head and head.role in _PARTS and not is_label(head) and not head.planned:
                yield " ".join(label), head


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
