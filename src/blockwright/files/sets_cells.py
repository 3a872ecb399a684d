"""The cells of a sets file to values: what a set's number, load, repetitions and method may be;
names of lifts to the catalogue's, unknown ones kept, with near misses to suggest."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from blockwright.engine.errors import Problem, told
from blockwright.engine.gym import MOST_LOAD_KG
from blockwright.engine.training import Catalogue, Lift, Method, effective_load_kg
from blockwright.engine.units import Unit, kg_from, number_text
from .csv_values import Assumptions, CellError, number_and_unit, number_of, parts_of, whole_of
from .near import did_you_mean

# Beyond these a cell is a typing error whatever the lift (judgement); what is merely unusual is
# left to `check`.
MOST_REPS = 1000
MOST_SETS = 200
MOST_REST_S = 6 * 3600
Rir = tuple[float | None, float | None]

_METHODS: Mapping[str, Method] = {
    "": "straight", "straight": "straight", "normal": "straight", "straight set": "straight",
    "rest-pause": "rest-pause", "rest pause": "rest-pause", "restpause": "rest-pause",
    "drop": "drop", "drop set": "drop", "dropset": "drop", "drop-set": "drop",
    "superset": "superset", "super set": "superset", "super-set": "superset",
    "warmup": "warmup", "warm-up": "warmup", "warm up": "warmup",
    "try": "try",
}  # fmt: skip
_METHOD_WORDS = ("straight", "rest-pause", "drop", "superset", "warmup", "try")
_MANY_PARTS: tuple[Method, ...] = ("rest-pause", "drop")
_BODYWEIGHT_WORDS = {"", "bw", "bodyweight"}


class Load(NamedTuple):
    """A load cell with its unit cell. `unit` is None where neither cell names one."""

    kg: tuple[float, ...]
    unit: Unit | None
    entered: str


def set_number_of(text: str, assume: Assumptions) -> int:
    """The set's number; 0 where the cell is empty and the order of the file must tell."""
    if not text.strip():
        says = "is empty; sets are numbered in the order of the file"
        assume.make("set", "empty", says, "read so")
        return 0
    return whole_of(text, "set", assume, 1, MOST_SETS)


def reps_of(text: str, assume: Assumptions) -> tuple[int, ...]:
    """Repetitions of each part; 0 is a failed attempt."""
    if not text.strip():
        raise CellError("the repetitions are missing", "write them; 0 is a failed attempt")
    return tuple(whole_of(part, "reps", assume, 0, MOST_REPS) for part in parts_of(text))


def load_of(text: str, unit: Unit | None, assume: Assumptions) -> Load:
    """The loads of a cell in kilograms; an empty cell is 0, to be judged with the lift."""
    entered = text.strip()
    if entered.lower() in _BODYWEIGHT_WORDS:
        return Load((0.0,), unit, entered or "0")
    loads: list[float] = []
    for part in parts_of(entered):
        number, typed_unit = number_and_unit(part, "load", assume)
        if typed_unit and unit and typed_unit != unit:
            raise CellError(f'"{entered}" but the unit is {unit}', "make the two agree")
        unit = unit or typed_unit
        if number < 0:
            raise CellError(f"{part} is below zero", "write loads and assistance without a minus")
        loads.append(kg_from(number, unit or "kg"))
    if max(loads) > MOST_LOAD_KG:
        says = f"{entered} is above {number_text(MOST_LOAD_KG)} kg, more than anyone lifts"
        raise CellError(says, "check the number and the unit")
    return Load(tuple(loads), unit, entered)


def check_load(
    load: Load, lift: Lift | None, bodyweight_kg: float | None, assume: Assumptions
) -> None:
    """CellError when a load of nothing, or an assistance, cannot be for this lift."""
    if load.kg[0] == 0:
        if lift is None:
            says = "is 0 for a lift we do not know: kept, but never counted for strength"
            assume.make("load", "nothing", says, "describe the lift in the lifter file")
        elif not lift.moves_body:
            mend = "write it; only lifts that move bodyweight may have none"
            raise CellError("the load is 0 or missing", mend)
    if lift is None or lift.load_kind != "assisted" or bodyweight_kg is None:
        return
    moved = effective_load_kg(lift, load.kg[0], bodyweight_kg)
    if moved is not None and moved <= 0:
        most = number_text(lift.bodyweight_share * bodyweight_kg, 1)
        says = f"an assistance of {load.entered} leaves nothing to lift"
        raise CellError(says, f"it must be below {most} kg for this lifter")


def part_loads(load: Load, parts: int, method: Method, assume: Assumptions) -> tuple[float, ...]:
    """One load a part, kg; a single load stands for every part."""
    if parts > 1 and method not in _MANY_PARTS:
        raise CellError(f"{parts} parts in a {method} set", "set the method to rest-pause or drop")
    if len(load.kg) == parts:
        return load.kg
    if len(load.kg) > 1:
        says = f"{len(load.kg)} loads for {parts} part{'s' * (parts != 1)} of repetitions"
        raise CellError(says, "write one load for each part, or one for all")
    if method == "drop":
        says = "a drop set with one load counts every part at that load"
        assume.make("load", "drop", says, "write a load for each part: 60+45+30")
    return load.kg * parts


def method_of(text: str) -> Method:
    """The method a cell names; empty is straight."""
    word = " ".join(text.lower().replace("_", " ").split())
    method = _METHODS.get(word)
    if method is None:
        usual = "write straight, rest-pause, drop, superset or warmup"
        mend = did_you_mean(word, _METHOD_WORDS, usual)
        raise CellError(f'"{text[:40]}" is not a method', mend)
    return method


def rir_for(rir: Rir, method: Method) -> Rir:
    """A reserve as it was read; CellError where nobody can tell so much."""
    most, said = 30 if method == "try" else 10, rir[1] or 0.0
    if said > most:
        says = f"{number_text(said)} repetitions in reserve is above {most}"
        raise CellError(says, "write what was felt, or leave it empty")
    return rir


def optional_number(
    text: str, column: str, assume: Assumptions, high: float, unit: str
) -> float | None:
    """A number from 0 to `high`, None for an empty cell."""
    if not text.strip():
        return None
    return number_of(text, column, assume, 0, high, unit)


MOST_UNKNOWN = 1000
_MOST_SUGGESTIONS = 20
"""Near misses are looked up for so many unknown lifts of a file; a search each is slow."""


@dataclass(frozen=True, slots=True)
class NamedLift:
    name: str  # Canonical name where known, else as typed at its first row
    lift: Lift | None


class LiftNames:
    """Resolves what people type; remembers the unknown names and where each began."""

    def __init__(self, catalogue: Catalogue, assume: Assumptions) -> None:
        self._catalogue = catalogue
        self._assume = assume
        self._unknown: dict[str, tuple[str, int]] = {}

    @cached_property
    def _loose(self) -> dict[str, str]:
        """Made when a name is not known as it stands: a set from the phone needs none of it."""
        return {_loosened(alias): name for alias, name in self._catalogue.by_alias.items()}

    def named(self, text: str) -> NamedLift:
        """The lift a cell names; CellError when it is empty."""
        typed = " ".join(text.split())
        if not typed:
            raise CellError("the lift is missing", "name it")
        lift = self._catalogue.find(typed)
        if lift is None and (name := self._loose.get(_loosened(typed))) is not None:
            lift = self._catalogue.lifts[name]
        if lift is not None:
            return NamedLift(lift.name, lift)
        if len(self._unknown) >= MOST_UNKNOWN:
            says = f"more than {MOST_UNKNOWN} lifts of this file are known to nobody"
            raise CellError(says, "check that this column names lifts")
        first, _ = self._unknown.setdefault(typed.lower(), (typed, self._assume.row))
        return NamedLift(first, None)

    def warnings(self) -> list[Problem]:
        """One warning for each unknown lift, at its first row."""
        plain = "describe it in a [[lift]] of the lifter file, or see `blockwright lifts`"
        found = [
            Problem(
                file=self._assume.file,
                row=row,
                column="lift",
                says=f'no lift is called "{typed}"; it is read with wide guesses about it',
                mend=did_you_mean(typed, self._catalogue.by_alias, plain, 3)
                if place < _MOST_SUGGESTIONS
                else plain,
            )
            for place, (typed, row) in enumerate(self._unknown.values())
        ]
        return list(told(found))


def _loosened(name: str) -> str:
    """Hyphens, underscores and doubled spaces do not make another lift."""
    return " ".join(re.sub(r"[-_]", " ", name.lower()).split())
