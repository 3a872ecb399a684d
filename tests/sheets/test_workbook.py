"""The block as a workbook, opened with another library and read back as a log."""

import csv
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from blockwright.files.sets_file import read_sets
from blockwright.sheets.workbook import COLUMNS, block_workbook
from sheet_documents import documents
from sheet_people import block, catalogue, lifter

EVIL = "=cmd|' /C calc'!A0"


def opened(data: bytes) -> Any:
    return load_workbook(BytesIO(data))


def test_one_tab_a_week_and_one_row_a_set() -> None:
    made = documents()
    book = opened(block_workbook(made))
    assert book.sheetnames == ["Week 1", "Week 2", "Week 3", "Week 4 deload"]
    for number, name in enumerate(book.sheetnames, start=1):
        planned = sum(
            len(entry["sets"])
            for document in made
            if document["week"] == number
            for entry in document["entries"]
        )
        assert book[name].max_row == planned + 1
        assert [cell.value for cell in book[name][1]] == [column.name for column in COLUMNS]


def test_a_lift_that_is_left_out_has_no_row_to_fill() -> None:
    made = documents()
    out = made[0]["entries"][0]
    out["cautions"] = [{"code": "sheet_hurts_out", "says": "Leave it out today"}]
    lifts = [row[1].value for row in opened(block_workbook(made))["Week 1"]]
    assert out["lift"] not in lifts
    assert made[0]["entries"][1]["lift"] in lifts


def test_targets_are_numbers_in_the_lifters_units() -> None:
    tab = opened(block_workbook(documents()))["Week 1"]
    at = [column.name for column in COLUMNS].index("target load")
    first = tab[2]
    assert first[at].value == 102.5
    assert first[at + 1].value == "20 kg bar, 20 + 20 + 1.25 each side"
    pounds = opened(block_workbook(documents(block(lifter(unit="lb")))))["Week 1"][2]
    assert pounds[at].value == pytest.approx(102.5 / 0.45359237, abs=0.01)


@pytest.mark.parametrize(
    "name", [EVIL, "+1+1", "@SUM(A1)", "-2", "http://example.com/x", "{=1+1}", "mailto:a@b.c"]
)
def test_a_name_stays_text(name: str) -> None:
    book = opened(block_workbook(documents(block(lifter(name)))))
    cells = [cell for tab in book for row in tab.iter_rows() for cell in row]
    assert all(cell.data_type != "f" for cell in cells)
    assert all(cell.hyperlink is None for cell in cells)
    assert [cell.value for cell in cells if cell.column == len(COLUMNS) and cell.row > 1].count(
        name
    ) == sum(tab.max_row - 1 for tab in book)


def test_equal_blocks_give_equal_bytes() -> None:
    assert block_workbook(documents()) == block_workbook(documents())


def test_a_tab_filled_in_and_saved_as_csv_is_a_sets_file(tmp_path: Path) -> None:
    tab = opened(block_workbook(documents()))["Week 1"]
    names = [column.name for column in COLUMNS]
    rows = [[cell.value for cell in row] for row in tab.iter_rows()]
    for row in rows[1:]:
        row[names.index("load")] = row[names.index("target load")] or 50
        row[names.index("reps")] = 9
        row[names.index("rir")] = 2
    file = tmp_path / "week.csv"
    with file.open("w", newline="", encoding="utf-8") as out:
        csv.writer(out).writerows([["" if v is None else v for v in row] for row in rows])
    read = read_sets(file, catalogue())
    assert len(read.value) == len(rows) - 1
    assert {done.first_reps for done in read.value} == {9}
    assert all(done.moment.at is not None for done in read.value)


def test_no_sheet_is_a_programming_error() -> None:
    with pytest.raises(ValueError, match="no sheet"):
        block_workbook([])
