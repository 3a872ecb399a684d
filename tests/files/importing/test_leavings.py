"""Nothing that may tell a set is dropped without a word: it is read or listed with its place."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing.draft import Draft, Wishes, draft_of
from import_gallery import Log, logs

UNREADABLE = "3x?5@7@7"
LONG = "Row 60 kilos for 5 or 6 and then of the belt and the shoes that were worn"
WORKBOOKS = [log for log in logs() if log.file.endswith(".xlsx")]


@pytest.mark.parametrize("log", WORKBOOKS[::4], ids=lambda log: log.name)
def test_of_any_log_a_set_that_becomes_unreadable_is_listed(log: Log, tmp_path: Path) -> None:
    entries = _draft(log, tmp_path).entries
    bare = [entry for entry in entries if re.match(r"[\d+-]", entry.text) and "|" not in entry.text]
    for entry in bare[:: max(1, len(bare) // 2)]:
        spoiled = _draft(_with(log, entry.place), tmp_path)

        assert entry.place in [skipped.place for skipped in spoiled.skipped]


@pytest.mark.parametrize(
    ("sheet", "listed"),
    [
        ("18/01/2027\nSquat 3x5 @ 100\nPlank 3 x 45 sec", ["A3 Plank 3 x 45 sec"]),
        ("18/01/2027\nSquat 3x5 @ 100\nRow 60 kilos for 5 or 6", ["A3 Row 60 kilos for 5 or 6"]),
        ("Date,Lift,kg,reps,Calories\n18/01/2027,Squat,100,5,2500\n25/01/2027,Squat,105,5,2600",
         ["E2 Calories"]),
        ("Date,Lift,Sets done\n18/01/2027,Squat,3x5 @ 100\n25/01/2027,Squat,3x10 60s",
         ["C3 3x10 60s"]),
        ("Date,Lift,Sets,kg,reps\n18/01/2027,Squat,3,100,5\n25/01/2027,Squat,3,,\n1/2/2027,Squat,30x5x,,",
         ["C4 30x5x"]),
        ("Date,Lift,kg,reps,BW,RPE\n18/01/2027,Squat,100,5,80.5,8", []),
        ("18/01/2027,,,,\n,Squat,,Bench,\nLift,kg,reps,kg,reps\n,100,5,,\nRow,60,5,40,8",
         ["A5 Row", "A5 Row"]),
        ("Date,Lift,Planned,kg,reps\n18/01/2027,Squat,3x?5,100,5", []),
        ("Date,Lift,Planned kg,kg,reps\n18/01/2027,Squat,8x?,100,5", []),
        ("Date,Lift,Notes,kg,reps\n18/01/2027,Squat,3x5?,100,5", []),
        ("Date,Lift,Warm-up,kg,reps\n18/01/2027,Squat 2,10 min,105,5", []),
        ("Date,Lift,kg,reps\n18/01/2027,Squat,100,5\n25/01/2027,3x10 60s,,", ["B3 3x10 60s"]),
        ("Date,Lift,kg,reps,\n18/01/2027,Squat,100,5,3x10 60s\n25/01/2027,Squat,100,5,70",
         ["E2 3x10 60s"]),
        ("Date,Lift,kg,reps,Next time\n18/01/2027,Squat,100,5,25/01/2027", []),
        ("Date,Lift,kg,reps,Calories\n18/01/2027,Squat,100,5,a lot\n25/01/2027,Squat,100,5,260",
         ["E3 Calories"]),
        (f"18/01/2027\nSquat 3x5 @ 100\nslept 7 h, weighed 80\n{LONG}", [f"A4 {LONG[:60]}"]),
        (f"Date,Lift,kg,reps,{LONG}\n18/01/2027,Squat,100,5,25", [f"E2 {LONG[:60]}"]),
    ],
)  # fmt: skip
def test_what_no_heading_explains_is_listed(sheet: str, listed: list[str], tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text(sheet, encoding="utf-8")
    draft = draft_of([path], builtin_catalogue(), Wishes(unit="kg"))

    assert [f"{s.place.split(', ')[-1]} {s.text}" for s in draft.skipped] == listed


def _draft(log: Log, folder: Path) -> Draft:
    return draft_of([log.write(folder)], builtin_catalogue(), Wishes())


def _with(log: Log, place: str) -> Log:
    """The log with an unreadable text at a place."""
    _, tab, cell = place.split(", ")
    match = re.fullmatch(r"([A-Z])(\d+)", cell)
    assert match is not None
    row, column = int(match[2]) - 1, ord(match[1]) - ord("A")
    lines = list(log.tabs[tab])
    cells = lines[row].split("|")
    cells[column] = UNREADABLE
    lines[row] = "|".join(cells)
    return replace(log, tabs={**log.tabs, tab: lines})
