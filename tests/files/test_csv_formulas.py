"""Nothing in an exported CSV runs as a formula, and our reader reads it back as it was."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright.engine.training import SetDone
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.checkins_file import read_checkins
from blockwright.files.csv_text import as_it_was, harmless
from blockwright.files.facts_csv import checkins_csv, sets_csv
from blockwright.files.sets_file import read_sets

RUN = ("=1+1", "+cmd|' /C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "=", "＝1+1")
NOTES = (*RUN, "'=1+1", "''=1", "'", "it's fine", "-5", "+3", "'-5", "a=b")
HEAD = "when,lift,load,unit,reps,note\n"


@given(st.text(alphabet="'=+-@\t\r\n＝a1., ", max_size=8))
def test_every_cell_comes_back(cell: str) -> None:
    assert as_it_was(harmless(cell)) == cell


@pytest.mark.parametrize("cell", RUN)
def test_what_runs_is_made_text(cell: str) -> None:
    assert harmless(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["5", "-5", "+2.5", "0,5"])
def test_numbers_stay_numbers(cell: str) -> None:
    assert harmless(cell) == cell


def sets_with(folder: Path, notes: tuple[str, ...]) -> tuple[SetDone, ...]:
    file = folder / "typed.csv"
    file.write_text(f"{HEAD}2026-01-05,bench press,50,kg,8,x\n", encoding="utf-8")
    (done,) = read_sets(file, builtin_catalogue()).value
    return tuple(replace(done, note=note, set_number=n) for n, note in enumerate(notes, 1))


def test_notes_and_lifts_come_back_through_the_sets_file(tmp_path: Path) -> None:
    notes = tuple(note for note in NOTES if note == note.strip())
    sets = sets_with(tmp_path, notes)
    sets = (*sets, replace(sets[0], lift="=my lift", set_number=1))
    text = sets_csv(sets)
    for cell in (cell for row in csv.reader(io.StringIO(text)) for cell in row):
        assert not cell.startswith(("=", "+c", "@", "-2+")), cell
    file = tmp_path / "sets.csv"
    file.write_text(text, encoding="utf-8")
    back = read_sets(file, builtin_catalogue()).value
    assert [(one.lift, one.note) for one in back] == [(one.lift, one.note) for one in sets]


def test_what_a_check_in_is_about_comes_back(tmp_path: Path) -> None:
    file = tmp_path / "checkins.csv"
    file.write_text("when,measure,about,value\n2026-01-05,pain,left knee,3\n", encoding="utf-8")
    (one,) = read_checkins(file).value
    text = checkins_csv([replace(one, about="=left knee")])
    assert "'=left knee" in text
    file.write_text(text, encoding="utf-8")
    assert read_checkins(file).value[0].about == "=left knee"
