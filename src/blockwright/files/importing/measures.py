"""A scale's or a watch's export to check-ins: one column a measure, one row a day or weigh-in.

Which column is what comes from the coach, or from the headings (`measure_columns`). Days are read
as in any log, over the whole file; what cannot be read is left out and listed with its place."""

import re
from collections import Counter
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from statistics import median

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import GIRTHS, HOOPER_ITEMS, CheckIn, Measure, Moment
from blockwright.engine.units import Unit
from blockwright.files.checkins_file import INCHES, bodyweight_kg, cm_in, on_its_scale
from blockwright.files.csv_values import Assumptions, CellError, number_and_unit
from .calendar import Calendar, Hints, Question, order_in, question_of, questions_of_days, years_in
from .days import When
from .draft import Draft, Wishes
from .entries import Skipped
from .grids import Cell, Grid, read_grids
from .measure_columns import DATE, Taken, header_of, read_date
from .workbooks import WORKBOOKS

_NOTHING = re.compile(r"|-+|n/?a|null|none|nan", re.I)
_CLOCK = re.compile(r"(\d{1,2}):([0-5]\d)(?::[0-5]\d(?:\.\d+)?)?")
_SPOKEN = re.compile(
    r"(?=\d)(?:(?P<h>\d{1,2}(?:[.,]\d+)?) ?(?:h|hrs?|hours?|std)\.?)?,? ?"
    r"(?:(?P<m>\d{1,4}) ?(?:m|mins?|minutes?)\.?)?(?: ?\d{1,2} ?s(?:ec)?\.?)?",
    re.I,
)
_LONG = re.compile(r"(?P<number>[\d.,]+) ?(?P<unit>cm|in|inch|inches|\"|)\.?", re.I)
_THOUSANDS = re.compile(r"\d{1,3}(?:[,.' ]\d{3})+")
_ONE_A_DAY: frozenset[Measure] = frozenset({"sleep_h", "steps", *HOOPER_ITEMS, *GIRTHS})
_WORN: frozenset[Measure] = frozenset({"sleep_h", "steps"})
_HEAVY = 130  # Weigh-ins whose middle is above this are likelier pounds than kilograms (judgement)
_LONGEST_NIGHT_H = 24


@dataclass(frozen=True, slots=True)
class CheckInsDraft:
    """Everything a file of measures came to; nothing is stored by it."""

    checkins: tuple[CheckIn, ...]
    columns: tuple[Taken, ...]
    headings: tuple[str, ...]  # Every heading that stands over one column
    skipped: tuple[Skipped, ...]
    questions: tuple[Question, ...]


def checkins_beside(paths: Sequence[Path], sets: Draft, wishes: Wishes) -> CheckInsDraft | None:
    """The check-ins of the tabs of workbooks that told no set; None where there are none."""
    of_sets = {entry.place.rpartition(", ")[0] for entry in sets.entries}
    books = [path for path in paths if path.suffix.lower() in WORKBOOKS]
    try:
        return checkins_of(books, {}, wishes, of_sets) if books else None
    except BadInput:
        return None


def checkins_of(
    paths: Sequence[Path],
    columns: Mapping[str, str],
    wishes: Wishes,
    but: Container[str] = frozenset(),
) -> CheckInsDraft:
    """The check-ins of exports in order of day; `columns` names headings by `date` or measure,
    empty for a guess; sheets in `but` are left alone. BadInput for a heading that is not there, or
    when nothing can be read."""
    drafting = _Drafting(wishes)
    for path in paths:
        grids = [grid for grid in read_grids(path) if grid.rows and grid.name not in but]
        drafting.read(grids, path.name, columns)
    if not drafting.checkins:
        first = next(iter(drafting.skipped), None)
        says = "holds no check-in that can be read"
        if first is not None:
            says += f"; the first: {first.place}: {first.why}"
        files = ", ".join(path.name for path in paths)
        mend = "look at which column was taken for what, and name another"
        raise BadInput(Problem(file=files, says=says, mend=mend))
    return CheckInsDraft(
        tuple(sorted(drafting.checkins, key=lambda one: one.moment.day)),
        tuple(dict.fromkeys(drafting.columns)),
        tuple(text for text, count in drafting.headings.items() if count == 1),
        tuple(drafting.skipped),
        tuple({question.id: question for question in drafting.questions}.values()),
    )


class _Drafting:
    """One pass over the sheets; a sheet of a workbook without the columns is left alone."""

    def __init__(self, wishes: Wishes) -> None:
        self._wishes = wishes
        self.checkins: list[CheckIn] = []
        self.columns: list[Taken] = []
        self.headings: Counter[str] = Counter()
        self.skipped: list[Skipped] = []
        self.questions: list[Question] = []
        self._told: dict[tuple[date, Measure, float | None], str] = {}

    def read(self, grids: Sequence[Grid], file: str, columns: Mapping[str, str]) -> None:
        """Every sheet of a file that has the columns; BadInput where none has."""
        refused: BadInput | None = None
        found = 0
        for grid in grids:
            try:
                at, taken = header_of(grid, columns)
            except BadInput as error:
                refused = refused or error
                continue
            found += 1
            self._sheet(grid, at, taken)
        if not found:
            raise refused or BadInput(
                Problem(file=file, says="is empty", mend="give the export as it was saved")
            )

    def _sheet(self, grid: Grid, header: int, taken: Sequence[Taken]) -> None:
        rows = [{cell.column: cell for cell in row} for row in grid.rows[header + 1 :]]
        dates = next(one for one in taken if one.key == DATE)
        measures = [self._with_unit(one, rows) for one in taken if one.key != DATE]
        self.columns += [dates, *measures]
        self.headings.update(cell.text for cell in grid.rows[header])
        told = [row for row in rows if any(_is_told(row.get(one.at)) for one in measures)]
        days = [read_date(row.get(dates.at)) for row in told]
        hints = Hints(
            years_in([grid.file, grid.tab]), self._wishes.year, self._wishes.fallback_year,
            any(one.unit == "lb" for one in measures),
        )  # fmt: skip
        whens = [When(day) for day in days if day is not None]
        calendar = Calendar(whens, hints, order_in(self._wishes.answers), None)
        self.questions += questions_of_days(calendar, self._wishes.answers)
        for row, written_day in zip(told, days, strict=True):
            day = calendar.date_of(When(written_day)) if written_day else None
            if day is None:
                written = row.get(dates.at)
                why = "is no date" if written else "the row has no date"
                self._leave_out(grid, written or next(iter(row.values())), why)
                continue
            for one in measures:
                if (cell := row.get(one.at)) is None or not _is_told(cell):
                    continue
                try:
                    self.checkins.append(self._checkin(grid, cell, one, day))
                except CellError as error:
                    self._leave_out(grid, cell, error.says)

    def _checkin(self, grid: Grid, cell: Cell, one: Taken, day: date) -> CheckIn:
        """The check-in of a cell; CellError where there is none to be had."""
        measure = one.measure
        value, unit = _value_of(cell.text, measure, one.unit)
        if not value and measure in _WORN:
            raise CellError("a watch writes 0 when it was not worn", "")
        same = None if measure in _ONE_A_DAY else value
        before = self._told.setdefault((day, measure, same), grid.place(cell))
        if before != grid.place(cell):
            raise CellError(f"the day has one already, in {before}", "")
        return CheckIn(
            moment=Moment(day=day), measure=measure, about=None, value=value, entered_unit=unit,
            row=cell.row + 1,
        )  # fmt: skip

    def _leave_out(self, grid: Grid, cell: Cell, why: str) -> None:
        self.skipped.append(Skipped(grid.place(cell), cell.text[:60], why))

    def _with_unit(self, one: Taken, rows: Sequence[Mapping[int, Cell]]) -> Taken:
        """The column with the unit of its bare numbers: its heading's, else the coach's word,
        else what the numbers can only be."""
        if one.unit or one.measure not in ("bodyweight", "sleep_h"):
            return one
        numbers = list(_bare_numbers(row[one.at].text for row in rows if one.at in row))
        if one.measure == "sleep_h":
            in_minutes = bool(numbers) and min(filter(None, numbers), default=0) > _LONGEST_NIGHT_H
            return replace(one, unit="min" if in_minutes else "h")
        unit = self._wishes.unit or self._wishes.usual_unit
        if unit is None and numbers:
            likely = "lb" if median(numbers) > _HEAVY else "kg"
            asks = "Is the bodyweight in kilograms or pounds?"
            question = question_of("unit", asks, ("kg", "lb"), likely, self._wishes.answers)
            self.questions.append(question)
            return replace(one, unit=question.chosen)
        return replace(one, unit=unit or "kg")


def _is_told(cell: Cell | None) -> bool:
    return cell is not None and not _NOTHING.fullmatch(cell.text)


def _bare_numbers(texts: Iterator[str]) -> Iterator[float]:
    for text in texts:
        try:
            number, unit = number_and_unit(text, "", Assumptions(""))
        except CellError:
            continue
        if unit is None:
            yield number


def _value_of(text: str, measure: Measure, unit: str) -> tuple[float, str]:
    """The value on the measure's scale (bodyweight in kg, a girth in cm), and the unit as it was
    written."""
    if measure == "sleep_h":
        return on_its_scale(measure, _hours(text, unit), text), ""
    if measure in GIRTHS:
        return _girth_cm(text, measure, unit)
    if measure == "steps" and _THOUSANDS.fullmatch(text):
        text = re.sub(r"\D", "", text)
    number, typed = number_and_unit(text, measure, Assumptions(""))
    if measure == "bodyweight":
        own: Unit = typed or ("lb" if unit == "lb" else "kg")
        return bodyweight_kg(text, number, own, None), own
    if typed:
        raise CellError(f"{measure} takes no such unit", "")
    return on_its_scale(measure, number, text), ""


def _girth_cm(text: str, girth: Measure, unit: str) -> tuple[float, str]:
    match = _LONG.fullmatch(text)
    if match is None:
        raise CellError(f'"{text[:40]}" is no girth', "")
    own = match["unit"].lower() or unit or "cm"
    number, _ = number_and_unit(match["number"], girth, Assumptions(""))
    return on_its_scale(girth, number * cm_in(own), text), "in" if own in INCHES else "cm"


def _hours(text: str, unit: str) -> float:
    """Hours asleep, to the hundredth: "7:30", "7 h 30 min", "450 min", or a number of `unit`."""
    if match := _CLOCK.fullmatch(text):
        hours = int(match[1]) + int(match[2]) / 60
    elif (match := _SPOKEN.fullmatch(text)) and (match["h"] or match["m"]):
        hours = float((match["h"] or "0").replace(",", ".")) + int(match["m"] or 0) / 60
    else:
        number, typed = number_and_unit(text, "sleep_h", Assumptions(""))
        if typed:
            raise CellError("hours asleep take no such unit", "")
        hours = number / 60 if unit == "min" else number
    return round(hours, 2)
