"""Rows outside any table: a lift with its sets, a lift alone, a heading, a diary's lines."""

import itertools
import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from .carrying import State
from .cells import read_cell, read_load
from .column_content import LIFT_SCORE, SETS
from .column_rules import Columns, is_value, tells_sets
from .columns import Headers
from .days import NO_DAY, When, day_of_cell, read_day, read_when, split_day
from .entries import Entry, Skipped, anchor_of, start_in, with_drop
from .grids import Cell, Grid
from .headings import Role, role_of
from .leavings import Leavings
from .legend import Legend, says_dumbbells
from .named_columns import headed_people, person_in
from .names import LiftMatcher, Match, lift_alone
from .parts import Unread
from .sequence import as_warmups, sets_of_sequence
from .told import OneSet, all_so, read_effort, with_last_set
from .words import unit_in, without_warmup

_SAME_AGAIN = re.compile(
    r"(?:same|ditto|again|idem|\"|'')(?:\s+again)?(?=$|\s|@)\s*(?P<rest>.*)$", re.I
)
_LABEL_AND_NAME = re.compile(r"([^:=-]{2,20}?)\s*(?:\d+\s*)?[:=-]\s*([^\W\d].*)")
_NEXT_LIFT = re.compile(r"(?:\s*[,;\n+]\s*|\.\s+)(?=(?!bw\b|w/?u\b)[a-z]{2,}[^,;]*\d)", re.I)
_MESSAGE = re.compile(
    r"(?:\[?(?P<day>[\d./-]{6,10}),? )?(?P<clock>\d{1,2}:\d\d(?::\d\d)?\]?(?: -)? )?"
    r"(?P<name>[^\W\d_][^\d:]{1,25}?)(?P<behind> \d{1,2}:\d\d)?: (?P<rest>.+)"
)
"""What somebody wrote to a group, with the time of day."""
_LINES = re.compile(r"\n|;\s*(?=[^\W\d]{3})|\.\s+(?:Then |(?=[A-Z])(?!Satz|Serie|Set\b|Wdh|Woche))")
_NOT_DONE = re.compile(
    r"\b(?:no|not|next|plan\w*|tomorrow|goals?|targets?|should|try|want\w*|skip\w*|miss\w*)\b", re.I
)
"""Of what is still to be done, or was not."""
_SENTENCE = re.compile(
    r"(?:then|finish\w*|also|today|start\w*|did|followed|and|plus|ended|first|"
    r"dann|danach|puis|ensuite|luego|después|depois|zum schluss)\b",
    re.I,
)
"""How a sentence begins that tells of a lift."""
_LONGEST_LINE = 160
_NUMBERED_SET = 3
_SET_LABEL = re.compile(r"^((set|satz|serie|s)\s*\d{1,2}\s*[:.)-]|(?P<drop>drop)\w*:?)\s*", re.I)


class LooseRows:
    """Reads the rows of one grid that stand in no table; `entries` and `skipped` hold what it
    found, `_state` what is carried down."""

    def __init__(
        self, grid: Grid, number: int, matcher: LiftMatcher, load_first: bool, legend: Legend,
        answers: Mapping[str, str] = MappingProxyType({}),
    ) -> None:  # fmt: skip
        self.entries: list[Entry] = []
        self.skipped: list[Skipped] = []
        self._leavings = Leavings()
        self._grid = grid
        self._number = number
        self._matcher = matcher
        self._load_first = load_first
        self._known: dict[object, tuple[OneSet, ...]] = {}
        self._legend = legend
        self._people = headed_people(grid, matcher)
        self.headers = Headers(grid, matcher, self._people, answers)
        self._columns: Columns = {}
        self._starts: list[int] = []
        self._certain: dict[int, Role] = {}
        """The role of each column of the table that was not planned and says what it holds."""
        self._apart: Sequence[Cell] = ()
        """A row of several days, each over a table of its own."""
        self._states: dict[int, State] = {}
        self._title = ""
        tab = Cell(0, 0, grid.title, grid.title)
        self._state = State(read_when(tab))
        self._planned = bool(self._state.when and re.search(r"\bplan\w*", tab.text, re.I))
        """Whether a title above the next table says that it is a plan."""
        self.anchor = anchor_of(grid, self._state.when.week or 1)
        if self.headers.is_sure_lift(tab):
            self._state.lift = grid.title

    def _entry(
        self,
        lift: str,
        state: State,
        sets: tuple[OneSet, ...],
        cells: Sequence[Cell],
        said: Mapping[str, str] = MappingProxyType({}),
    ) -> Entry:
        """The sets with what `said` tells of them: a note, a rest, a method, a pain, a unit."""
        self._leavings.take(cells)
        first = cells[0]
        order = (self._number, first.row, first.column)
        place = self._grid.place(first)
        text = " | ".join(cell.text for cell in cells)
        who = state.lifter or self._grid.title
        unit = unit_in(said.get("unit", "")) or self._legend.unit_of(who)
        if self._legend.effort_of_last:
            sets = all_so(sets, row_rir=None)
        lift = lift_alone(lift)
        name, warmup = without_warmup(lift)
        if (warmup and name) or state.warmup:
            lift, sets = name or lift, all_so(sets, warmup=True)
        note = said.get("note", "")
        return Entry(
            lift, state.when, state.lifter, sets, unit, place, text, order,
            self._legend.dumbbells or says_dumbbells(note),
            said.get("rest", ""), note, said.get("method", ""), said.get("pain", ""),
        )  # fmt: skip

    def _loose_row(self, cells: Sequence[Cell]) -> None:
        """A lift with its sets, a lift alone, or a heading."""
        self.headers.forget()
        if name := self._person(cells[0]):
            self._state.lifter, cells = name, cells[1:]
        said = _MESSAGE.fullmatch(cells[0].text)
        if said and (said["clock"] or said["behind"]):
            self._state.lifter = said["name"]
            self._state.when = When(read_day(said["day"] or "")).over(self._state.when)
            cells = [cells[0].saying(said["rest"]), *cells[1:]]
        if isinstance(cells[0].value, str) and (cut := split_day(cells[0].text)):
            day, rest = cut
            line = cells[0].saying(rest)
            parts = [part for one in _LINES.split(rest) for part in _NEXT_LIFT.split(one)]
            if any(map(self._lift_and_sets, parts)) or self.headers.is_sure_lift(line):
                self._state.when = When(day).over(self._state.when)
                cells = [line, *cells[1:]]
        lifts = [
            at
            for at, (cell, behind) in enumerate(itertools.zip_longest(cells, cells[1:]))
            if self.headers.is_lift(cell) or self._may_be_lift(cell, behind)
        ]
        found = False
        for at, after in itertools.pairwise([*lifts, len(cells)]):
            if at == lifts[0]:
                self._heading_row(cells[:at])
            if values := list(cells[at + 1 : after]):
                found |= self._sequence(cells[at].text, values)
        if found:
            return
        for at, cell in enumerate(cells):
            if found and (self._leavings.has(cell) or not self._lift_and_sets(cell.text)):
                continue
            if self._line(cell, cells[at + 1 :]):
                found = True
            else:
                self._heading_row([cell])
        if found:
            return
        if not lifts and self._state.lift and self._sets_below(cells):
            return
        if lifts and len(cells) == 1:
            self._state.lift = cells[0].text
        elif not lifts:
            told = self.entries[-1].lift if self.entries else ""
            if len(cells) == 1 and self._state.lift == told and self.headers.may_be_lift(cells[0]):
                # It may name the lift of the sets below.
                self._state.lift = ""
            self._heading_row(cells)
            for cell in filter(tells_sets, cells):
                self._skip(cell, "no lift stands beside it")

    def _person(self, cell: Cell) -> str:
        """Whom of the people over blocks a cell names; they are asked about."""
        found = self._people & {person_in(cell.text)} if self._people else set()
        self.headers.guessed_people |= found
        return next(iter(found), "")

    def _may_be_lift(self, cell: Cell, behind: Cell | None) -> bool:
        """Whether a name in no catalogue stands beside sets in a column of lifts."""
        sets = behind is not None and tells_sets(behind)
        return sets and self.headers.may_be_lift(cell) and self.headers.is_of_lifts(cell.column)

    def _sets_below(self, cells: Sequence[Cell]) -> bool:
        """Sets of the lift named above."""
        if said := _SAME_AGAIN.match(cells[0].text):
            return self._same_again(cells, said["rest"])
        values, note = _values_below(cells)
        if not values:
            return False
        if (one := _numbered_set(cells)) is not None:
            entry = self._entry(self._state.lift, self._state, (one,), list(cells[1:]))
            self.entries.append(entry)
            return True
        told = self._sequence(self._state.lift, [*values, *note])
        if told and len(self.entries) > 1:
            *_, above, entry = self.entries
            label = _SET_LABEL.match(cells[0].text)
            if label and label["drop"] and (gone_on := with_drop([above], entry)):
                self.entries[-2:] = [gone_on]
            elif above.lift == entry.lift and above.when == entry.when:
                sets = as_warmups(above.sets, [entry.sets])
                self.entries[-2] = above._replace(sets=sets)
        return told

    def _same_again(self, cells: Sequence[Cell], rest: str) -> bool:
        """ "same @8": the set above once more, with the effort that is written."""
        last = self.entries[-1] if self.entries else None
        if last is None or last.lift != self._state.lift or not last.sets:
            return False
        effort = None if rest[:1].isdecimal() else read_effort(rest, True)
        again = last.sets[-1]._replace(rir=effort)
        self.entries.append(self._entry(last.lift, self._state, (again,), cells))
        return True

    def _line(self, cell: Cell, behind: Sequence[Cell]) -> bool:
        """A line such as "Bench press 3x8 @ 80"; a comma may have cut it into cells."""
        if self._is_session(cell):
            for line in _LINES.split(cell.text):
                before = len(self.entries)
                self._loose_row([cell.saying(line)])
                if len(self.entries) == before and SETS.search(line):
                    self._skip(cell.saying(line), "it is no set we know how to read")
            return True
        for parts in _line_parts(cell, behind):
            told = [self._lift_and_sets(part) for part in parts]
            if None not in told:
                for lift, sets in filter(None, told):
                    self._sequence(lift, [Cell(cell.row, cell.column, sets, sets)])
                self._leavings.take(c for c in behind if any(f", {c.text}" in p for p in parts))
                return True
        return False

    def _is_session(self, cell: Cell) -> bool:
        """Whether a cell holds lines of which one tells a lift with its sets."""
        lines = _LINES.split(cell.text) if isinstance(cell.value, str) else []
        return len(lines) > 1 and any(map(self._lift_and_sets, lines))

    def _lift_and_sets(self, text: str) -> tuple[str, str] | None:
        """The lift and the sets of a line, where it holds both and no more."""
        for match in re.finditer(
            r"[\s:,(-]+(?=[\d+@(-]|bw\b|bwx|bodyweight\b|w/?u\b|w\d)", text, re.I
        ):
            lift, sets = text[: match.start()], text[match.end() :]
            if SETS.search(lift) or re.match(r"\([^()\d]+\)", sets):
                # "(ez bar)" is of the lift.
                continue
            lift, name = self._lift_at_the_end(lift)
            known = self._matcher.catalogue.find(name.best or "") if name.is_sure else None
            of_body = known is not None and known.load_kind == "bodyweight_plus"
            if of_body and (minus := re.search(r"(?<=\s)\(?-$", match[0])):
                # "Pull-ups -15kg x 6" is help.
                sets = minus[0] + sets
            told = read_cell(sets, self._load_first)
            if not told or read_cell(lift):
                continue
            if name.score >= LIFT_SCORE and told.kind == "sets":
                return lift, sets
            if of_body and (told.kind == "scheme" or len(told.sets) > 1):
                # "Chins 6, 5, 4": the body is the load.
                return lift, sets
        return None

    def _lift_at_the_end(self, said: str) -> tuple[str, Match]:
        """The lift that a sentence's words end with ("Finished with rows"), where it is sure."""
        whole = self._matcher.match(said)
        parts = said.split()
        for at in range(1, len(parts) if _SENTENCE.match(said) and not whole.is_sure else 0):
            name = self._matcher.match(" ".join(parts[at:]))
            if name.is_sure:
                return " ".join(parts[at:]), name
        return said, whole

    def _sequence(self, lift: str, values: list[Cell]) -> bool:
        values = [*values, *(cell.saying(cell.comment) for cell in values if cell.comment)]
        told = sets_of_sequence(values, self._load_first)
        if isinstance(told, Unread):
            if any(is_value(cell) for cell in values):
                self._skip(told.cell, told.why, values)
            return False
        sets, note = told
        sets = with_last_set(sets, note, False)
        self._state.lift = lift
        self.entries.append(self._entry(lift, self._state, sets, values, {"note": note}))
        return True

    def _heading_row(self, cells: Sequence[Cell]) -> None:
        """A day, a week, a person, a lift or a unit for what follows."""
        self._see_days(cells)
        whens = {cell: read_when(cell) for cell in cells}
        weekdays = [c for c, when in whens.items() if when.weekday is not None and not when.day]
        if len({whens[cell].weekday for cell in weekdays}) > 1:
            # "Push - Tues | Pull - Fri": each is of its columns.
            cells = [cell for cell in cells if cell not in weekdays]
        if len({when.day for when in whens.values() if when.day}) > 1 and len(cells) > 1:
            # Days side by side: of their columns, and none of what stands below.
            cells = [cell for cell in cells if not whens[cell].day]
            for state in [self._state, *self._states.values()]:
                state.when = NO_DAY
        for state in [self._state, *self._states.values()]:
            self._take_heading(cells, state)

    def _see_days(self, cells: Sequence[Cell]) -> None:
        """Keeps a row of several days until tables stand below it, side by side."""
        days = {day for cell in cells if (day := day_of_cell(cell))}
        self._apart = cells if len(days) > 1 else ()

    def _take_heading(self, cells: Sequence[Cell], state: State) -> None:
        if len(cells) == 1 and self.headers.is_sure_lift(cells[0]):
            state.lift = cells[0].text
        if (start := start_in(cells)) is not None:
            state.when = When(week=state.when.week or 1, start=start)
            return
        for at, cell in enumerate(cells):
            match = _LABEL_AND_NAME.match(cell.text)
            if match and role_of(match[1]) == "lifter":
                state.lifter = re.split(r"\s+-\s|\s*[,;(]", match[2])[0].strip()
            elif role_of(cell.text) == "lifter" and at + 1 < len(cells):
                if not self.headers.is_lift(cells[at + 1]):
                    state.lifter = cells[at + 1].text
            elif not tells_sets(cell) and (when := read_when(cell)):
                state.when = when.after(state.when)

    def _skip(self, cell: Cell, why: str, others: Sequence[Cell] = ()) -> None:
        self._leavings.take([cell, *others])
        self.skipped.append(Skipped(self._grid.place(cell), cell.text[:60], why))


def _line_parts(cell: Cell, behind: Sequence[Cell]) -> list[list[str]]:
    """The ways to read a line: several lifts in it, one lift with the cells that a comma cut off
    (all of them, or those without words), or the cell alone."""
    if not isinstance(cell.value, str) or len(cell.text) > _LONGEST_LINE:
        return []
    rest = itertools.takewhile(lambda other: not re.search("[a-z]{3}", other.text, re.I), behind)
    every = ", ".join([cell.text, *(other.text for other in behind)])
    few = ", ".join([cell.text, *(other.text for other in rest)])
    pieces = _NEXT_LIFT.split(cell.text)
    told = [piece for piece in pieces if re.search(r"\d", piece) or _NOT_DONE.search(piece)]
    several = [told] if len(pieces) > 1 else []
    return [*several, [every], [few], [cell.text]]


def _values_below(cells: Sequence[Cell]) -> tuple[list[Cell], list[Cell]]:
    """The cells that tell sets of the lift named above ("24/05 | 80 | 8 | 8", "Set 1: 100x5")
    and the notes behind them; no sets where the row holds something else before."""
    values = [cell for cell in cells if day_of_cell(cell) is None]
    values = [cell.saying(_SET_LABEL.sub("", cell.text)) for cell in values]
    sets = list(itertools.takewhile(is_value, values))
    notes = values[len(sets) :]
    words = all(isinstance(cell.value, str) and not is_value(cell) for cell in notes)
    return (sets, notes) if words else ([], [])


def _numbered_set(cells: Sequence[Cell]) -> OneSet | None:
    """A row of a set's number, its load and its repetitions ("1 | 40 | 8")."""
    plain = all(re.fullmatch(r"\d+(?:[.,]\d+)?", cell.text) for cell in cells)
    if len(cells) != _NUMBERED_SET or not plain:
        return None
    load, reps = read_load(cells[1].text), cells[2].text
    return OneSet((int(reps),), (load,)) if load is not None and reps.isdecimal() else None
