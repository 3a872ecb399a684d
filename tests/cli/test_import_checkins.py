"""`blockwright import --checkins`: a scale's or a watch's export into a check-ins file. The exports
are invented."""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code
from blockwright.files.checkins_file import read_checkins

EXPORT = """\
Date;Weight (kg);Hours asleep;Steps
31.01.2027 07:12;82,4;7:30;10.432
01.02.2027 07:10;82,1;7,25;8120
"""


class Import:
    def __init__(self, folder: Path, captured: pytest.CaptureFixture[str]) -> None:
        self.out = folder / "checkins.csv"
        self._folder = folder
        self._captured = captured

    def code(self, text: str, *options: str, name: str = "export.csv") -> int:
        path = self._folder / name
        path.write_text(text, encoding="utf-8")
        return exit_code(["import", str(path), "--checkins", "-o", str(self.out), *options])

    def told(self, text: str, *options: str, name: str = "export.csv") -> dict[str, Any]:
        assert self.code(text, *options, "--json", name=name) == 0, self._captured.readouterr().err
        found: dict[str, Any] = json.loads(self._captured.readouterr().out)
        return found

    def refused(self, text: str, *options: str) -> str:
        assert self.code(text, *options) == 2
        assert not self.out.exists()
        return self._captured.readouterr().err

    @property
    def rows(self) -> list[tuple[str, str, str, str]]:
        with self.out.open(encoding="utf-8", newline="") as file:
            return [
                (row["when"], row["measure"], row["value"], row["unit"])
                for row in csv.DictReader(file)
            ]


@pytest.fixture
def imported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Import:
    return Import(tmp_path, capsys)


def test_columns_are_taken_as_named_and_the_rest_left(imported: Import) -> None:
    named = ["date=Date", "sleep_h=hours  asleep", "bodyweight=Weight (kg)"]
    told = imported.told(EXPORT, *[word for name in named for word in ("--column", name)])

    assert imported.rows == [
        ("2027-01-31", "bodyweight", "82.4", "kg"),
        ("2027-01-31", "sleep_h", "7.5", ""),
        ("2027-02-01", "bodyweight", "82.1", "kg"),
        ("2027-02-01", "sleep_h", "7.25", ""),
    ]
    assert told["checkins"] == 4
    assert not told["skipped"]


def test_without_columns_the_headings_are_guessed_at_and_said(imported: Import) -> None:
    text = "Export of a watch\n\nTimestamp,Sleep,WeightPounds,TotalMinutesAsleep,TotalSteps\n"
    text += '4/13/2027 11:59 PM,82,180.5,384,"10,735"\n4/14/2027 11:59 PM,80,,,--\n'
    told = imported.told(text)

    assert told["columns"] == [
        {"column": "Timestamp", "taken_as": "date", "unit": ""},
        {"column": "WeightPounds", "taken_as": "bodyweight", "unit": "lb"},
        {"column": "TotalMinutesAsleep", "taken_as": "sleep_h", "unit": "min"},
        {"column": "TotalSteps", "taken_as": "steps", "unit": ""},
    ]
    assert imported.rows == [
        ("2027-04-13", "bodyweight", "180.5", "lb"),
        ("2027-04-13", "sleep_h", "6.4", ""),
        ("2027-04-13", "steps", "10735", ""),
    ]


def test_what_is_written_is_a_checkins_file_with_pounds_in_kilograms(imported: Import) -> None:
    imported.told("Date,Weight,Steps,Sleep (h)\n2027-01-05,200,9000,7\n", "--unit", "lb")

    found = {one.measure: one.value for one in read_checkins(imported.out).value}
    assert found == {"bodyweight": pytest.approx(90.718, abs=0.001), "steps": 9000, "sleep_h": 7}


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ("2027-01-05T07:12:00+01:00", "2027-01-05"),
        ("20270105", "2027-01-05"),
        ("Tue, 5 Jan 2027", "2027-01-05"),
        ("Jan 5, 2027 7:12 am", "2027-01-05"),
        ("13/01/2027", "2027-01-13"),
        ("1/13/27", "2027-01-13"),
        ("46027", "2026-01-05"),
    ],
)
def test_dates_in_several_orders(imported: Import, written: str, day: str) -> None:
    imported.told(f'Date,Weight (kg)\n"{written}",80\n')

    assert imported.rows == [(day, "bodyweight", "80", "kg")]


def test_what_nothing_tells_is_asked_and_the_answer_obeyed(
    imported: Import, tmp_path: Path
) -> None:
    text = "Date,Weight\n03/04/2027,80.5\n"
    told = imported.told(text)
    assert {one["id"]: one["chosen"] for one in told["questions"]} == {
        "date-order": "day first",
        "unit": "kg",
    }

    answers = tmp_path / "answers.toml"
    answers.write_text('date-order = "month first"\nunit = "lb"\n', encoding="utf-8")
    imported.told(text, "--answers", str(answers))
    assert imported.rows == [("2027-03-04", "bodyweight", "80.5", "lb")]


def test_what_cannot_be_read_is_left_out_and_listed_with_its_place(imported: Import) -> None:
    text = "Date,Weight (kg),Hours asleep,Steps\n"
    text += "soon,80,,\n,80,,\n2027-01-05,heavy,25,0\n2027-01-06,80,7 h 30 min,9000\n"
    text += "2027-01-06,,6,100\n"
    told = imported.told(text)

    assert [one["place"] for one in told["skipped"]] == [
        "export.csv, A2", "export.csv, B3", "export.csv, B4", "export.csv, C4", "export.csv, D4",
        "export.csv, C6", "export.csv, D6",
    ]  # fmt: skip
    assert all(one["why"] for one in told["skipped"])
    assert [row[1:3] for row in imported.rows] == [
        ("bodyweight", "80"),
        ("sleep_h", "7.5"),
        ("steps", "9000"),
    ]


def test_the_same_file_gives_the_same_bytes(imported: Import) -> None:
    imported.told(EXPORT)
    first = imported.out.read_bytes()
    imported.told(EXPORT)

    assert imported.out.read_bytes() == first


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--column", "sleep_h=Hour asleep"], 'did you mean "Hours asleep"?'),
        (["--column", "step=Steps"], 'did you mean "steps"?'),
        (["--column", "Steps"], "names no column"),
        (["--column", "steps=Steps", "--column", "steps=Date"], "named twice"),
        (["--column", "date=Date"], "no column of bodyweight"),
        (["--column", "stress=Steps"], "10432 is outside 1 to 7"),
    ],
)
def test_a_wrong_column_is_refused_with_the_mend(
    imported: Import, options: list[str], says: str
) -> None:
    text = EXPORT.replace("10.432", "10432")
    assert says in imported.refused(text, *options)


def test_a_file_without_measures_is_refused(imported: Import) -> None:
    assert "name it: --column" in imported.refused("Day,Mood\n2027-01-05,fine\n")
    log = "Date,Exercise,Weight (kg)\n2027-01-05,Squat,80\n"
    assert "no column of bodyweight" in imported.refused(log)
    assert "is empty" in imported.refused("")


def test_columns_go_with_checkins(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "log.csv"
    path.write_text(EXPORT, encoding="utf-8")
    out = str(tmp_path / "sets.csv")

    assert exit_code(["import", str(path), "-o", out, "--column", "steps=Steps"]) == 2
    assert "add --checkins" in capsys.readouterr().err


def test_a_tape_s_columns_are_girths_in_their_unit(imported: Import) -> None:
    told = imported.told(
        "Date,Waist,Chest (in),Left arm,Thigh girth,Chest\n"
        '2027-01-04,"81,5",40.5,33,"22 in",12\n2027-01-11,81 cm,41,33.5,57,10\n'
    )

    assert imported.rows == [
        ("2027-01-04", "waist", "81.5", "cm"),
        ("2027-01-04", "chest", "40.5", "in"),
        ("2027-01-04", "thigh", "22", "in"),
        ("2027-01-11", "waist", "81", "cm"),
        ("2027-01-11", "chest", "41", "in"),
        ("2027-01-11", "thigh", "57", "cm"),
    ]
    assert not told["skipped"]


def test_a_girth_is_named_by_its_column_and_an_odd_one_listed(imported: Import) -> None:
    named = ["--column", "date=Day", "--column", "arm=Upper arm, inches"]
    told = imported.told('Day,"Upper arm, inches"\n2027-01-04,13.5\n2027-01-11,135\n', *named)

    assert imported.rows == [("2027-01-04", "arm", "13.5", "in")]
    assert [one["text"] for one in told["skipped"]] == ["135"]
