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
    # sets that left ten were as light as tries: they hold the last one back no more
    assert worked["one_rm_kg"]["median"] == pytest.approx(of_one, rel=0.12)
    assert tried["flags"] == []


LIGHT = tuple(
    f"2026-12-{day},bench press,{at},30,kg,10,5,straight" for day in (7, 14, 21) for at in (1, 2)
)


@pytest.mark.parametrize("last", ["60", "600"])
def test_tries_that_lead_to_a_load_are_no_slip_and_one_typed_tenfold_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], last: str
) -> None:
    """A load far too light is looked for again; what was found that way needs no question."""
    rows = ("30,kg,8,10,try", "40,kg,8,10,try", f"{last},kg,8,3,try", "60,kg,8,3,straight")
    log = tmp_path / "log.csv"
    lines = [f"2026-12-28,bench press,{at},{row}" for at, row in enumerate(rows, 1)]
    log.write_text(HEAD + "\n".join((*LIGHT, *lines)), encoding="utf-8")
    assert exit_code(["estimate", str(log), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["lifts"][0]
    asked = [flag["set"] for flag in found["flags"] if flag["code"] == "out_of_line"]
    assert asked == ([] if last == "60" else [3, 4])
    assert (found["one_rm_kg"]["median"] > 70) == (last == "60")
