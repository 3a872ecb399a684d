"""Workbooks that are none, and small ones that would take gigabytes."""

import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook
from openpyxl.comments import Comment

from blockwright.engine.errors import BadInput
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.importing import workbooks
from blockwright.files.importing.draft import MOST_ROWS, Wishes, draft_of
from blockwright.files.importing.grids import read_grids
from blockwright.files.importing.names import MOST_SEARCHED, LiftMatcher


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


HEAD = '<worksheet xmlns="urn:x"><sheetData>'
FAR = '<row r="1"><c r="A1"><v>1</v></c></row><row r="60000"><c r="CZZ60000"><v>1</v></c></row>'
END = "</sheetData></worksheet>"
SHEET = HEAD + FAR + END
SMALL = HEAD + '<row r="1">' + '<c t="s"><v>0</v></c>' * 60 + "</row>" + END
WIDE = f'{HEAD}<row r="40000"><c r="AZ40000"><v>1</v></c></row>{END}'
TEXT = f"<sst><si><t>{'x' * 1_000_000}</t></si></sst>"
TOO_MANY, TOO_LONG, NONE = "more than 2,000,000", "more than 50,000,000", "cannot be read"


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        ({"xl/worksheets/a.xml": SHEET.replace('"', "'")}, TOO_MANY),
        ({"xl/worksheets/a.xml": SHEET.replace(' r="', ' r = "')}, TOO_MANY),
        ({"xl/worksheets/a.xml": SHEET.replace(" r=", ' s=">" r=')}, TOO_MANY),
        ({"xl/worksheets/a.bin": SHEET}, TOO_MANY),
        ({"xl/elsewhere/a.xml": SHEET}, TOO_MANY),
        ({"xl/worksheets/a.xml": WIDE, "xl/worksheets/b.xml": WIDE}, TOO_MANY),
        ({"xl/worksheets/a.xml": SMALL, "xl/sharedStrings.xml": TEXT}, TOO_LONG),
        ({"xl/worksheets/a.xml": SHEET.replace("</row>", "</oops>")}, NONE),
        ({"content.xml": "<table-row number-rows-repeated='1048576'/>"}, NONE),
    ],
)
def test_what_would_take_gigabytes_is_refused_however_it_is_written(
    tmp_path: Path, parts: dict[str, str], says: str
) -> None:
    path = tmp_path / "few.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        for name, content in parts.items():
            book.writestr(name, content)
    assert path.stat().st_size < 10_000

    with pytest.raises(BadInput, match=says):
        read_grids(path)


def test_texts_written_in_their_cells_count_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workbooks, "MOST_LETTERS", 1_000)
    cells = f'<c t="inlineStr"><is><t>{"x" * 600}</t></is></c>' * 2
    with zipfile.ZipFile(tmp_path / "few.xlsx", "w") as book:
        book.writestr("xl/worksheets/a.xml", f"{HEAD}<row>{cells}</row>{END}")
    with pytest.raises(BadInput, match="more than 1,000 letters"):
        read_grids(tmp_path / "few.xlsx")


@pytest.mark.parametrize(
    "mark", ["<x/>", '<row r="1"><c r="A1"><v>1</v></c></row>', "<si><t>a</t></si>"]
)
def test_a_small_file_of_endless_marks_is_refused_soon(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, mark: str
) -> None:
    """Three million cells, all A1, pack into 340 kB and held a thread for ten seconds."""
    monkeypatch.setattr(workbooks, "MOST_MARKS", 1000)
    path = tmp_path / "endless.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("xl/worksheets/a.xml", HEAD + mark * 1000 + END)
    with pytest.raises(BadInput, match="made of more than 1,000 parts"):
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


def test_a_small_file_that_would_be_read_for_hours_is_not(tmp_path: Path) -> None:
    """300 kB of different names took minutes, 8 MB of rows more."""
    log = tmp_path / "rows.csv"
    matcher = LiftMatcher(builtin_catalogue())
    found = [matcher.match(f"press {number} way") for number in range(3000)]
    assert sum(bool(match.lifts) for match in found) == MOST_SEARCHED
    assert matcher.match("bench press").best == "bench press", "what is known by name still is"
    log.write_text("Date,Exercise,Weight (kg),Reps\n" + "x,y,1,2\n" * (MOST_ROWS + 1), "utf-8")
    with pytest.raises(BadInput, match="more than 40,000 rows"):
        draft_of([log], builtin_catalogue(), Wishes())


def test_what_hangs_on_a_cell_is_read_as_a_note_beside_it(tmp_path: Path) -> None:
    book = Workbook()
    for row in [
        ["Date", "Lift", "kg", "Reps"],
        *[["2027-01-18", "Squat", 60 + n, 5] for n in (0, 9)],
    ]:
        book.active.append(row)
    book.active["C2"].comment = Comment("warm-up", "Oda")
    book.active["D3"].comment = Comment("Oda:\nRPE 8", "Oda")
    diary = book.create_sheet("Diary")
    for row in [["19/01/2027"], ["Row", "50x8"]]:
        diary.append(row)
    diary["B2"].comment = Comment("2 RIR", "Oda")
    book.save(tmp_path / "log.xlsx")

    sets = draft_of([tmp_path / "log.xlsx"], builtin_catalogue(), Wishes()).sets

    assert [(one.loads_kg[0], one.method, one.rir_low) for one in sets] == [
        (60, "warmup", None), (69, "straight", 2), (50, "straight", 2),
    ]  # fmt: skip


@pytest.mark.parametrize("endless", [b"NaN", b"INF", b"-inf"])
def test_a_cell_that_is_no_number_is_left_out_and_told(tmp_path: Path, endless: bytes) -> None:
    book = Workbook()
    for row in [["Date", "Lift", "kg", "Reps"], ["2027-01-18", "Squat", 60, 5]]:
        book.active.append(row)
    book.active.append(["2027-01-19", "Squat", 60, 77])
    book.save(tmp_path / "whole.xlsx")
    with (
        zipfile.ZipFile(tmp_path / "whole.xlsx") as whole,
        zipfile.ZipFile(tmp_path / "log.xlsx", "w") as log,
    ):
        for name in whole.namelist():
            log.writestr(name, whole.read(name).replace(b"<v>77</v>", b"<v>" + endless + b"</v>"))

    draft = draft_of([tmp_path / "log.xlsx"], builtin_catalogue(), Wishes())

    assert [one.reps for one in draft.sets] == [(5,)]
    assert "77" not in str(draft.skipped)
    assert draft.skipped or draft.notes


def test_another_kind_of_workbook_is_named(tmp_path: Path) -> None:
    (tmp_path / "log.ods").write_bytes(b"PK")

    with pytest.raises(BadInput, match="save it as xlsx or CSV"):
        read_grids(tmp_path / "log.ods")
