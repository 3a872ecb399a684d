"""`blockwright import`: what is written, what is asked, what is left out, exit codes."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from blockwright.cli.main import exit_code

LOG = """\
Date,Exercise,Weight,Reps
05/06/2027,Bench,80,"8,8,7"
05/06/2027,Squat,100,5
05/06/2027,Plank,,60s
"""


@dataclass(frozen=True)
class Result:
    code: int
    stdout: str
    stderr: str


class Command:
    def __init__(self, captured: pytest.CaptureFixture[str]) -> None:
        self._captured = captured

    def __call__(self, *arguments: object) -> Result:
        code = exit_code(["import", *map(str, arguments)])
        return Result(code, *self._captured.readouterr())

    def json(self, *arguments: object) -> dict[str, Any]:
        result = self(*arguments, "--json")
        assert result.code == 0, result.stderr
        found: dict[str, Any] = json.loads(result.stdout)
        return found


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Command:
    return Command(capsys)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    path = tmp_path / "log.csv"
    path.write_text(LOG, encoding="utf-8")
    return path


def test_the_sets_file_and_what_was_asked_and_left_out(
    run: Command, log: Path, tmp_path: Path
) -> None:
    out = tmp_path / "sets.csv"
    told = run.json(log, "-o", out)

    rows = out.read_text(encoding="utf-8").splitlines()
    assert rows[0].startswith("when,lift,set,load,unit,reps,rir")
    assert "lifter" not in rows[0]
    assert rows[1].startswith("2027-06-05,bench press,1,80,kg,8")
    assert told["sets"] == len(rows) - 1 == 4
    assert told["lifters"] == []
    assert {question["id"] for question in told["questions"]} == {"unit", "date-order"}
    [skipped] = told["skipped"]
    assert skipped["place"] == "log.csv, D4"
    assert skipped["text"] == "60s"
    assert skipped["why"]


def test_an_answer_is_obeyed_and_the_ids_stay(run: Command, log: Path, tmp_path: Path) -> None:
    out, answers = tmp_path / "sets.csv", tmp_path / "answers.toml"
    answers.write_text('date-order = "month first"\nunit = "lb"\n', encoding="utf-8")
    told = run.json(log, "-o", out, "--answers", answers)

    assert (
        out.read_text(encoding="utf-8")
        .splitlines()[1]
        .startswith("2027-05-06,bench press,1,80,lb,8")
    )
    assert {question["id"]: question["chosen"] for question in told["questions"]} == {
        "unit": "lb",
        "date-order": "month first",
    }


@pytest.mark.parametrize(
    ("answers", "says"),
    [
        ('unit = "stone"', '"stone" is no answer'),
        ('units = "kg"', "no such question was asked"),
        ("unit = ", "answers.toml"),
    ],
)
def test_a_wrong_answer_is_named(
    run: Command, log: Path, tmp_path: Path, answers: str, says: str
) -> None:
    out, path = tmp_path / "sets.csv", tmp_path / "answers.toml"
    path.write_text(answers, encoding="utf-8")
    result = run(log, "-o", out, "--answers", path)

    assert result.code == 2
    assert says in result.stderr
    assert not out.exists()


def test_the_unit_of_the_command_settles_the_question(
    run: Command, log: Path, tmp_path: Path
) -> None:
    told = run.json(log, "-o", tmp_path / "sets.csv", "--unit", "lb")

    assert "unit" not in {question["id"] for question in told["questions"]}


def test_weeks_that_began_nobody_knows_when_wait_for_the_answer(
    run: Command, tmp_path: Path
) -> None:
    log, out, answers = (tmp_path / name for name in ("log.csv", "sets.csv", "answers.toml"))
    log.write_text("Exercise,Week 1,Week 2\nSquat,100x5,105x5\n", encoding="utf-8")
    answers.write_text('week-1 = "2027-01-18"\n', encoding="utf-8")

    refused = run(log, "-o", out, "--unit", "kg")
    assert (refused.code, out.exists()) == (2, False)
    assert "On which Monday did week 1 begin?" in refused.stderr

    assert run(log, "-o", out, "--unit", "kg", "--answers", answers).code == 0
    rows = out.read_text(encoding="utf-8").splitlines()[1:]
    assert [row[:10] for row in rows] == ["2027-01-18", "2027-01-25"]


def test_nothing_to_read_is_bad_input_and_writes_nothing(run: Command, tmp_path: Path) -> None:
    path, out = tmp_path / "shopping.csv", tmp_path / "sets.csv"
    path.write_text("milk,2\nbread,1\n", encoding="utf-8")
    result = run(path, "-o", out)

    assert result.code == 2
    assert "holds no set that can be read" in result.stderr
    assert not out.exists()


def test_the_same_file_gives_the_same_bytes(run: Command, log: Path, tmp_path: Path) -> None:
    first, second = tmp_path / "a.csv", tmp_path / "b.csv"
    told = [run.json(log, "-o", out) for out in (first, second)]

    assert first.read_bytes() == second.read_bytes()
    assert told[0] == told[1]


def test_the_file_that_is_read_is_not_written_over(run: Command, log: Path) -> None:
    result = run(log, "-o", log.parent / "." / log.name)
    assert result.code == 2
    assert "name another file" in result.stderr
    assert log.read_text(encoding="utf-8") == LOG


def rows_of(run: Command, path: Path) -> list[str]:
    """Load, unit, repetitions and RIR of each set."""
    out = path.with_name("sets.csv")
    assert run(path, "-o", out).code == 0
    rows = [line.split(",") for line in out.read_text(encoding="utf-8").splitlines()[1:]]
    return [" ".join(row[3:7]) for row in rows]


def test_behind_a_load_with_its_sets_stands_an_effort(run: Command, tmp_path: Path) -> None:
    """ "3x12 @ 10" is a load in a file of such loads, "100 3x5 @8" ends in an effort all the
    same."""
    path = tmp_path / "log.csv"
    told = [
        "Hammer curl;3x12 @ 12",
        "Hammer curl;3x12 @ 10",
        "Row;4x6 @ 62,5",
        "Squat;Top: 100kg 2x5 @8",
    ]
    lines = [f"2027-03-0{day};{line}" for day, line in enumerate(told, 1)]
    path.write_text("\n".join(["Date;Exercise;Work", *lines]), encoding="utf-8")
    found = rows_of(run, path)
    assert found[:6] == ["12 kg 12 "] * 3 + ["10 kg 12 "] * 3
    assert found[-2:] == ["100 kg 5 ", "100 kg 5 2"]


def test_the_unit_of_one_tab_is_not_that_of_the_others(run: Command, tmp_path: Path) -> None:
    path = tmp_path / "gym.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        for tab, load in (("Mina", 60), ("Ruth (lb)", 135), ("Tobias", 100)):
            sheet = book.add_worksheet(tab)
            sheet.write_row(0, 0, ["Date", "Exercise", "Work"])
            sheet.write_row(1, 0, ["2027-02-01", "Front squat", f"{load}x8,8"])
    loads = {" ".join(row.split()[:2]) for row in rows_of(run, path)}
    assert loads == {"60 kg", "135 lb", "100 kg"}


def test_an_easy_set_of_a_light_day_is_not_asked_about(run: Command, tmp_path: Path) -> None:
    """As in a deload; beside heavier sets of the day so low an effort is still asked about."""
    heads = "Date,Exercise,Weight (kg),Reps,RIR\n"
    heavy = "".join(f"2027-02-0{day},Bench press,80,8,2\n" for day in range(1, 6))
    path = tmp_path / "log.csv"
    path.write_text(heads + heavy + "2027-02-08,Bench press,70,10,6\n", encoding="utf-8")
    assert run.json(path, "-o", tmp_path / "sets.csv")["questions"] == []
    path.write_text(heads + heavy + "2027-02-05,Bench press,70,10,6\n", encoding="utf-8")
    asked = run.json(path, "-o", tmp_path / "sets.csv")["questions"]
    assert [one["id"] for one in asked] == ["doubtful"]


def test_a_text_document_gets_its_own_mend(run: Command, tmp_path: Path) -> None:
    path = tmp_path / "log.docx"
    path.write_bytes(b"PK\x03\x04 whatever")
    result = run(path, "-o", tmp_path / "sets.csv")
    assert result.code == 2
    assert "copy its table into a spreadsheet" in result.stderr


def test_odd_places_and_units_are_refused_in_words(run: Command, tmp_path: Path) -> None:
    one, other = tmp_path / "one.csv", tmp_path / "other.csv"
    one.symlink_to(other)
    other.symlink_to(one)
    assert run(one, "-o", tmp_path / "sets.csv").code == 2
    log = tmp_path / "log.csv"
    rows = "2027-02-01,Bench press,12,st,8\n2027-02-01,Bench press,80,kg,8\n"
    log.write_text(f"Date,Exercise,Load,Unit,Reps\n{rows}", encoding="utf-8")
    told = run.json(log, "-o", tmp_path / "sets.csv")
    assert (told["sets"], told["skipped"][0]["why"]) == (1, "its unit is neither kg nor lb")


def test_a_pair_with_its_unit_before_a_list(run: Command, tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text("Date;Exercise;Work;RIR left\n2027-02-01;DB row;2x35lb 8,7,6;1\n", "utf-8")
    assert rows_of(run, path) == ["35 lb 8 ", "35 lb 7 ", "35 lb 6 1"]
