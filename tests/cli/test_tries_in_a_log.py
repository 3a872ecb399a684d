"""Tries on the way to a load, in a sets file: work sets are held against none of them, and one that
ends a session, with a reserve that can be counted, says how strong somebody is."""

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


@pytest.mark.parametrize(("last", "work"), [("60", "60"), ("600", "60"), ("60", "600")])
def test_tries_that_lead_to_a_load_are_no_slip_and_a_set_typed_tenfold_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], last: str, work: str
) -> None:
    """A load far too light is looked for again; what was found that way needs no question, and a
    try typed tenfold is no measure of it."""
    rows = ("30,kg,8,10,try", "40,kg,8,10,try", f"{last},kg,8,3,try", f"{work},kg,8,3,straight")
    log = tmp_path / "log.csv"
    lines = [f"2026-12-28,bench press,{at},{row}" for at, row in enumerate(rows, 1)]
    log.write_text(HEAD + "\n".join((*LIGHT, *lines)), encoding="utf-8")
    assert exit_code(["estimate", str(log), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["lifts"][0]
    asked = [flag["set"] for flag in found["flags"] if flag["code"] in ("out_of_line", "mistyped")]
    assert asked == ([] if work == "60" else [4])
    assert 70 < found["one_rm_kg"]["median"] < 100


@pytest.mark.parametrize("left", ["10", "20", ""])
def test_first_work_sets_count_as_if_no_try_had_been_logged(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], left: str
) -> None:
    """Three fifths of the load, twelve and more left or nothing said of it, then the work sets."""
    work = ("22.5,kg,8,4,straight", "22.5,kg,7,4,straight")
    tried = strength(tmp_path, capsys, (f"12.5,kg,8,{left},try", *work))
    alone = strength(tmp_path, capsys, work)
    assert tried["flags"] == []
    assert tried["one_rm_kg"] == alone["one_rm_kg"]


def test_first_work_sets_at_ten_times_what_tries_led_to_are_asked_about_and_count_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    slip = ("8,kg,8,10,try", "12,kg,8,6,try", "140,kg,8,4,straight", "140,kg,8,4,straight")
    found = strength(tmp_path, capsys, slip)
    assert [flag["code"] for flag in found["flags"]] == ["mistyped", "out_of_line"], "14 kg meant?"
    assert found["one_rm_kg"]["median"] < 25, "the last try's"
    assert exit_code(["check", str(tmp_path / "log.csv")]) == 0
    assert capsys.readouterr().out.count("than tries led to") == 2


def test_only_of_a_try_can_more_than_ten_be_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "log.csv"
    row = "2027-01-04,bench press,1,20,kg,8,20,"
    for method, code in (("try", 0), ("straight", 2)):
        log.write_text(f"{HEAD}{row}{method}\n", encoding="utf-8")
        assert exit_code(["check", str(log)]) == code
    assert "above 10" in capsys.readouterr().out
