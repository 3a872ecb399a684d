"""Tries on the way to a load, in a sets file: the last one teaches, and none is a work set."""

import json
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code

HEAD = "when,lift,set,load,unit,reps,rir,method\n"
TRIES = ("20,kg,8,10,try", "30,kg,8,10,try", "50,kg,8,3,try")


def strength(tmp_path: Path, capsys: pytest.CaptureFixture[str], rows: tuple[str, ...]) -> Any:
    log = tmp_path / "log.csv"
    lines = [f"2027-01-04,bench press,{at},{row}\n" for at, row in enumerate(rows, 1)]
    log.write_text(HEAD + "".join(lines), encoding="utf-8")
    assert exit_code(["estimate", str(log), "--json"]) == 0
    return json.loads(capsys.readouterr().out)["lifts"][0]


def test_the_last_try_alone_says_how_strong_somebody_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    tried = strength(tmp_path, capsys, TRIES)
    alone = strength(tmp_path, capsys, ("50,kg,8,3,straight",))
    worked = strength(tmp_path, capsys, tuple(row.replace("try", "straight") for row in TRIES))
    of_tries, of_one = tried["one_rm_kg"]["median"], alone["one_rm_kg"]["median"]
    assert of_tries == pytest.approx(of_one, rel=0.08)  # the tries before it tire
    assert worked["one_rm_kg"]["median"] < 0.9 * of_one
    assert tried["flags"] == []
