"""`blockwright check` as a person meets it: text, JSON, exit codes, several files at once."""

import json
from datetime import date, timedelta
from pathlib import Path

import pytest

from blockwright.cli.main import exit_code
from blockwright.files.schemas import problems_against

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
GOLDEN = ROOT / "tests" / "goldens" / "check.json"
HEADER = "when,lift,set,load,unit,reps,rir"


def log_with(last_row: str, lift: str = "barbell back squat", load: str = "82.5") -> str:
    """Nine plain rows on three days, then one more."""
    rows = [
        f"{date(2027, 1, 4) + timedelta(days=3 * day)},{lift},{number},{load},kg,8,2"
        for day in range(3)
        for number in (1, 2, 3)
    ]
    return "\n".join([HEADER, *rows, last_row]) + "\n"


def check(capsys: pytest.CaptureFixture[str], *files: Path | str) -> tuple[int, dict[str, object]]:
    code = exit_code(["check", *map(str, files), "--json"])
    document = json.loads(capsys.readouterr().out)
    assert problems_against("check", document, "answer") == []
    return code, document


def warnings_of(document: dict[str, object], place: int = 0) -> list[dict[str, object]]:
    return document["files"][place]["warnings"]  # type: ignore[index,no-any-return]


def test_the_examples_are_sound(capsys: pytest.CaptureFixture[str]) -> None:
    code, document = check(capsys, *sorted(EXAMPLES.iterdir()))
    assert code == 0
    files: list[dict[str, object]] = document["files"]  # type: ignore[assignment]
    kinds = {Path(str(file["file"])).name: file["kind"] for file in files}
    assert kinds["lifter.toml"] == "lifter"
    assert kinds["log.csv"] == "sets"
    assert kinds["checkins.csv"] == "checkins"
    for file in files:
        assert file["errors"] == file["warnings"] == []


@pytest.mark.parametrize(
    ("row", "column", "words"),
    [
        ("2027-01-13,squat,1,825,kg,8,2", "load", "did you mean 82.5 kg?"),
        ("2027-01-13,squat,1,8.25,kg,8,2", "load", "did you mean 82.5 kg?"),
        ("2027-01-13,squat,1,180,kg,8,2", "load", "did you mean 180 lb?"),
        ("2027-01-13,squat,1,82.5,lb,8,2", "load", "did you mean 82.5 kg?"),
        ("2027-01-13,squat,1,300,kg,8,2", "load", "far above the usual, near 82.5 kg"),
        ("2027-01-13,squat,1,82.5,kg,60,2", "reps", "60 repetitions"),
        ("2027-01-13,sqat,1,82.5,kg,8,2", "lift", "wide guesses"),
    ],
)
def test_unlikely_rows_are_questions_not_errors(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], row: str, column: str, words: str
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(log_with(row))
    code, document = check(capsys, file)
    assert code == 0
    (warning,) = warnings_of(document)
    assert (warning["row"], warning["column"]) == (11, column)
    assert words in str(warning["says"])
    assert warning["mend"]


def test_two_machines_under_one_name_are_one_question(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Five weeks on one chest press, then two in turn: one question, for the set that showed it."""
    rows = [HEADER]
    for week in range(12):
        load, reps = (80, 9) if week > 4 and week % 2 else (56, 8)
        day = date(2027, 1, 4) + timedelta(days=7 * week)
        rows.append(f"{day},chest press,1,{load},kg,{reps + week % 2},0")
    log = tmp_path / "log.csv"
    log.write_text("\n".join(rows) + "\n", encoding="utf-8")
    code, document = check(capsys, log)
    assert code == 0
    asked = [one for one in warnings_of(document) if "two levels" in str(one["says"])]
    assert [one["column"] for one in asked] == ["lift"]
    assert str(asked[0]["says"]).startswith("chest press")
    said = tmp_path / "checkins.csv"
    said.write_text(
        "when,measure,about,value\n2027-03-30,machines,chest press,2\n", encoding="utf-8"
    )
    assert not warnings_of(check(capsys, log, said)[1])
    log.write_text("\n".join(rows[:8]) + "\n", encoding="utf-8")
    _, document = check(capsys, log)
    assert not [one for one in warnings_of(document) if "two levels" in str(one["says"])]


def test_a_confirmed_row_is_not_asked_about(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "log.csv"
    text = log_with("2027-01-13,squat,1,825,kg,8,2").replace("\n", ",\n")
    file.write_text(text.replace(HEADER + ",", HEADER + ",confirmed").replace("8,2,\n", "8,2,\n"))
    assert len(warnings_of(check(capsys, file)[1])) == 1
    file.write_text(file.read_text().replace("825,kg,8,2,", "825,kg,8,2,yes"))
    assert warnings_of(check(capsys, file)[1]) == []


def test_a_lifter_file_lends_its_lifts_and_bodyweight_to_the_log(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(log_with("2027-01-13,pull-up,1,20,kg,8,2", "yoke squat"))
    lifter = tmp_path / "lifter.toml"
    lifter.write_text(
        'name = "Ana"\nbodyweight = 70\n[gym]\nkit = []\n'
        '[[lift]]\nname = "yoke squat"\npattern = "squat"\nmuscles = { quads = 1.0 }\n'
    )
    assert len(warnings_of(check(capsys, log)[1])) == 1, "the lift is not known alone"
    assert warnings_of(check(capsys, log, lifter)[1]) == []


def test_kinds_are_told_by_ending_and_content(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    contents = {
        "a.toml": 'nmae = "Ana"',
        "b.toml": "[suspect]\nmany_reps = 60",
        "c.txt": HEADER + "\n",
        "d.CSV": "When;Measure;About;Value\n",
        "e.tsv": "date\texercise\tweight\treps\n",
        "f.json": '{"format": "blockwright/proposals/1"}',
    }
    for name, content in contents.items():
        (tmp_path / name).write_text(content)
    _, document = check(capsys, *sorted(tmp_path.iterdir()))
    files: list[dict[str, object]] = document["files"]  # type: ignore[assignment]
    assert [file["kind"] for file in files] == [
        "lifter", "policy", "sets", "checkins", "sets", "proposals",
    ]  # fmt: skip


def test_the_text_names_place_and_mend_and_keeps_long_lists_short(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "log.csv"
    file.write_text(HEADER + "\n" + "2027-01-04,squat,1,-20,kg,8,2\n" * 50)
    assert exit_code(["check", str(file)]) == 2
    out = capsys.readouterr().out
    assert f"{file} (sets): 50 errors" in out
    assert "row 2, load: -20 is below zero" in out
    assert "write loads and assistance without a minus" in out
    assert "and 30 more of these" in out
    assert out.count("\n") == 42


def test_one_bad_file_does_not_hide_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good = tmp_path / "good.csv"
    good.write_text(HEADER + "\n")
    code, document = check(capsys, tmp_path / "none.toml", good)
    assert code == 2
    assert warnings_of(document, 1)


def test_the_golden_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("lifter.toml").write_text(
        'name = "Ana"\nbodywieght = 81\nstart = 2027-01-05\n'
        '[[slot]]\nday = "mon"\nstart = "06:30"\nminutes = 600\n'
    )
    log = log_with("2027-01-13,barbel row,1,70,lb,8,2")
    Path("log.csv").write_text(log.replace(",82.5,", ",825,", 1))
    Path("checkins.csv").write_text("when;measure;about;value\n2027-01-04;sore;quad;3\n")
    assert exit_code(["check", "lifter.toml", "log.csv", "checkins.csv", "--json"]) == 2
    assert capsys.readouterr().out == GOLDEN.read_text(encoding="utf-8")


def test_what_is_wrong_is_also_said_on_stderr(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever reads only stdout as JSON, or only stderr, still learns file, row and mend."""
    broken = tmp_path / "broken.csv"
    broken.write_text(log_with("2027-01-13,squat,1,heavy,kg,8,2"), encoding="utf-8")
    assert exit_code(["check", str(broken), "--json"]) == 2
    told = capsys.readouterr()
    assert json.loads(told.out)["files"][0]["errors"]
    assert str(broken) in told.err
    assert "row 11, load" in told.err
    assert exit_code(["check", str(broken), str(EXAMPLES / "log.csv")]) == 2
    told = capsys.readouterr()
    assert "row 11, load" in told.out
    assert told.err == f"blockwright: not usable as it is: {broken}\n"


@pytest.mark.parametrize(
    ("lines", "key", "words"),
    [
        ("systolic = 20", "screening.systolic", "60"),
        ("systolic = 120\ndiastolic = 130", "screening.diastolic", "not below the systolic"),
        ("systolic = 120.5", "screening.systolic", "whole"),
        (
            'cleared_on = 2026-12-01\ncleared_for = ["kidney_diseases"]',
            "screening.cleared_for.1",
            "kidney_disease",
        ),
    ],
)
def test_what_cannot_be_of_a_screening_is_an_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], lines: str, key: str, words: str
) -> None:
    file = tmp_path / "lifter.toml"
    start = 'name = "Ana"\nbodyweight = 70\nstart = 2027-01-04\n'
    file.write_text(f"{start}[screening]\n{lines}\n", encoding="utf-8")
    assert exit_code(["check", str(file), "--json"]) == 2
    (found,) = json.loads(capsys.readouterr().out)["files"][0]["errors"]
    assert found["key"] == key
    assert words in f"{found['says']} {found['mend']}"
