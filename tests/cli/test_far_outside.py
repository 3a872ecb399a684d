"""A set far outside the bodyweight or the kit: asked about in a log, and no basis of a load."""

import json
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code

LIFTER = """
name = "Invented Ida"
units = "kg"
bodyweight = 63
start = 2027-01-11
weeks = 3
[[slot]]
day = "mon"
start = "18:00"
minutes = 60
[gym]
kit = ["bar", "squat rack", "bench", "leg press"]
[gym.plates]
"20" = 2
"10" = 2
"5" = 2
"2.5" = 2
"""
HEAD = "when,lift,set,load,unit,reps,rir,confirmed\n"


@pytest.fixture
def lifter(tmp_path: Path) -> Path:
    made = tmp_path / "ida.toml"
    made.write_text(LIFTER, encoding="utf-8")
    return made


def log_of(folder: Path, *rows: str) -> Path:
    made = folder / "log.csv"
    made.write_text(HEAD + "".join(f"{row}\n" for row in rows), encoding="utf-8")
    return made


def warnings(capsys: pytest.CaptureFixture[str], *files: Path) -> list[dict[str, Any]]:
    assert exit_code(["check", *map(str, files), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    found: list[dict[str, Any]] = next(f for f in document["files"] if f["kind"] == "sets")[
        "warnings"
    ]
    return found


def one_rm(capsys: pytest.CaptureFixture[str], log: Path, lifter: Path) -> Any:
    assert exit_code(["estimate", str(log), "--lifter", str(lifter), "--json"]) == 0
    (lift,) = json.loads(capsys.readouterr().out)["lifts"]
    return lift["one_rm_kg"], [flag["code"] for flag in lift["flags"]]


def test_four_hundred_by_somebody_of_sixty_three_is_asked_about_and_is_no_basis(
    tmp_path: Path, lifter: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = log_of(tmp_path, "2027-01-04,leg press,1,400,kg,12,2,")
    (asked,) = warnings(capsys, log, lifter)
    assert (asked["row"], asked["column"]) == (2, "load")
    assert "is it true?" in asked["says"]
    assert one_rm(capsys, log, lifter) == (None, ["unlikely"])
    true = log_of(tmp_path, "2027-01-04,leg press,1,400,kg,12,2,yes")
    assert warnings(capsys, true, lifter) == []
    assert one_rm(capsys, true, lifter)[0]["median"] > 400


def test_what_another_day_bears_out_is_not_asked_about(
    tmp_path: Path, lifter: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = log_of(
        tmp_path, "2027-01-04,leg press,1,400,kg,12,2,", "2027-01-07,leg press,1,400,kg,11,2,"
    )
    assert warnings(capsys, log, lifter) == []
    assert one_rm(capsys, log, lifter)[0]["median"] > 400


def test_more_than_the_listed_kit_makes_is_asked_about(
    tmp_path: Path, lifter: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The plates make 170 kg at most; a leg press without a listed stack says nothing. Of a less
    trained lifter the bodyweight would ask first."""
    lifter.write_text(f'experience = "advanced"\n{LIFTER}', encoding="utf-8")
    log = log_of(
        tmp_path, "2027-01-04,deadlift,1,215,kg,1,0,", "2027-01-05,leg press,1,220,kg,8,2,"
    )
    (asked,) = warnings(capsys, log, lifter)
    assert asked["row"] == 2
    assert "more than this gym's kit makes" in asked["says"]


@pytest.mark.parametrize(("typed", "asked"), [("2030-01-25", [1110]), ("2027-03-25", [])])
def test_a_year_that_was_mistyped_is_asked_about(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], typed: str, asked: list[int]
) -> None:
    days = ("2027-01-04", "2027-01-07", "2027-01-11", typed)
    log = log_of(tmp_path, *(f"{day},leg press,1,100,kg,10,2," for day in days))
    found = [one for one in warnings(capsys, log) if one["column"] == "when"]
    assert [one["row"] for one in found] == [5] * len(asked)
    assert [f"lies {far} days" in found[0]["says"] for far in asked] == [True] * len(asked)
