"""Whatever stands in a file, the answer is sets or plain words, never a traceback; and soon."""

import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from blockwright.engine.errors import BadInput
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.cells import read_cell, read_load
from blockwright.files.importing.draft import Draft, Wishes, draft_of
from blockwright.files.importing.grids import read_grids

CATALOGUE = builtin_catalogue()
PIECES = st.sampled_from(
    """Bench press|Squat|RDL|Date|Exercise|Set 1|kg|Reps|RPE|Week 1|Day 2|Mon|4 Jan|03/04/2027
|80x8,8,7|3x8 @ 80|BW+10x6|-20|82,5|8-10|@8|same|"|1e9|0x0|99999|x|()|3x|12+4+3|80x8 > 60x6
|Ana""".replace("\n", "").split("|")
) | st.text(max_size=12)
ROWS = st.lists(st.lists(PIECES, max_size=8), max_size=14)
WRITTEN = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


@WRITTEN
@given(rows=ROWS)
def test_any_grid(tmp_path: Path, rows: list[list[str]]) -> None:
    path = tmp_path / "log.csv"
    lines = [";".join(f'"{cell}"' if ";" in cell else cell for cell in row) for row in rows]
    path.write_text("\n".join(lines), encoding="utf-8", errors="replace")
    _read(path)


@WRITTEN
@given(data=st.binary(max_size=400), ending=st.sampled_from([".csv", ".xlsx", ".txt"]))
def test_any_bytes(tmp_path: Path, data: bytes, ending: str) -> None:
    path = tmp_path / f"log{ending}"
    path.write_bytes(data)
    _read(path)


@given(text=st.text(alphabet="0123456789xX@+-.,/; kglbrpe()>&'\"", max_size=60))
def test_any_cell(text: str) -> None:
    told = read_cell(text, True)
    if told is not None:
        assert all(one.reps and all(0 <= count <= 999 for count in one.reps) for one in told.sets)
    read_load(text)


@pytest.mark.parametrize("text", ["8" * 300, "80x8," * 60, "(" * 290, "1 " * 150, "+" * 300])
def test_no_cell_takes_long(text: str) -> None:
    began = time.process_time()
    read_cell(text, True)
    assert time.process_time() - began < 1


def test_twenty_thousand_rows_take_few_seconds(tmp_path: Path) -> None:
    lifts = ("Bench press", "Back squat", "RDL", "Lat pulldwn", "Leg press")
    rows = [
        f"{2020 + at // 5000}-{at // 420 % 12 + 1:02}-{at // 15 % 28 + 1:02},{lifts[at % 5]},"
        f"{60 + at % 40},{5 + at % 7},{7 + at % 3}"
        for at in range(20_000)
    ]
    path = tmp_path / "long.csv"
    path.write_text("\n".join(["Date,Exercise,Weight (kg),Reps,RPE", *rows]), encoding="utf-8")
    began = time.process_time()
    draft = draft_of([path], CATALOGUE, Wishes())

    assert len(draft.sets) == 20_000
    # 3 s on a quiet machine; a test must not fail on a busy one.
    assert time.process_time() - began < 9


def _read(path: Path) -> Draft | None:
    try:
        return draft_of([path], CATALOGUE, Wishes())
    except BadInput:
        return None


def test_a_sheet_wider_than_any_of_ours_is_refused_at_once(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text(f"date{',bench press' * 20_000}\n2026-01-05{',80x8' * 20_000}\n")
    with pytest.raises(BadInput, match=r"more than 2,000 columns"):
        read_grids(path)


@pytest.mark.parametrize("text", ["9" * 4_400, "squat 3x5 " * 600])
def test_a_cell_longer_than_any_note_is_refused_by_its_place(tmp_path: Path, text: str) -> None:
    path = tmp_path / "log.csv"
    path.write_text(f"Date,Lift,Notes\n2026-01-05,Squat,{text}\n")
    with pytest.raises(BadInput, match=r"C2 holds more than 4,000 letters") as refused:
        draft_of([path], CATALOGUE, Wishes())
    assert refused.value.problems[0].mend == "shorten that cell"


def test_long_cells_are_read_in_time_that_grows_as_they_do(tmp_path: Path) -> None:
    """1,900 of them took 24 s: every pair looked through all that follow it."""
    path, text, took = tmp_path / "log.csv", "8x80 " * 790, []
    for share in (1, 8):
        note = text[: len(text) * share // 8]
        rows = "".join(f"2026-01-05,Squat,80,{note}{n},ok\n" for n in range(1600 // share))
        path.write_text(f"Date,Lift,Load,Notes,Day\n{rows}")
        began = time.process_time()
        _read(path)
        took.append(time.process_time() - began)
    assert took[1] < 1.5 * took[0] + 0.1, took
