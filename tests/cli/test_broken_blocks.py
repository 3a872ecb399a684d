"""Blocks that no command wrote: refused with the place, never our fault."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code

BLOCK = Path(__file__).resolve().parents[1] / "goldens" / "block.json"
Mend = Callable[[dict[str, Any]], None]


def first_set(block: dict[str, Any]) -> dict[str, Any]:
    return block["weeks"][0]["sessions"][0]["entries"][0]["sets"][0]  # type: ignore[no-any-return]


def entry(block: dict[str, Any]) -> dict[str, Any]:
    return block["weeks"][0]["sessions"][0]["entries"][0]  # type: ignore[no-any-return]


def all_entries(block: dict[str, Any]) -> list[dict[str, Any]]:
    days = [day for week in block["weeks"] for day in week["sessions"]]
    return [one for day in days for one in day["entries"]]


BROKEN: list[tuple[str, Mend, str]] = [
    ("endless load", lambda b: first_set(b).update(load_kg="ENDLESS"), "not a number one can use"),
    ("endless reps", lambda b: first_set(b).update(reps_high="LONG"), "not a number one can use"),
    ("no sets", lambda b: entry(b).update(sets=[]), "sets"),
    ("a lift nobody knows", lambda b: entry(b).update(lift="moon press"), "moon press"),
    ("more than anyone lifts", lambda b: first_set(b).update(load_kg=1e300), "load_kg"),
    ("crossed range", lambda b: first_set(b).update(reps_low=9, reps_high=8), "above reps_high 8"),
    ("a week twice", lambda b: b["weeks"][1].update(week=1), "is 1 where week 2 should stand"),
    ("a session twice", lambda b: b["weeks"][0]["sessions"][1].update(session=1), "where 2 should"),
    (
        "a day of another week",
        lambda b: b["weeks"][1]["sessions"][0].update(date="2027-03-01"),
        "2027-03-01 is not in the week of",
    ),
    ("begun on a Tuesday", lambda b: b.update(start="2027-01-05"), "starts on a Monday"),
    (
        "begun at the end of time",
        lambda b: b.update(start="9999-12-27"),
        "9999-12-27 is not between",
    ),
    ("begun at its beginning", lambda b: b.update(start="0001-01-01"), "0001-01-01 is not between"),
    ("below zero", lambda b: first_set(b).update(load_kg=-5), "load_kg"),
]


def test_a_load_that_the_kit_cannot_make_is_named_with_those_nearest(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    block = json.loads(BLOCK.read_text(encoding="utf-8"))
    made = next(one for one in all_entries(block) if one["lift"] == "bench press")
    made["sets"][0]["load_kg"] = 71.3
    file = tmp_path / "block.json"
    file.write_text(json.dumps(block), encoding="utf-8")
    assert exit_code(["check", str(file)]) == 0
    out = capsys.readouterr().out
    assert "bench press: the gym cannot make 71.3 kg" in out
    assert "nearest: 70 kg or 72.5 kg" in out
    assert exit_code(["check", str(BLOCK)]) == 0
    assert "cannot make" not in capsys.readouterr().out


@pytest.mark.parametrize(("name", "harm", "said"), BROKEN, ids=[name for name, _, _ in BROKEN])
def test_a_broken_block_is_refused_by_every_command(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, harm: Mend, said: str
) -> None:
    block = json.loads(BLOCK.read_text(encoding="utf-8"))
    day = block["weeks"][0]["sessions"][0]["date"]
    harm(block)
    text = json.dumps(block).replace('"ENDLESS"', "1e400").replace('"LONG"', "1" + "0" * 400)
    file = tmp_path / "block.json"
    file.write_text(text, encoding="utf-8")
    for command in (
        ["check", file],
        ["sheet", file, "--week", "1", "--session", "1"],
        ["replan", file, "--date", day, "--minutes", "30"],
    ):
        assert exit_code([str(word) for word in command]) == 2, command[0]
        out, err = capsys.readouterr()
        assert (said in out + err) or command[0] == "check", err
        assert "our fault" not in err
