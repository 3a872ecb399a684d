"""`blockwright plan` and `replan`: the contract's document, the text, every way to ask wrongly."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from blockwright.cli.main import exit_code
from blockwright.files.block_json import block_from_json, block_to_json
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.json_text import dumps
from blockwright.files.policy_files import default_policy
from blockwright.files.schemas import schema_of
from blockwright.verbs.block_words import block_text
from plan_checker import findings_of

CLASH = Path(__file__).parents[1] / "goldens" / "clash.json"
FIXED_BLOCK = Path(__file__).parents[1] / "fixed" / "block.json"

LIFTER = """
name = "Invented Ivo"
bodyweight = 74
start = 2027-01-04
weeks = 4
[[slot]]
day = "mon"
start = "18:00"
minutes = 45
[[slot]]
day = "thu"
start = "18:00"
minutes = 45
[emphasis]
biceps = "hold"
[[pin]]
lift = "dumbbell bench press"
days = ["mon"]
[gym]
kit = ["dumbbells", "bench", "pull-up bar"]
[gym.dumbbells]
from = 4
to = 40
step = 2
"""

SETS = """when,lift,set,load,unit,reps,rir
2026-12-21,dumbbell bench press,1,22,kg,10,2
2026-12-21,dumbbell bench press,2,22,kg,9,2
2026-12-28,dumbbell bench press,1,22,kg,11,2
2026-12-28,dumbbell bench press,2,22,kg,10,1
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("plan")
    (made / "ivo.toml").write_text(LIFTER, encoding="utf-8")
    (made / "sets.csv").write_text(SETS, encoding="utf-8")
    asked = [
        "plan", str(made / "ivo.toml"), "--facts", str(made / "sets.csv"), "--search", "quick",
        "-o", str(made / "block.json"),
    ]  # fmt: skip
    assert exit_code(asked) == 0
    return made


def document(path: Path) -> dict[str, Any]:
    made: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    Draft202012Validator(schema_of("block")).validate(made)
    return made


def test_the_block_keeps_its_schema_and_every_rule(folder: Path) -> None:
    made = document(folder / "block.json")
    assert made["format"] == "blockwright/block/1"
    block = block_from_json(made, "block.json")
    assert findings_of(block, builtin_catalogue(), default_policy()) == []
    assert dumps(block_to_json(block)) == (folder / "block.json").read_text(encoding="utf-8")


def test_what_was_logged_gets_a_load_and_the_rest_none(folder: Path) -> None:
    made = document(folder / "block.json")
    loads: dict[str, set[float | None]] = {}
    for session in made["weeks"][0]["sessions"]:
        for entry in session["entries"]:
            loads.setdefault(entry["lift"], set()).update(s["load_kg"] for s in entry["sets"])
    assert loads.pop("dumbbell bench press") <= {16.0, 18.0, 20.0, 22.0, 24.0}
    assert all(load == {None} for load in loads.values())


def test_nothing_comes_in_that_its_own_sheet_leaves_out(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log, block = tmp_path / "log.csv", tmp_path / "block.json"
    hurt = "2026-12-30,dumbbell row,1,20,kg,10,2,4,front of the shoulder pinched"
    head, *rows = SETS.splitlines()
    late = "2027-01-04,dumbbell row,1,20,kg,10,2,,"
    told = [f"{head},pain,note", *(f"{row},," for row in rows), hurt, late]
    log.write_text("\n".join(told), encoding="utf-8")
    given = ["--facts", str(log)]
    lifter = str(folder / "ivo.toml")
    assert exit_code(["plan", lifter, *given, "--search", "quick", "-o", str(block)]) == 0
    assert f"1 of {len(told) - 1} sets are not before the block's start" in capsys.readouterr().err
    for day in ("2027-01-04", "2027-01-07"):
        assert exit_code(["sheet", str(block), "--date", day, *given]) == 0
        said = capsys.readouterr().out
        assert " out today" not in said, said


def test_the_same_bytes_and_json_on_stdout(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = [
        "plan", str(folder / "ivo.toml"), "--facts", str(folder / "sets.csv"),
        "--search", "quick", "--json",
    ]  # fmt: skip
    assert exit_code(asked) == 0
    said = capsys.readouterr()
    assert said.out == (folder / "block.json").read_text(encoding="utf-8")
    assert "plan:" in said.err


def test_the_text_is_a_coachs_summary(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["plan", str(folder / "ivo.toml"), "--search", "quick", "--previous",
             str(folder / "block.json")]  # fmt: skip
    assert exit_code(asked) == 0
    text = capsys.readouterr().out
    for words in ("Invented Ivo", "Week 1", "Week 4", "deload", "Weekly sets", "Why:", "biceps"):
        assert words in text


def test_the_text_says_a_load_as_the_sheet_does(folder: Path) -> None:
    """What is added to bodyweight, and what help takes off it, are no loads of their own."""
    block = block_from_json(json.loads((folder / "block.json").read_text("utf-8")), "block.json")
    week = block.weeks[0]
    entry = week.sessions[0].entries[0]

    def said(lift: str, load_kg: float) -> str:
        sets = tuple(replace(one, load_kg=load_kg) for one in entry.sets)
        entries = (replace(entry, lift=lift, sets=sets), *week.sessions[0].entries[1:])
        sessions = (replace(week.sessions[0], entries=entries), *week.sessions[1:])
        weeks = (replace(week, sessions=sessions), *block.weeks[1:])
        lines = block_text(replace(block, weeks=weeks)).splitlines()
        return next(line for line in lines if f"1. {lift}:" in line)

    assert " at bodyweight, rest " in said("pull-up", 0.0)
    assert " at bodyweight + 5 kg, rest " in said("pull-up", 5.0)
    assert " at 20 kg of help, rest " in said("assisted pull-up", 20.0)
    assert " at 80 kg, rest " in said("barbell back squat", 80.0)


def test_replan_short_of_time(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = folder / "short.json"
    asked = ["replan", str(folder / "block.json"), "--date", "2027-01-11", "--minutes", "25",
             "-o", str(target)]  # fmt: skip
    assert exit_code(asked) == 0
    assert "Only 25 minutes" in capsys.readouterr().out
    made = document(target)
    assert made["revision"] == 2
    session = made["weeks"][1]["sessions"][0]
    assert session["minutes_available"] == 25
    assert session["minutes_planned"] <= 25


def test_replan_a_lift_that_hurts(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    block = json.loads((folder / "block.json").read_text(encoding="utf-8"))
    session = next(s for w in block["weeks"] for s in w["sessions"] if s["date"] == "2027-01-11")
    lift = session["entries"][0]["lift"]
    asked = ["replan", str(folder / "block.json"), "--date", "2027-01-11", "--hurts", lift]
    assert exit_code([*asked, "--json"]) == 0
    made = json.loads(capsys.readouterr().out)
    week = next(w for w in made["weeks"] if w["week"] == 2)
    left = [s for s in week["sessions"] if s["date"] >= "2027-01-11"]
    assert lift not in {entry["lift"] for s in left for entry in s["entries"]}
    assert made["reasons"][0]["code"] == "replan_hurts"
    assert "licensed professional" in made["cautions"][-1]["says"]
    assert exit_code(asked) == 0
    assert "! " + made["cautions"][-1]["says"] in capsys.readouterr().out


def test_replan_missed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["replan", str(folder / "block.json"), "--date", "2027-01-11", "--missed", "--json"]
    assert exit_code(asked) == 0
    made = json.loads(capsys.readouterr().out)
    Draft202012Validator(schema_of("block")).validate(made)
    session = made["weeks"][1]["sessions"][0]
    assert session["missed"]
    assert session["entries"] == []
    assert made["reasons"][0]["code"] == "replan_missed"


HURT = ("dumbbell bench press", "bulgarian split squat")
"""The first gains a set when the Monday is missed, as long as nobody says that it hurts."""


@pytest.mark.parametrize(
    ("left", "option", "rows"),
    [
        ([3, 0], "--facts", ["when,lift,set,load,unit,reps,rir,pain", *(
            f"2027-01-09,{lift},1,40,kg,10,2,{pain}" for lift, pain in zip(HURT, "47", strict=True)
        )]),
        ([3, 0], "--checkins", ["when,measure,about,value", *(
            f"2027-01-09,pain,{lift},{pain}" for lift, pain in zip(HURT, "47", strict=True)
        )]),
        ([3, 2], "--checkins", ["when,measure,about,value", *(
            f"2026-12-27,pain,{lift},4" for lift in HURT  # live for the letter, not on the day
        )]),
        ([3, 2], "--facts", ["when,lift,set,load,unit,reps,rir,note",
                             "2027-01-09,leg press,1,90,kg,10,2,chest pain on the last two"]),
    ],
)  # fmt: skip
def test_replan_adds_nothing_to_what_hurts_by_the_log(
    left: list[int],
    option: str,
    rows: list[str],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    log = tmp_path / "log.csv"
    log.write_text("\n".join(rows) + "\n", encoding="utf-8")
    asked = ["replan", str(FIXED_BLOCK), "--date", "2027-01-11", "--missed"]

    def sets(*more: str) -> list[int]:
        assert exit_code([*asked, *more, "--json"]) == 0
        after = json.loads(capsys.readouterr().out)["weeks"][1]["sessions"][1:]
        entries = [entry for session in after for entry in session["entries"]]
        return [sum(len(e["sets"]) for e in entries if e["lift"] == lift) for lift in HURT]

    assert sets() == [5, 2]
    assert sets(option, str(log)) == left
    assert exit_code(asked) == 0
    said = capsys.readouterr().out
    assert "Without a log: nothing is known of pain" in said
    assert "1. barbell back squat: 3 ×" in said, "the pinned lift is carried"
    assert said.index("1. romanian deadlift") < said.index("3. dumbbell bench press")
    assert exit_code([*asked, option, str(log)]) == 0
    said = capsys.readouterr().out
    assert "Without a log" not in said
    assert "No set more, until what was reported of them is quiet or cleared: " in said
    assert ("! bulgarian split squat: left out of a week for pain" in said) is (left[1] == 0)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--date", "2027-01-11"], "one of --minutes"),
        (["--date", "2027-01-11", "--minutes", "20", "--missed"], "one of --minutes"),
        (["--date", "2027-01-11", "--minutes", "0"], "--missed"),
        (["--date", "2027-01-11", "--minutes", "3"], "no lift of the session"),
        (["--date", "2027-01-11", "--minutes", "500"], "minutes as it is"),
        (["--date", "2027-01-12", "--missed"], "no session on 2027-01-12"),
        (["--date", "2027-01-11", "--without", "dumbell bench pres"], "did you mean"),
        (["--date", "2027-01-11", "--sore", "quad"], "quads"),
        (["--date", "11.1.2027", "--missed"], "--date"),
    ],
)
def test_replan_asked_wrongly(
    folder: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], words: str
) -> None:
    assert exit_code(["replan", str(folder / "block.json"), *arguments]) == 2
    said = capsys.readouterr()
    assert words in said.err
    assert said.out == ""


def test_a_plan_needs_a_start_and_a_slot(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "bare.toml"
    file.write_text('name = "Bare"\n', encoding="utf-8")
    assert exit_code(["plan", str(file)]) == 2
    said = capsys.readouterr().err
    assert all(word in said for word in ("start", "slot", "bodyweight"))


def test_a_log_of_other_people_is_refused(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = SETS.splitlines()
    people = tmp_path / "people.csv"
    people.write_text(
        "\n".join([rows[0] + ",lifter", rows[1] + ",Ann", rows[2] + ",Bea"]), encoding="utf-8"
    )
    assert exit_code(["plan", str(folder / "ivo.toml"), "--facts", str(people)]) == 2
    assert "Ann, Bea" in capsys.readouterr().err


def test_a_clash_is_said_in_the_lifters_words_and_as_json(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "clash.toml"
    file.write_text(
        LIFTER + '[limits]\navoid_lifts = ["pull-up"]\n[[pin]]\nlift = "pull-up"\ndays = ["mon"]\n',
        encoding="utf-8",
    )
    assert exit_code(["plan", str(file), "--json"]) == 2
    said = capsys.readouterr()
    assert '"pull-up" on mon is pinned' in said.err
    Draft202012Validator(schema_of("clash")).validate(json.loads(said.out))
    assert said.out == CLASH.read_text(encoding="utf-8")
