"""`blockwright sheet` and `plan --pdf` as a person uses them."""

import csv
import json
from dataclasses import replace
from datetime import datetime, time, timedelta
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from icalendar import Calendar
from openpyxl import load_workbook
from pypdf import PdfReader

from blockwright.cli.main import exit_code
from blockwright.engine.day_sheet import sessions_of
from blockwright.engine.training import Moment
from blockwright.files.block_json import block_to_json
from blockwright.files.case_files import case_of_block
from blockwright.files.json_text import dumps
from blockwright.files.schemas import problems_against
from blockwright.verbs.print_sheet import before_session, first_week_pdf
from sheet_people import LOWER_DAY, block, lifter, logged

GOLDEN = Path(__file__).resolve().parents[1] / "goldens" / "sheet.json"


@pytest.fixture
def block_file(tmp_path: Path) -> Path:
    file = tmp_path / "block.json"
    file.write_text(dumps(block_to_json(block())), encoding="utf-8")
    return file


@pytest.fixture
def log_file(tmp_path: Path) -> Path:
    file = tmp_path / "log.csv"
    done = [*logged("bench press", 80.0), *logged("standing calf raise", 70.0, 13)]
    with file.open("w", newline="", encoding="utf-8") as out:
        writer = csv.writer(out)
        writer.writerow(["when", "lift", "set", "load", "unit", "reps", "rir", "rest_s"])
        for one in done:
            writer.writerow(
                [one.moment.day, one.lift, one.set_number, one.load_kg, "kg", one.reps[0], 2, 150]
            )
    return file


def answer(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    assert exit_code(["sheet", *arguments, "--json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def test_the_document_keeps_its_schema(
    block_file: Path, log_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for more in ([], ["--facts", str(log_file)], ["--partner", str(block_file)]):
        document = answer([str(block_file), "--week", "1", "--session", "1", *more], capsys)
        assert problems_against("sheet", document, "sheet") == []


def test_date_and_week_mean_the_same_session(
    block_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    by_date = answer([str(block_file), "--date", "2027-01-07"], capsys)
    assert by_date == answer([str(block_file), "--week", "1", "--session", "2"], capsys)
    assert by_date["lifter"] == "Ines Invented"


def test_facts_fill_an_open_load_and_leave_the_others(
    block_file: Path, log_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    without = answer([str(block_file), "--date", "2027-01-04"], capsys)
    with_log = answer([str(block_file), "--date", "2027-01-04", "--facts", str(log_file)], capsys)
    assert without["entries"][5]["sets"][0]["load_kg"] is None
    assert without["entries"][5]["find_load"]
    assert with_log["entries"][5]["sets"][0]["load_kg"] > 50
    for before, after in zip(without["entries"][:5], with_log["entries"][:5], strict=True):
        assert before["sets"] == after["sets"]


def test_facts_of_the_session_itself_and_later_change_nothing(
    block_file: Path, log_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = [str(block_file), "--date", "2027-01-07", "--facts", str(log_file)]
    before = answer(place, capsys)
    with log_file.open("a", encoding="utf-8") as out:
        out.write("2027-01-07,bench press,1,140,kg,12,2,\n2027-02-01,bench press,1,150,kg,12,2,\n")
    assert answer(place, capsys) == before


def test_a_sign_in_the_log_is_the_first_caution_of_the_next_sheet(
    block_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "signs.csv"
    log.write_text(
        "when,lift,load,unit,reps,rir,note\n"
        "2027-01-04,bench press,80,kg,8,2,all went grey\n"
        "2027-01-04,bench press,80,kg,8,2,no chest pain\n",
        encoding="utf-8",
    )
    later = [str(block_file), "--date", "2027-01-07", "--facts", str(log)]
    cautions = answer(later, capsys)["cautions"]
    assert cautions[0]["code"] == "sheet_sign"
    assert "faintness was written down on 4 January 2027" in cautions[0]["says"]
    assert [one["code"] for one in cautions].count("sheet_sign") == 1
    with log.open("a", encoding="utf-8") as more:
        more.write("2027-01-05,leg curl,30,kg,8,2,chest pain on the last set\n")
    (both,) = (one for one in answer(later, capsys)["cautions"] if one["code"] == "sheet_sign")
    assert "were written down on 4 and 5 January 2027: do not start" in both["says"]
    assert both["facts"]["sign"] in ("faintness and chest pain", "chest pain and faintness")
    same_day = [str(block_file), "--date", "2027-01-04", "--facts", str(log)]
    assert "sheet_sign" not in {one["code"] for one in answer(same_day, capsys)["cautions"]}


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([], "--week 1 --session 1"),
        (["--date", "2027-01-05"], "the nearest"),
        (["--date", "2027-01-11"], "17:30"),
        (["--date", "yesterday"], "yesterday"),
        (["--week", "40", "--session", "1"], "weeks 1 to 4"),
        (["--week", "1"], "--session"),
        (["--date", "2027-01-04", "--week", "1"], "one of the two"),
        (["--date", "2027-01-04", "--facts", "no-such.csv"], "no-such.csv"),
        (["--date", "2027-01-04", "--pdf", "no/such/folder/x.pdf"], "folder"),
    ],
)
def test_bad_questions_are_two_and_name_the_mend(
    block_file: Path, arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["sheet", str(block_file), *arguments]) == 2
    assert says in capsys.readouterr().err


def test_a_log_of_others_is_refused(
    block_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "gym.csv"
    log.write_text(
        "when,lift,set,load,unit,reps,rir,lifter\n"
        "2026-12-01,bench press,1,60,kg,8,2,Ben\n2026-12-01,bench press,1,70,kg,8,2,Cem\n",
        encoding="utf-8",
    )
    assert exit_code(["sheet", str(block_file), "--date", "2027-01-04", "--facts", str(log)]) == 2
    assert "Ben, Cem" in capsys.readouterr().err


def test_paper_workbook_and_calendar_are_written(
    block_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = {kind: tmp_path / f"sheet.{kind}" for kind in ("pdf", "xlsx", "ics")}
    options = [part for kind, file in files.items() for part in (f"--{kind}", str(file))]
    assert exit_code(["sheet", str(block_file), "--date", "2027-01-04", *options]) == 0
    assert "Barbell back squat" in capsys.readouterr().out
    assert len(PdfReader(BytesIO(files["pdf"].read_bytes())).pages) == 1
    assert load_workbook(files["xlsx"]).sheetnames[0] == "Week 1"
    assert len(Calendar.from_ical(files["ics"].read_bytes()).walk("VEVENT")) == 8


def test_a_name_the_font_lacks_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "block.json"
    made = block(lifter("\N{CJK UNIFIED IDEOGRAPH-5C71} Ana"))
    file.write_text(dumps(block_to_json(made)), encoding="utf-8")
    pdf = str(tmp_path / "x.pdf")
    assert exit_code(["sheet", str(file), "--date", "2027-01-04", "--pdf", pdf]) == 0
    assert "\N{CJK UNIFIED IDEOGRAPH-5C71}" in capsys.readouterr().err


def test_a_partner_without_a_session_that_day_is_named(
    block_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "partner.json"
    made = block(lifter("Pia Invented"), weeks=1)
    other.write_text(dumps(block_to_json(made)), encoding="utf-8")
    place = [str(block_file), "--date", "2027-01-21", "--partner", str(other)]
    assert exit_code(["sheet", *place]) == 2
    assert "Pia Invented has no session on 2027-01-21" in capsys.readouterr().err


def test_a_partner_shares_the_bar(
    block_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "partner.json"
    other.write_text(dumps(block_to_json(block(lifter("Pia Invented")))), encoding="utf-8")
    document = answer([str(block_file), "--date", "2027-01-04", "--partner", str(other)], capsys)
    shared = document["entries"][0]["shared_bar"]
    assert shared["partner"] == "Pia Invented"
    assert shared["moves_per_side"] == 0
    assert shared["load_kg"] == shared["partner_load_kg"] == 102.5


def test_the_first_week_on_paper() -> None:
    reader = PdfReader(BytesIO(first_week_pdf(case_of_block(block()))))
    assert len(reader.pages) == 2
    assert "Barbell back squat" in reader.pages[0].extract_text()


@pytest.mark.parametrize(
    ("days", "minutes", "is_known"),
    [(-1, None, True), (-1, 600, True), (0, -1, True), (0, 0, False), (0, 1, False),
     (0, None, False), (1, None, False)],
)  # fmt: skip
def test_a_sheet_knows_the_sets_before_its_session_to_the_minute(
    days: int, minutes: int | None, is_known: bool
) -> None:
    first = next(iter(sessions_of(block())))
    begins = datetime.combine(first.session.day, time.fromisoformat(first.session.start_time))
    at = None if minutes is None else begins + timedelta(days=days, minutes=minutes)
    moment = Moment(day=first.session.day + timedelta(days=days), at=at)
    done = replace(logged("bench press", 80.0)[0], moment=moment)
    known = before_session(replace(case_of_block(block()), sets=(done,)), first)
    assert bool(known.sets) is is_known


def shape(value: Any) -> Any:
    """The keys of a document, whatever its numbers."""
    if isinstance(value, dict):
        return {key: shape(item) for key, item in value.items()}
    if isinstance(value, list):
        return [shape(value[0])] if value else []
    return None


def test_the_golden_file_has_the_shape_of_an_answer(
    block_file: Path, log_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Made by `blockwright sheet` on these two files; numbers may move with the policy."""
    place = [str(block_file), "--date", "2027-01-07", "--facts", str(log_file)]
    golden = json.loads(GOLDEN.read_text(encoding="utf-8"))
    now = answer(place, capsys)
    for one in (golden, now):
        for entry in one["entries"]:
            for planned in entry["sets"]:
                planned["plates"] = None
            for rung in entry["warmup"]:
                rung["plates_per_side"] = None
    assert shape(now) == shape(golden)
    assert [entry["lift"] for entry in golden["entries"]] != [one.lift for one in LOWER_DAY]
