"""The sets file: any spreadsheet's log of sets to `SetDone` facts, every problem at once."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import cache
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import Catalogue, Lifter, Moment, SetDone
from blockwright.engine.units import Unit
from . import csv_values, sets_cells
from .csv_dates import moment_of
from .csv_text import CsvFile, read_csv
from .csv_values import LifterNames
from .limits import MOST_SETS_OF_A_LIFT
from .policy_files import default_policy
from .reading import Reading, collection_paused

LONGEST_SESSION = timedelta(hours=12)  # Whatever the pauses, a session is over by then (judgement)


def with_their_evening(sets: Sequence[SetDone]) -> list[SetDone]:
    """Sets done after midnight get the day of the evening their session began, as on the site.

    By the clock alone a session's second half would be another session: fresh again, and on a day
    that has none planned. What a set gets depends on earlier sets only. Others stay as given. A
    longer pause than the shipped policy's `strength.new_session_hours` begins another session; a
    log is read before anybody's own policy is."""
    longest_pause = timedelta(hours=default_policy().number("strength.new_session_hours"))
    timed = [(done.lifter or "", done.moment.at, at) for at, done in enumerate(sets)
             if done.moment.at is not None]  # fmt: skip
    given = list(sets)
    for _, of_one in groupby(sorted(timed), key=lambda one: one[0]):
        began = last = datetime.min
        for _, at, place in of_one:
            if at - last > longest_pause or at - began > LONGEST_SESSION:
                began = at
            last = at
            if began.date() != at.date():
                given[place] = replace(sets[place], moment=Moment(day=began.date(), at=at))
    return given


def in_time_order(sets: Sequence[SetDone]) -> tuple[SetDone, ...]:
    """Sets by day and time; plain dates keep the order given, before the day's timed rows.

    Within one lift on one plain date the set number decides, as long as it names each set once (two
    sessions on a day count from 1 twice, and then the order of the file decides)."""
    start_of = {day: datetime.combine(day, time()) for day in {done.moment.day for done in sets}}
    by_time = sorted(
        sets, key=lambda done: (done.moment.day, done.moment.at or start_of[done.moment.day])
    )
    places: dict[tuple[date, str, str | None], list[int]] = {}
    for place, done in enumerate(by_time):
        if done.moment.at is None:
            places.setdefault((done.moment.day, done.lift, done.lifter), []).append(place)
    ordered = list(by_time)
    for group in places.values():
        numbers = [by_time[place].set_number for place in group]
        by_number = sorted(group, key=lambda place: by_time[place].set_number)
        if by_number != group and len(set(numbers)) == len(numbers):
            for place, source in zip(group, by_number, strict=True):
                ordered[place] = by_time[source]
    return tuple(ordered)


COLUMNS = (
    "when", "lift", "set", "load", "unit", "reps", "rir", "rest_s", "method", "full_range",
    "pain", "note", "confirmed", "lifter",
)  # fmt: skip
REQUIRED = ("when", "lift", "load", "unit", "reps")


def read_sets(
    path: Path, catalogue: Catalogue, lifter: Lifter | None = None
) -> Reading[tuple[SetDone, ...]]:
    """The sets of a CSV file in time order; a day's plain dates keep the order of the file.

    `catalogue` should hold the lifter's own lifts; `lifter` gives the bodyweight that an assisted
    lift's assistance must stay below. Raises BadInput with every problem, each with row (the header
    is row 1), column and mend."""
    with collection_paused():
        return sets_of_table(read_csv(path, COLUMNS, REQUIRED), catalogue, lifter)


def sets_of_table(
    table: CsvFile, catalogue: Catalogue, lifter: Lifter | None = None
) -> Reading[tuple[SetDone, ...]]:
    """`read_sets` of a table that is already in memory (a set typed on the phone is one row)."""
    reader = _SetsReader(table, catalogue, lifter)
    sets = with_their_evening(reader.read())
    _refuse_too_many_of_a_lift(table.file, sets)
    return Reading(in_time_order(sets), (*reader.warnings(), *_after_midnight(table.file, sets)))


def _refuse_too_many_of_a_lift(file: str, sets: Iterable[SetDone]) -> None:
    for (_, lift), number in Counter((done.lifter, done.lift) for done in sets).items():
        if number > MOST_SETS_OF_A_LIFT:
            says = f"{lift} has {number} sets, more than {MOST_SETS_OF_A_LIFT}"
            mend = "give its last years only; older sets say nothing of today"
            raise BadInput.of(says, mend, file=file, column="lift")


class _SetsReader:
    """One pass over a file. A good row takes the fast way; a bad one is gone over cell by cell."""

    def __init__(self, csv_file: CsvFile, catalogue: Catalogue, lifter: Lifter | None) -> None:
        self._csv = csv_file
        self._width = len(csv_file.columns)
        # A column that is absent reads the empty cell which `_squared` puts after the last one.
        self._at = {
            name: csv_file.columns.index(name) if name in csv_file.columns else self._width
            for name in COLUMNS
        }
        self._cells = itemgetter(*(self._at[name] for name in COLUMNS))
        self._extra = [
            (at, name) for at, name in enumerate(csv_file.columns) if name not in COLUMNS
        ]
        # In a log of several people nobody knows whose bodyweight the lifter file gives.
        self._people = LifterNames(csv_file, "whose set is this?", lifter.name if lifter else None)
        self._bodyweight_kg = lifter.bodyweight_kg if lifter and self._people.is_one else None
        self._default_unit: Unit = lifter.units if lifter else "kg"
        self._assume = csv_values.Assumptions(csv_file.file)
        self._lift_names = sets_cells.LiftNames(catalogue, self._assume)
        self._errors: list[Problem] = []
        self._repeats: list[tuple[int, int]] = []
        self._corrections: list[tuple[int, int]] = []
        self._sets_of: dict[tuple[str, str, str | None], int] = {}
        # A log repeats the same few hundred cells.
        self._columns = {name: cache(read) for name, read in self._readers().items()}
        self._load_of = cache(
            lambda text, unit: sets_cells.load_of(text, self._columns["unit"](unit), self._assume)
        )

    def _readers(self) -> dict[str, Callable[[str], Any]]:
        """The columns that are read alone, in the order of the contract."""
        assume, longest = self._assume, sets_cells.MOST_REST_S
        return {
            "when": lambda text: moment_of(text, assume),
            "lift": self._lift_names.named,
            "set": lambda text: sets_cells.set_number_of(text, assume),
            "unit": csv_values.unit_of,
            "reps": lambda text: sets_cells.reps_of(text, assume),
            "rir": lambda text: csv_values.rir_of(text, assume) or (None, None),
            "rest_s": lambda text: sets_cells.optional_number(text, "rest_s", assume, longest, "s"),
            "method": sets_cells.method_of,
            "full_range": lambda text: csv_values.yes_or_no(text, default=True),
            "pain": lambda text: sets_cells.optional_number(text, "pain", assume, 10, ""),
            "confirmed": lambda text: csv_values.yes_or_no(text, default=False),
            "lifter": lambda text: self._people.named(text, assume.row),
        }

    def read(self) -> list[SetDone]:
        sets: list[SetDone] = []
        row_of_content: dict[tuple[str, ...], int] = {}
        row_of_number: dict[tuple[str, str, str | None, int], int] = {}
        at_set, at_when = self._at["set"], self._at["when"]
        for row, cells in csv_values.rows_of(self._csv, self._assume, self._errors):
            squared = self._squared(cells)
            try:
                done = self._set_done(row, squared)
            except csv_values.CellError:
                self._errors += self._problems_of(row, squared)
                continue
            if squared[at_set].strip():
                # Without a set number two equal rows are two equal sets.
                if (first := row_of_content.setdefault(tuple(squared), row)) != row:
                    self._repeats.append((row, first))
                    continue
                number = (squared[at_when], done.lift, done.lifter, done.set_number)
                if (first := row_of_number.setdefault(number, row)) != row:
                    self._corrections.append((row, first))
            sets.append(done)
        return sets

    def _squared(self, cells: list[str]) -> list[str]:
        """Cells to the header's width, one empty cell for absent columns, then what is beyond."""
        width = self._width
        if len(cells) == width:
            return [*cells, ""]
        if len(cells) < width:
            return [*cells, *[""] * (width - len(cells) + 1)]
        return [*cells[:width], "", *cells[width:]]

    def _set_done(self, row: int, cells: list[str]) -> SetDone:
        """The set of one row; CellError (without a column) when any cell is wrong."""
        (when, lift, number, load_text, unit, reps_text, rir, rest_s, method_text, full_range,
         pain, note, confirmed, lifter_text) = self._cells(cells)  # fmt: skip
        read = self._columns
        named: sets_cells.NamedLift = read["lift"](lift)
        lifter = read["lifter"](lifter_text)
        load = self._load(load_text, unit, named)
        reps = read["reps"](reps_text)
        method = read["method"](method_text)
        rir_low, rir_high = sets_cells.rir_for(read["rir"](rir), method)
        who = (when, named.name, lifter)
        self._sets_of[who] = so_far = self._sets_of.get(who, 0) + 1
        return SetDone(
            moment=read["when"](when),
            lift=named.name,
            set_number=read["set"](number) or so_far,
            loads_kg=load.kg
            if len(load.kg) == len(reps) == 1
            else sets_cells.part_loads(load, len(reps), method, self._assume),
            entered_load=load.entered,
            entered_unit=load.unit or self._default_unit,
            reps=reps,
            rir_low=rir_low,
            rir_high=rir_high,
            rest_s=read["rest_s"](rest_s),
            method=method,
            full_range=read["full_range"](full_range),
            pain=read["pain"](pain),
            note=self._note(note, cells),
            confirmed=read["confirmed"](confirmed),
            lifter=lifter,
            row=row,
        )

    def _load(self, text: str, unit_text: str, named: sets_cells.NamedLift) -> sets_cells.Load:
        load = self._load_of(text, unit_text)
        if load.kg[0] == 0 or (named.lift and named.lift.load_kind == "assisted"):
            sets_cells.check_load(load, named.lift, self._bodyweight_kg, self._assume)
        if load.unit is None and any(load.kg):
            mend = "write kg or lb in the unit column"
            raise csv_values.CellError(f"{text} of what? the unit is missing", mend)
        return load

    def _note(self, note: str, cells: list[str]) -> str:
        note = note.strip()
        if not self._extra and len(cells) == self._width + 1:
            return note
        kept = [note, *(f"{name}: {cells[at].strip()}" for at, name in self._extra if cells[at])]
        kept += [cell.strip() for cell in cells[self._width + 1 :]]
        return "; ".join(filter(None, kept))

    def _problems_of(self, row: int, cells: list[str]) -> list[Problem]:
        """Everything wrong with a row that did not read, each with its column."""
        problems: list[Problem] = []

        def reads(column: str, read: Callable[[str], object]) -> bool:
            try:
                read(cells[self._at[column]])
            except csv_values.CellError as bad:
                problems.append(bad.at(self._csv.file, row, column))
                return False
            return True

        read = self._columns
        fine = {column: reads(column, memo) for column, memo in read.items()}
        method = read["method"](cells[self._at["method"]] if fine["method"] else "")
        if fine["rir"]:
            reads("rir", lambda text: sets_cells.rir_for(read["rir"](text), method))
        if not fine["unit"]:
            return problems
        nobody = sets_cells.NamedLift("", None)
        named = read["lift"](cells[self._at["lift"]]) if fine["lift"] else nobody
        unit = cells[self._at["unit"]]
        fine["load"] = reads("load", lambda text: self._load(text, unit, named))
        if fine["load"] and fine["reps"] and fine["method"]:
            load = self._load(cells[self._at["load"]], unit, named)
            reads("reps", lambda text: sets_cells.part_loads(
                load, len(read["reps"](text)), method, self._assume))  # fmt: skip
        return problems

    def warnings(self) -> tuple[Problem, ...]:
        """What was assumed, kept or left out, in the file's words."""
        return (
            *self._csv.warnings,
            *self._assume.warnings,
            *self._lift_names.warnings(),
            *self._people.warnings(),
            *self._of_rpe(),
            *csv_values.rows_again(self._csv.file, None, self._repeats,
                         "repeats row {first} exactly and is left out",
                         "delete it, or correct its set number"),
            *csv_values.rows_again(self._csv.file, "set", self._corrections,
                         "has the lift, time and number of row {first} but other values; "
                         "both are kept",
                         "delete one if it is a correction, else number the sets on"),
        )  # fmt: skip

    def _of_rpe(self) -> list[Problem]:
        if "rpe" not in self._csv.columns or "rir" in self._csv.columns:
            return []
        mend = "add a rir column; RIR is 10 minus RPE"
        says = "is kept as a note only"
        return [Problem(file=self._csv.file, row=1, column="rpe", says=says, mend=mend)]


def _after_midnight(file: str, sets: list[SetDone]) -> list[Problem]:
    """One warning for the sets that count with the evening before."""
    late = [done for done in sets if done.moment.at and done.moment.at.date() != done.moment.day]
    if not late:
        return []
    more = f" ({len(late)} such rows)" if len(late) > 1 else ""
    says = f"is after midnight and counts with the session of {late[0].moment.day}{more}"
    return [Problem(file=file, row=late[0].row, column="when", says=says, mend="read so")]
