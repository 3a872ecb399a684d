"""Plan beside actual, best lifts beside the log, a note that is of one lift only."""

from pathlib import Path

import pytest

from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.draft import Draft, Wishes, draft_of

PLANNED = "Date,Exercise,Plan sets,Plan reps,Plan kg,Done,Actual kg,Actual reps,RPE\n"
SCHEME = "Date,Exercise,Plan (kg),Done,Actual kg,Actual reps\n"
TICKS = """Date,Exercise,Sets,Reps,kg,Actual
18/01/2027,Squat,2,5,100,✓
,Bench press,2,8,60,"60x8,7"
,Row,2,10,40,"10,9"
,Deadlift,1,5,120,
"""
TWO_DAYS = """2027-01-18,,,2027-01-19,,
Upper,Plan,Real,Lower,Plan,Real
Press con mancuernas,2x10 30,"30×10, 30×9",Remo con barra,2x12 62.5,62.5×12; 62.5×11
Press militar,1x8 40,40×8,Dominadas,1x5 PC+5,PC+5×4
"""
BEST = """Date,Exercise,kg,Reps,,{heading},kg,Date
18/01/2027,Squat,80,5,,Squat,107.5,01/06/2026
,,85,4,,Bench press,65,02/06/2026
,,,,,Deadlift,130,03/06/2026
,Row,50,10,,,,"""


@pytest.mark.parametrize(
    ("sheet", "sets"),
    [
        (PLANNED + "18/01/2027,Squat,2,5,100,✓,,,8", ["100x5", "100x5"]),
        (PLANNED + "18/01/2027,Squat,2,5,100,y,95,,", ["95x5", "95x5"]),
        (PLANNED + '18/01/2027,Squat,2,5,100,ok,,"5,4",', ["100x5", "100x4"]),
        (PLANNED + "18/01/2027,Squat,3,5,100,2 of 3,,,", ["100x5", "100x5"]),
        (PLANNED + "18/01/2027,Squat,1,5,100,TRUE,,,\n,Row,1,5,60,FALSE,,,", ["100x5"]),
        (PLANNED + "18/01/2027,Squat,1,5,100,✓,,,\n,Row,1,5,60,x,,,", ["100x5"]),
        (PLANNED.replace("Plan ", "") + "18/01/2027,Squat,2,5,100,✓,95,,", ["95x5", "95x5"]),
        (SCHEME + "18/01/2027,Squat,2x5 @ 100,✓,,", ["100x5", "100x5"]),
        (SCHEME + "18/01/2027,Squat,2x5 @ 100,✓,95,", ["95x5", "95x5"]),
        (SCHEME + "18/01/2027,Squat,2x5,✓,95,", ["95x5", "95x5"]),
        (TWO_DAYS, ["30x10", "30x9", "40x8", "62.5x12", "62.5x11", "5x4"]),
        (TICKS, ["100x5", "100x5", "60x8", "60x7", "40x10", "40x9"]),
    ],
)  # fmt: skip
def test_beside_a_tick_what_is_blank_was_done_as_planned(
    sheet: str, sets: list[str], tmp_path: Path
) -> None:
    assert _sets(_draft(sheet, tmp_path)) == sets


def test_a_lift_without_its_tick_and_a_range_are_not_taken_as_done(tmp_path: Path) -> None:
    sheet = PLANNED + (
        "18/01/2027,Squat,1,5,100,✓,,,\n,Row,3,5,60,,,,\n,Bench press,3,8-10,70,✓,,,"
    )

    draft = _draft(sheet, tmp_path)

    assert _sets(draft) == ["100x5"]
    assert [skipped.place[-2:] for skipped in draft.skipped] == ["D4"]


@pytest.mark.parametrize("heading", ["Best lifts", "PRs", "Goals", "Lift"])
def test_best_lifts_beside_a_log_are_no_sets_of_it(heading: str, tmp_path: Path) -> None:
    draft = _draft(BEST.format(heading=heading), tmp_path)

    assert _sets(draft) == ["80x5", "85x4", "50x10"]
    assert {done.moment.day.isoformat() for done in draft.sets} == {"2027-01-18"}


def test_a_note_on_dumbbells_beside_one_lift_is_of_that_lift(tmp_path: Path) -> None:
    sheet = """Date,Exercise,kg,Reps,Notes
18/01/2027,Bench press,60,5,
,Shoulder press,12,10,kg is each DB
,Bench press,20,12,weight per dumbbell"""

    lifts = [done.lift for done in _draft(sheet, tmp_path).sets]

    assert lifts == ["bench press", "dumbbell shoulder press", "dumbbell bench press"]


def test_a_set_of_no_repetitions_is_listed(tmp_path: Path) -> None:
    draft = _draft("Date,Lift,Set,kg,Reps\n18/01/2027,Squat,1,100,5\n,,2,110,0", tmp_path)

    assert _sets(draft) == ["100x5"]
    assert [(one.place, one.text) for one in draft.skipped] == [("log.csv, E3", "0")]


def _draft(sheet: str, folder: Path) -> Draft:
    path = folder / "log.csv"
    path.write_text(sheet, encoding="utf-8")
    return draft_of([path], builtin_catalogue(), Wishes())


def _sets(draft: Draft) -> list[str]:
    return [f"{done.entered_load}x{done.reps[0]}" for done in draft.sets]
