"""Weekly sets per muscle beside the band, as numbers, words and the places of a small drawing."""

from dataclasses import dataclass

from blockwright.engine.training import MUSCLES, MuscleSets
from blockwright.engine.units import number_text
from blockwright.engine.volume import done_by_week
from blockwright.verbs.stored_case import StoredBlock

WIDTH = 150
"""Of the drawing, in its own units."""


@dataclass(frozen=True, slots=True)
class MuscleCell:
    week: int
    planned: str
    done: str
    """Hard sets logged; "" while the week has none."""
    band: str
    """ "below", "above" or "" for within."""


@dataclass(frozen=True, slots=True)
class Dot:
    at: float
    first: bool


@dataclass(frozen=True, slots=True)
class MuscleRow:
    muscle: str
    emphasis: str
    """ "lead", "hold", "skip" or ""."""
    band: str
    cells: tuple[MuscleCell, ...]
    floor_at: float
    band_wide: float
    dots: tuple[Dot, ...]
    """Where the first and the last build week lie in the drawing."""


def muscle_rows(stored: StoredBlock, *, read_only: bool) -> tuple[MuscleRow, ...]:
    """Every muscle the block counts, in the usual order."""
    block, case = stored.block, stored.case
    own = () if read_only else case.sets
    done = done_by_week(own, case.catalogue, case.policy, start=block.start)
    counted = [m for m in MUSCLES if any(m in week.muscle_sets for week in block.weeks)]
    rows = []
    for muscle in counted:
        cells = []
        for week in block.weeks:
            sets = week.muscle_sets.get(muscle)
            logged = done.get(week.week)
            cells.append(
                MuscleCell(
                    week=week.week,
                    planned="" if sets is None else f"{sets.fractional:.1f}",
                    done="" if logged is None else f"{logged[muscle].fractional:.1f}",
                    band="" if sets is None or week.kind == "deload" else _band(sets),
                )
            )
        rows.append(_row(stored, muscle, tuple(cells)))
    return tuple(rows)


def _band(sets: MuscleSets) -> str:
    if sets.fractional < sets.floor - 1e-9:
        return "below"
    return "above" if sets.fractional > sets.ceiling + 1e-9 else ""


def _row(stored: StoredBlock, muscle: str, cells: tuple[MuscleCell, ...]) -> MuscleRow:
    builds = [
        week.muscle_sets[muscle]
        for week in stored.block.weeks
        if week.kind == "build" and muscle in week.muscle_sets
    ]
    ends = builds[:1] + builds[-1:]
    floor, ceiling = (ends[-1].floor, ends[-1].ceiling) if ends else (0.0, 0.0)
    most = max([ceiling, 1.0, *(sets.fractional for sets in ends)]) * 1.1
    emphasis = stored.block.lifter.emphasis_of(muscle)
    return MuscleRow(
        muscle=muscle.replace("_", " "),
        emphasis="" if emphasis == "normal" else emphasis,
        band=f"{number_text(floor)}–{number_text(ceiling, 1)}",
        cells=cells,
        floor_at=_at(floor, most),
        band_wide=round(_at(ceiling, most) - _at(floor, most), 1),
        dots=tuple(
            Dot(at=_at(sets.fractional, most), first=number == 0)
            for number, sets in enumerate(ends)
        ),
    )


def _at(sets: float, most: float) -> float:
    return round(WIDTH * sets / most, 1)
