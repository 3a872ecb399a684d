"""Weekly sets per muscle beside the band, as numbers, words and the places of a small drawing."""

from dataclasses import dataclass
from typing import NamedTuple

from blockwright.engine.training import MUSCLES, Block, MuscleSets, Week
from blockwright.engine.units import number_text
from blockwright.engine.volume import done_by_week
from .stored_case import StoredBlock

WIDTH = 150  # Of the drawing, in its own units


@dataclass(frozen=True, slots=True)
class MuscleCell:
    week: int
    planned: str
    done: str  # Hard sets logged; "" while the week has none
    band: str  # "below", "above" or "" for within


class Dot(NamedTuple):
    at: float
    first: bool


@dataclass(frozen=True, slots=True)
class MuscleRow:
    muscle: str
    emphasis: str  # "lead", "hold", "skip" or ""
    band: str
    cells: tuple[MuscleCell, ...]
    floor_at: float
    band_wide: float
    dots: tuple[Dot, ...]  # Where the first and the last build week lie in the drawing


def muscle_rows(stored: StoredBlock, *, read_only: bool) -> tuple[MuscleRow, ...]:
    """Every muscle the block counts, in the usual order."""
    block, case = stored.block, stored.case
    own = () if read_only else case.sets
    done = done_by_week(own, case.catalogue, case.policy, start=block.start)
    counted = [m for m in MUSCLES if any(m in week.muscle_sets for week in block.weeks)]

    def cell(week: Week, muscle: str) -> MuscleCell:
        sets, logged = week.muscle_sets.get(muscle), done.get(week.week)
        return MuscleCell(
            week=week.week,
            planned="" if sets is None else f"{sets.fractional:.1f}",
            done="" if logged is None else f"{logged[muscle].fractional:.1f}",
            band="" if sets is None or week.kind == "deload" else _band(sets),
        )

    return tuple(
        _row(block, muscle, tuple(cell(week, muscle) for week in block.weeks)) for muscle in counted
    )


def _band(sets: MuscleSets) -> str:
    if sets.fractional < sets.floor - 1e-9:
        return "below"
    return "above" if sets.fractional > sets.ceiling + 1e-9 else ""


def _row(block: Block, muscle: str, cells: tuple[MuscleCell, ...]) -> MuscleRow:
    builds = [week.muscle_sets.get(muscle) for week in block.builds]
    known = [sets for sets in builds if sets is not None]
    ends = known[:1] + known[-1:]
    floor, ceiling = (ends[-1].floor, ends[-1].ceiling) if ends else (0.0, 0.0)
    most = max([ceiling, 1.0, *(sets.fractional for sets in ends)]) * 1.1
    emphasis = block.lifter.emphasis_of(muscle)

    def at(sets: float) -> float:
        return round(WIDTH * sets / most, 1)

    return MuscleRow(
        muscle=muscle.replace("_", " "),
        emphasis="" if emphasis == "normal" else emphasis,
        band=f"{number_text(floor)}–{number_text(ceiling, 1)}",
        cells=cells,
        floor_at=at(floor),
        band_wide=round(at(ceiling) - at(floor), 1),
        dots=tuple(Dot(at(sets.fractional), not place) for place, sets in enumerate(ends)),
    )
