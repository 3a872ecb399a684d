"""`blockwright estimate` and `blockwright backtest` as a person runs them, on an invented log."""

import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from blockwright.cli.main import exit_code
from blockwright.files.schemas import schema_of

GOLDENS = Path(__file__).resolve().parents[1] / "goldens"
HEADER = "when,lift,set,load,unit,reps,rir,rest_s,method,full_range,pain,confirmed"
LIFTER = 'name = "Ana Invented"\nbodyweight = 70\n'


def log_text() -> str:
    """Seven sessions of two lifts, with one of each thing that can go wrong."""
    lines = [HEADER]
    for session in range(7):
        day = date(2027, 1, 4) + timedelta(days=4 * session)
        load = 80 + 2.5 * (session // 2)
        lines.append(f"{day},bench press,1,40,kg,8,,,warmup,,,")
        for number, reps in ((2, 9), (3, 8), (4, 7)):
            rir = "" if session == 5 and number == 4 else "1-2" if number == 4 else "2"
            lines.append(f"{day},bench press,{number},{load:g},kg,{reps},{rir},150,,,,")
        lines.append(f"{day},pull-up,1,5,kg,{8 + session // 3},2,,,,,")
    lines += [
        "2027-02-02,bench press,1,875,kg,8,2,,,,,",
        "2027-02-02,bench press,2,87.5,kg,8,2,150,,no,,",
        "2027-02-02,bench press,3,87.5,kg,8,2,150,,,7,",
        "2027-02-02,bench press,4,40,kg,35,2,150,,,,",
        "2027-02-02,bench press,5,60,kg,12+4+3,0,150,rest-pause,,,",
        "2027-02-02,bench press,6,130,kg,0,,240,,,,",
    ]
    return "\n".join(lines) + "\n"


@pytest.fixture
def files(tmp_path: Path) -> tuple[str, str]:
    (tmp_path / "sets.csv").write_text(log_text(), encoding="utf-8")
    (tmp_path / "ana.toml").write_text(LIFTER, encoding="utf-8")
    return str(tmp_path / "sets.csv"), str(tmp_path / "ana.toml")


def run(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = exit_code(arguments)
    return code, capsys.readouterr().out


@pytest.mark.parametrize("command", ["estimate", "backtest"])
def test_the_document_is_the_golden_one(
    command: str, files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    code, out = run([command, files[0], "--lifter", files[1], "--json"], capsys)
    assert code == 0
    Draft202012Validator(schema_of(command)).validate(json.loads(out))
    assert out == (GOLDENS / f"{command}.json").read_text(encoding="utf-8")


def test_flags_name_what_was_left_out(
    files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(["estimate", files[0], "--lifter", files[1], "--json"], capsys)
    bench = json.loads(out)["lifts"][0]
    assert [flag["code"] for flag in bench["flags"]] == [
        "mistyped", "not_full_range", "painful_set", "too_many_reps", "failed_attempt",
    ]  # fmt: skip
    assert "87.5 kg?" in bench["flags"][0]["says"]


def test_backtest_says_why_a_row_is_skipped(
    files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(["backtest", files[0], "--lifter", files[1], "--json"], capsys)
    rows = json.loads(out)["rows"]
    assert [row["skipped"] for row in rows if row["lift"] == "bench press"][:2] == [
        "warmup", "first_set",
    ]  # fmt: skip
    assert [row["skipped"] for row in rows[-6:]] == [
        None, "not_full_range", "painful_set", "too_many_reps", "mini_sets", "no_rir",
    ]  # fmt: skip
    assert all((row["predicted"] is None) == (row["skipped"] is not None) for row in rows)
    assert [row["flagged"] for row in rows[-6:]] == [True, *[False] * 5]


def test_without_a_bodyweight_the_lift_is_skipped_with_a_flag(
    files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    code, out = run(["estimate", files[0], "--json"], capsys)
    pull_up = next(one for one in json.loads(out)["lifts"] if one["lift"] == "pull-up")
    assert code == 0
    assert pull_up["one_rm_kg"] is None
    assert [flag["code"] for flag in pull_up["flags"]] == ["no_bodyweight"]


def test_through_leaves_out_what_came_later(
    files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    _, out = run(["estimate", files[0], "--through", "2027-01-10", "--json"], capsys)
    document = json.loads(out)
    assert {one["as_of"] for one in document["lifts"]} == {"2027-01-10"}
    assert document["lifts"][0]["sets_used"] == 6


def test_text_can_be_read_aloud(files: tuple[str, str], capsys: pytest.CaptureFixture[str]) -> None:
    _, out = run(["estimate", files[0], "--lifter", files[1]], capsys)
    assert "bench press: 1RM about" in out
    assert "80 % sure" in out
    _, out = run(["backtest", files[0], "--lifter", files[1]], capsys)
    assert "sets were predicted from the sets before them" in out


def test_one_set_is_said_in_the_singular(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    row = "2027-01-04,bench press,1,80,kg,8,2,,,,,"
    (tmp_path / "one.csv").write_text(f"{HEADER}\n{row}\n", encoding="utf-8")
    _, out = run(["estimate", str(tmp_path / "one.csv")], capsys)
    assert "; 1 set, as of 2027-01-04" in out


def test_a_load_with_all_its_decimals_is_a_number(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Other programs write 52.5 kg typed as pounds as 115.74268764706072."""
    row = "2027-01-04,bench press,1,115.74268764706072,lb,8,2,,,,,"
    (tmp_path / "long.csv").write_text(f"{HEADER}\n{row}\n", encoding="utf-8")
    code, out = run(["backtest", str(tmp_path / "long.csv"), "--json"], capsys)
    assert code == 0
    assert json.loads(out)["rows"][0]["load_kg"] == pytest.approx(52.5)


def test_a_log_in_pounds_is_answered_in_pounds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [f"2027-01-0{day},bench press,1,{load},lb,8,2,,,,," for day, load in ((4, 95), (7, 100))]
    for last, unit in ((rows[-1], " lb"), (rows[-1].replace("100,lb", "45,kg"), " kg")):
        (tmp_path / "log.csv").write_text("\n".join([HEADER, rows[0], last]), encoding="utf-8")
        _, out = run(["estimate", str(tmp_path / "log.csv")], capsys)
        assert unit in out.splitlines()[0]


def test_an_empty_log_is_no_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "empty.csv").write_text(HEADER + "\n", encoding="utf-8")
    for command in ("estimate", "backtest"):
        code, out = run([command, str(tmp_path / "empty.csv"), "--json"], capsys)
        assert code == 0
        Draft202012Validator(schema_of(command)).validate(json.loads(out))


def test_the_text_says_on_which_scale_a_bodyweight_lift_stands(
    files: tuple[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    _, text = run(["estimate", files[0], "--lifter", files[1]], capsys)
    pull_up, bench = (
        next(line for line in text.splitlines() if line.startswith(f"{lift}: 1RM"))
        for lift in ("pull-up", "bench press")
    )
    assert " kg with the bodyweight it moves, 80 % sure" in pull_up
    assert "bodyweight" not in bench


def test_check_ins_in_place_of_sets_are_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "checkins.csv"
    path.write_text("when,measure,about,value,unit\n2027-01-04,sleep,,3,\n", encoding="utf-8")
    assert exit_code(["estimate", str(path)]) == 2
    assert "is a check-ins file" in capsys.readouterr().err
