"""What coaches write beside a lift, each notation read to the sets it means and no other."""

import csv
import datetime as dt
from collections import defaultdict
from pathlib import Path

import pytest

import import_gallery
from blockwright.engine.training import SetDone
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.cells import read_cell
from blockwright.files.importing.draft import Wishes, draft_of

CATALOGUE = builtin_catalogue()
CELLS = defaultdict(list)
for line in (Path(import_gallery.__file__).parent / "cells.txt").read_text("utf-8").splitlines():
    if not line.startswith("#"):
        lift, cell, sets = line.split(" | ")
        CELLS[lift].append((cell, [] if sets == "-" else sets.split()))


@pytest.mark.parametrize("lift", CELLS)
def test_a_cell_tells_its_sets_and_no_other(lift: str, tmp_path: Path) -> None:
    first = dt.date(2027, 1, 4)
    days = [(first + dt.timedelta(days=at)).isoformat() for at in range(len(CELLS[lift]) + 2)]
    cells = ["3x5 @ 140kg", *(cell for cell, _ in CELLS[lift]), "3x5 @ 140kg"]
    lifts = ["Deadlift", *[lift] * len(CELLS[lift]), "Deadlift"]
    with (tmp_path / "log.csv").open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerow(["Date", "Exercise", "What I did"])
        csv.writer(file).writerows(zip(days, lifts, cells, strict=True))

    draft = draft_of([tmp_path / "log.csv"], CATALOGUE, Wishes(unit="kg"))

    read = defaultdict(list)
    for done in draft.sets:
        read[done.moment.day.isoformat()] += _said(done)
    expected = dict(CELLS[lift])
    assert {c: read[day] for c, day in zip(cells[1:-1], days[1:-1], strict=True)} == expected


def _said(done: SetDone) -> list[str]:
    loads = done.entered_load.split("+")
    reps = [str(one) for one in done.reps] if len(loads) > 1 else ["+".join(map(str, done.reps))]
    known = CATALOGUE.find(done.lift)
    sign = "-" if known and known.load_kind == "assisted" and loads != ["0"] else ""
    unit = "lb" if done.entered_unit == "lb" else ""
    rir = "" if done.rir_low is None else f"@{done.rir_low:g}"
    mark = "w" if done.method == "warmup" else ""
    return [f"{sign}{load}{unit}x{n}{rir}{mark}" for load, n in zip(loads, reps, strict=True)]


@pytest.mark.parametrize("load_first", [None, True, False])
@pytest.mark.parametrize(
    "cell",
    ["80x8", "13 x 5 @ 8", "7.25x12, 82.5kg x 8 @9.5", "100lbs x 10", "225x3, 235x2, 245x1 @10"],
)
def test_plain_sets_are_what_the_grammar_makes_of_them(cell: str, load_first: bool | None) -> None:
    told = read_cell(cell, load_first)

    # The mark means nothing, but such a cell is not read the short way.
    assert told is not None
    assert told == read_cell(f"{cell}!", load_first)
