"""The check-ins file: sleep, soreness, pain, effort, bodyweight, girths, to `CheckIn` facts."""

from collections import defaultdict
from collections.abc import Callable, Mapping
from datetime import time
from functools import cache
from pathlib import Path
from typing import NamedTuple, TypeVar, get_args

from blockwright.engine.errors import MOST_TOLD, Problem
from blockwright.engine.pain import PLACES, place_in
from blockwright.engine.training import GIRTHS, MUSCLES, Catalogue, CheckIn, Measure, Moment
from blockwright.engine.units import CM_PER_IN, Unit, kg_from
from .csv_dates import moment_of
from .csv_text import CsvFile, read_csv
from .csv_values import (
    Assumptions,
    CellError,
    LifterNames,
    number_and_unit,
    rows_again,
    rows_of,
    unit_of,
    within,
)
from .lifter_file import wrong_bodyweight
from .near import did_you_mean
from .reading import Reading

Value = TypeVar("Value")

COLUMNS = ("when", "measure", "about", "value", "unit", "note", "lifter")
REQUIRED = ("when", "measure", "value")

_MEASURES: tuple[Measure, ...] = get_args(Measure)


class _Scale(NamedTuple):
    low: float
    high: float
    unit: str  # The word that may stand in the unit column, beside nothing


# Hooper & Mackinnon 1995 items run 1-7, Foster's session RPE 0-10 (design.md, part 4).
_SCALES: Mapping[Measure, _Scale] = {
    "sleep": _Scale(1, 7, ""),
    "fatigue": _Scale(1, 7, ""),
    "stress": _Scale(1, 7, ""),
    "soreness": _Scale(1, 7, ""),
    "sore": _Scale(0, 10, ""),
    "pain": _Scale(0, 10, ""),
    "session_rpe": _Scale(0, 10, ""),
    "session_minutes": _Scale(1, 600, "min"),
    # More than anyone sleeps or walks in a day is a slip of typing (judgement).
    "sleep_h": _Scale(0, 24, "h"),
    "steps": _Scale(0, 200_000, "steps"),
    "machines": _Scale(1, 2, ""),
    # Thinner or thicker is a slip of typing, or another unit (judgement).
    **dict.fromkeys(GIRTHS, _Scale(10, 250, "cm")),
}
WORST = 7  # Of sleep, fatigue, stress and soreness: a higher answer is worse
INCHES = {"in", "inch", "inches", '"'}
_NO_UNIT_WORDS = {"", "1-7", "0-10", "/7", "/10", "min", "minutes", "h", "hours", "steps"}


def read_checkins(
    path: Path, known_as: str | None = None, catalogue: Catalogue | None = None
) -> Reading[tuple[CheckIn, ...]]:
    """The check-ins of a CSV file in order of time; a day's plain dates keep the file's order.
    `known_as` is the lifter's name, as it should be spelt. With a `catalogue`, pain about what is
    neither a joint, a muscle nor one of its lifts is kept with a warning.

    Raises BadInput with every problem, each with row (the header is row 1), column and mend."""
    read = checkins_of_table(read_csv(path, COLUMNS, REQUIRED), known_as)
    if catalogue is None:
        return read
    return Reading(read.value, (*read.warnings, *_unplaced(path.name, read.value, catalogue)))


def _unplaced(file: str, checkins: tuple[CheckIn, ...], catalogue: Catalogue) -> list[Problem]:
    """A warning for each wording that holds no lift back, because nobody knows what it names."""
    first_row: dict[str, int] = {}
    for said in sorted(checkins, key=lambda each: each.row):
        about = said.about or ""
        known = said.measure != "pain" or about in first_row or len(first_row) >= MOST_TOLD
        if not (known or catalogue.find(about) or place_in(about)):
            first_row[about] = said.row
    plain = "name the joint or the lift, such as left knee"
    return [
        Problem(
            file=file,
            row=row,
            column="about",
            says=f'"{about[:40]}" names no joint, muscle or lift we know, so the report cannot '
            "hold back the lifts it concerns",
            mend=did_you_mean(about, [*PLACES, *catalogue.by_alias], plain, 2),
        )
        for about, row in first_row.items()
    ]


def checkins_of_table(table: CsvFile, known_as: str | None = None) -> Reading[tuple[CheckIn, ...]]:
    """`read_checkins` of a table that is already in memory."""
    reader = _CheckInsReader(table, known_as)
    said = sorted(reader.read(), key=lambda one: (one.moment.day, _clock(one.moment)))
    return Reading(tuple(said), (*table.warnings, *reader.warnings()))


def _clock(moment: Moment) -> time:
    return time() if moment.at is None else moment.at.time()


class _CheckInsReader:
    def __init__(self, csv_file: CsvFile, known_as: str | None) -> None:
        self._csv = csv_file
        self._assume = Assumptions(csv_file.file)
        self._when = cache(lambda text: moment_of(text, self._assume))
        self._people = LifterNames(csv_file, "who is this about?", known_as)
        self._problems: list[Problem] = []
        self._repeats: list[tuple[int, int]] = []

    def read(self) -> list[CheckIn]:
        found: list[CheckIn] = []
        row_of_content: dict[tuple[str, ...], int] = {}
        for row, cells in rows_of(self._csv, self._assume, self._problems):
            by_column = defaultdict(str, zip(self._csv.columns, cells, strict=False))
            checkin = self._checkin(by_column)
            if checkin is None:
                continue
            if (first := row_of_content.setdefault(tuple(cells), row)) != row:
                self._repeats.append((row, first))
                continue
            found.append(checkin)
        return found

    def _checkin(self, cells: Mapping[str, str]) -> CheckIn | None:
        """The check-in of a row, or None with what is wrong added to the problems."""
        before = len(self._problems)
        moment = self._cell("when", lambda: self._when(cells["when"]))
        lifter = self._cell("lifter", lambda: self._people.named(cells["lifter"], self._assume.row))
        measure = self._cell("measure", lambda: _measure_of(cells["measure"]))
        about = value = None
        if measure is not None:
            about = self._cell("about", lambda: _about_of(measure, cells["about"]))
            value = self._cell(
                "value", lambda: self._value_of(measure, cells["value"], cells["unit"])
            )
        if len(self._problems) > before or moment is None or measure is None or value is None:
            return None
        return CheckIn(
            moment=moment,
            measure=measure,
            about=about,
            value=value,
            entered_unit=cells["unit"].strip(),
            note=" ".join(cells["note"].split()),
            lifter=lifter,
            row=self._assume.row,
        )

    def _cell(self, column: str, read: Callable[[], Value]) -> Value | None:
        try:
            return read()
        except CellError as error:
            self._problems.append(error.at(self._csv.file, self._assume.row, column))
            return None

    def _value_of(self, measure: Measure, text: str, unit_text: str) -> float:
        """The value on the measure's own scale; bodyweight in kg."""
        if not text.strip():
            raise CellError("the value is missing", "write it, or delete the row")
        number, typed_unit = number_and_unit(text, "value", self._assume)
        if measure == "bodyweight":
            return bodyweight_kg(text, number, unit_of(unit_text), typed_unit)
        if measure in GIRTHS and not typed_unit:
            return on_its_scale(measure, number * cm_in(unit_text), text)
        if typed_unit or unit_text.strip().lower() not in _NO_UNIT_WORDS:
            raise CellError(f"{measure} takes no such unit", "leave the unit empty")
        return on_its_scale(measure, number, text)

    def warnings(self) -> list[Problem]:
        says = "repeats row {first} exactly and is left out"
        repeats = rows_again(self._csv.file, None, self._repeats, says, "delete it")
        return [*self._assume.warnings, *self._people.warnings(), *repeats]


def on_its_scale(measure: Measure, number: float, text: str) -> float:
    """The number where the measure's scale has it, CellError where not; not for bodyweight."""
    scale = _SCALES[measure]
    try:
        return within(number, text, scale.low, scale.high, scale.unit)
    except CellError as error:
        if scale.high != WORST:
            raise
        raise CellError(error.says, f"{error.mend}: 1 is best, {WORST} is worst") from error


def scale_text(measure: Measure) -> str:
    """What stands behind a value as stored: "of 7", "min", "kg"; "" for a count of machines."""
    scale = _SCALES.get(measure, _Scale(0, 0, "kg"))
    return scale.unit or (f"of {scale.high:g}" if scale.high > 2 else "")


def bodyweight_kg(text: str, number: float, unit: Unit | None, typed_unit: Unit | None) -> float:
    """A plausible bodyweight in kg, from its cell and the unit's cell."""
    if unit and typed_unit and unit != typed_unit:
        raise CellError(f'"{text}" but the unit is {unit}', "make the two agree")
    unit = unit or typed_unit
    if unit is None:
        raise CellError(f"{text} of what? the unit is missing", "write kg or lb as the unit")
    if wrong := wrong_bodyweight(number, unit, text):
        raise CellError(wrong, "check the number and the unit")
    return kg_from(number, unit)


def cm_in(unit: str) -> float:
    """How many centimetres the unit of a girth has; centimetres where none is written."""
    word = unit.strip().lower().rstrip(".")
    if word in {"", "cm", "centimetres", "centimeters"}:
        return 1.0
    if word in INCHES:
        return CM_PER_IN
    raise CellError(f'"{unit[:20]}" is no unit of a girth', "write cm or in")


def _measure_of(text: str) -> Measure:
    word = "_".join(text.lower().replace("-", " ").split())
    for measure in _MEASURES:
        if word == measure:
            return measure
    usual = "write one of: " + ", ".join(_MEASURES)
    if not word:
        raise CellError("the measure is missing", usual)
    mend = did_you_mean(word, _MEASURES, usual, 2)
    raise CellError(f'"{text[:40]}" is not a measure', mend)


def _about_of(measure: Measure, text: str) -> str | None:
    """A muscle for `sore`, a joint or lift for `pain`, a lift for `machines`; nothing is asked of
    other measures."""
    said = " ".join(text.split())
    if measure == "sore":
        muscle = said.lower().replace(" ", "_").replace("-", "_")
        if muscle not in MUSCLES:
            says = f'"{said[:40]}" is not a muscle we know' if said else "which muscle is sore?"
            everything = "write one of: " + ", ".join(MUSCLES)
            mend = did_you_mean(muscle, MUSCLES, everything, 2) if said else everything
            raise CellError(says, mend)
        return muscle
    if measure == "pain" and not said:
        raise CellError("where is the pain?", "name the joint or the lift, such as left knee")
    if measure == "machines" and not said:
        raise CellError("which lift is it?", "name the lift, such as chest press")
    return said or None
