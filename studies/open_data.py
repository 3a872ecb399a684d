"""The data files of `studies/data`, read: real measurements (attribution in its README) and our own
reference posterior."""

import csv
import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any


@dataclass(frozen=True, slots=True)
class BenchSubject:
    """One man of Mitter et al. 2022: kg, and repetitions to failure by % of 1RM (90, 80, 70)."""

    subject: int
    body_mass_kg: float
    one_rm_kg: float
    load_kg: Mapping[int, float]
    reps_own_day: Mapping[int, int]
    reps_one_visit: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class LegTest:
    """One 1RM of one leg (Hammarström et al. 2020), kg; None where it was not tested."""

    participant: str
    sex: str
    included: bool
    time: str
    sets: str
    leg: str
    exercise: str
    load_kg: float | None


@cache
def bench_reps_to_failure() -> tuple[BenchSubject, ...]:
    """Mitter et al. 2022 (raw data, Apache-2.0): 14 trained men, bench press.

    In the file `sv` is a single visit for all sets, `mv` multiple visits, one set a day.
    """
    return tuple(
        BenchSubject(
            subject=int(row["subject"]),
            body_mass_kg=float(row["body_mass_kg"]),
            one_rm_kg=float(row["one_rm_kg"]),
            load_kg={share: float(row[f"load{share}_kg"]) for share in (90, 80, 70)},
            reps_own_day={share: int(row[f"mv{share}"]) for share in (90, 80, 70)},
            reps_one_visit={share: int(row[f"sv{share}"]) for share in (90, 80, 70)},
        )
        for row in _rows("bench_reps_to_failure.csv")
    )


@cache
def one_rm_over_training() -> tuple[LegTest, ...]:
    """Hammarström et al. 2020 (raw data, CC0): single-leg 1RM at up to six times."""
    return tuple(
        LegTest(
            participant=row["participant"],
            sex=row["sex"],
            included=row["include"] == "incl",
            time=row["time"],
            sets=row["sets"],
            leg=row["leg"],
            exercise=row["exercise"],
            load_kg=None if row["load"] in ("", "NA") else float(row["load"]),
        )
        for row in _rows("one_rm_over_training.csv")
    )


@cache
def posterior_reference() -> Mapping[str, Any]:
    """Ten invented logs, the exact posterior after 1, 3, 6, 12 exposures; our own computation."""
    reference: Mapping[str, Any] = json.loads(_text("posterior_reference.json"))
    return reference


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(_text(name).splitlines()))


def _text(name: str) -> str:
    return (resources.files("studies") / "data" / name).read_text(encoding="utf-8")
