"""`blockwright rack`: the contract's document, the text, and every way to ask wrongly."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from blockwright.cli.main import exit_code
from blockwright.files.schemas import schema_of

GOLDEN = Path(__file__).parents[1] / "goldens" / "rack.json"

LIFTER = """
name = "Invented Ina"
units = "lb"
[policy]
"warmup.reps.3" = 2
[gym]
kit = ["bar", "dumbbells", "leg curl"]
[[gym.bar]]
name = "garage bar"
mass = 45
[[gym.bar]]
name = "light bar"
mass = 35
[gym.plates]
"45" = 1
"10" = 2
"20 kg" = 1
"2.5" = 1
[gym.dumbbells]
from = 5
to = 50
step = 5
"""


def rack(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert exit_code(["rack", *arguments, "--json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    Draft202012Validator(schema_of("rack")).validate(document)
    return document


@pytest.fixture
def lifter(tmp_path: Path) -> str:
    file = tmp_path / "ina.toml"
    file.write_text(LIFTER, encoding="utf-8")
    return str(file)


def test_golden(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["rack", "83", "--partner", "47.5", "--json"]) == 0
    written = capsys.readouterr().out
    assert written == GOLDEN.read_text(encoding="utf-8")
    Draft202012Validator(schema_of("rack")).validate(json.loads(written))


def test_exact_load_is_its_own_neighbour(capsys: pytest.CaptureFixture[str]) -> None:
    document = rack(capsys, "100")
    assert document["exact"] is True
    assert document["below"] == document["above"]
    assert document["below"]["plates_per_side"] == {"20": 2}
    assert document["partner"] is None


def test_below_the_bar_there_is_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    document = rack(capsys, "12,5")
    assert document["below"] is None
    assert document["above"]["load_kg"] == 20
    assert document["above"]["plates_per_side"] == {}
    assert document["warmup"] == []


def test_pounds_without_a_lifter_use_a_pound_bar(capsys: pytest.CaptureFixture[str]) -> None:
    document = rack(capsys, "135", "--unit", "lb")
    assert document["below"]["plates_per_side"] == {"45": 1}
    assert document["below"]["load_kg"] == pytest.approx(135 * 0.45359237, abs=1e-6)


def test_the_lifters_own_gym_and_unit(capsys: pytest.CaptureFixture[str], lifter: str) -> None:
    document = rack(capsys, "140", "--lifter", lifter)
    assert document["unit"] == "lb"
    assert document["bar"] == "garage bar"
    assert document["above"]["plates_per_side"] == {"45": 1, "2.5": 1}  # 140 lb itself
    top = rack(capsys, "600", "--lifter", lifter)
    assert top["above"] is None
    assert top["below"]["plates_per_side"] == {"45": 1, "20 kg": 1, "10": 2, "2.5": 1}


def test_another_bar_by_name(capsys: pytest.CaptureFixture[str], lifter: str) -> None:
    assert rack(capsys, "130", "--lifter", lifter, "--bar", "light bar")["bar"] == "light bar"


def test_lifters_policy_reaches_the_warmup(capsys: pytest.CaptureFixture[str], lifter: str) -> None:
    assert rack(capsys, "225", "--lifter", lifter)["warmup"][-1]["reps"] == 2


def test_partner_order_builds_both_loads(capsys: pytest.CaptureFixture[str]) -> None:
    partner = rack(capsys, "102.5", "--partner", "71")["partner"]
    assert partner["exact"] is False
    assert partner["partner"]["load_kg"] == 70
    for who in ("lifter", "partner"):
        on_a_side = sum(float(label) for label in partner[who]["order"])
        assert 20 + 2 * on_a_side == partner[who]["load_kg"]
    there, back = partner["moves"]
    assert (there["off"], there["on"]) == (back["on"], back["off"])


def test_text_says_how_to_load(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["rack", "101", "--partner", "60"]) == 0
    text = capsys.readouterr().out
    assert "101 kg cannot be made here." in text
    assert "below: 100 kg  (20 kg bar, 20 + 20 each side)" in text
    assert "above: 102.5 kg" in text
    assert "plates moved at each change: 1 a side" in text


def test_a_lift_brings_its_own_kit(capsys: pytest.CaptureFixture[str], lifter: str) -> None:
    press = rack(capsys, "21", "--lifter", lifter, "--lift", "Incline Dumbbell Press")
    assert press["lift"] == "incline dumbbell press"
    assert press["bar"] is None
    assert press["below"]["says"] == "20 lb dumbbell in each hand"
    assert press["below"]["plates_per_side"] is None
    assert rack(capsys, "0", "--lift", "pull-up")["exact"] is True


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["-5"], "LOAD: -5 is not a load; write a number above zero"),
        (["0"], "write a number above zero"),
        (["nan"], '"nan" is not a number'),
        (["heavy"], "for example 82.5"),
        (["8_0"], '"8_0" is not a number'),
        (["inf"], "above the limit"),
        (["2000", "--unit", "lb"], "2000 lb is above the limit of 700 kg = 1543.24 lb"),
        (["100", "--unit", "stone"], "--unit"),
        (["100", "--bar", "yoke"], '"20 kg bar", "bar", "ez bar", "trap bar"'),
        (["100", "--partner", "0"], "--partner: 0 is not a load"),
        (["100", "--partner", "x"], '--partner: "x" is not a number'),
        (["100", "--lift", "leg pres"], 'did you mean "leg press"'),
        (["60", "--lift", "leg press", "--bar", "bar"], "leg press is not done with a bar"),
        (["60", "--lift", "leg press", "--partner", "50"], "a bar with plates on both sides"),
        (["100", "--lifter", "no-such.toml"], "no-such.toml"),
        (["100", "--nope"], "--nope"),
        ([], "LOAD"),
    ],
)
def test_bad_questions_are_two_and_say_the_mend(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["rack", *arguments]) == 2
    captured = capsys.readouterr()
    assert says in captured.err
    assert captured.out == ""


@pytest.mark.parametrize(
    ("load", "says"),
    [
        ("10", "10 kg cannot be made here: 20 kg is the lightest, more than asked"),
        ("71", "71 kg cannot be made here: 70 kg is the next below"),
    ],
)
def test_a_partner_is_told_when_the_load_is_another(
    load: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["rack", "100", "--partner", load]) == 0
    assert says in capsys.readouterr().out
