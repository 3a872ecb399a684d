"""Workbooks that are none, and small ones that would take gigabytes."""

import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook

from blockwright.engine.errors import BadInput
from blockwright.files.importing.grids import read_grids


def test_a_cell_in_the_farthest_corner_is_refused_before_it_is_laid_out(tmp_path: Path) -> None:
    book = Workbook()
    book.active["A1"] = "Bench"
    book.active["XFD1048576"] = "stray"
    book.save(tmp_path / "stray.xlsx")

    with pytest.raises(BadInput, match="spans more than 2,000,000 cells"):
        read_grids(tmp_path / "stray.xlsx")


def test_a_part_that_unpacks_to_gigabytes_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "packed.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("xl/sharedStrings.xml", b" " * (300 * 2**20))

    with pytest.raises(BadInput, match="unpacks to over"):
        read_grids(path)


def test_a_cut_off_workbook_is_no_workbook(tmp_path: Path) -> None:
    book = Workbook()
    book.active["A1"] = "Bench"
    book.save(tmp_path / "whole.xlsx")
    data = (tmp_path / "whole.xlsx").read_bytes()
    for length in (1, 30, 200, len(data) // 2, len(data) - 1):
        (tmp_path / "cut.xlsx").write_bytes(data[:length])
        with pytest.raises(BadInput, match="cannot be read as a workbook"):
            read_grids(tmp_path / "cut.xlsx")


def test_another_kind_of_workbook_is_named(tmp_path: Path) -> None:
    (tmp_path / "log.ods").write_bytes(b"PK")

    with pytest.raises(BadInput, match="save it as xlsx or CSV"):
        read_grids(tmp_path / "log.ods")
