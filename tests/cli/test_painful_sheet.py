"""A lift that hurts keeps its last tolerated load or less on the sheet, or is out; no ladder."""

import json
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code
from blockwright.engine.training import BlockDecision, Pin
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import plain
from sheet_people import MONDAY, block, entry, lifter, session, sets, week

LIFT = "bench press"


def sheet_entry(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    planned_kg: float | None,
    *days: tuple[float, str],
    cleared: date | None = None,
    **more: Any,
) -> dict[str, Any]:
    """The sheet's entry after days of three sets of nine: (load, pain as written); the last of
    them is 1 January. `cleared`: when a professional cleared the lift."""
    made = block(lifter(**more))
    day = session(1, MONDAY, [entry(1, LIFT, sets(3, planned_kg, 8, 12), 135)])
    made = type(made)(**{**{f: getattr(made, f) for f in made.__dataclass_fields__},
                         "weeks": (week(1, [day]),)})  # fmt: skip
    if cleared is not None:
        change = {"week": 1, "about": LIFT, "cleared_on": str(cleared)}
        seen = BlockDecision(proposal="w1-refer", kind="refer", verdict="changed", change=change)
        made = replace(made, decisions=(seen,))
    (folder / "block.json").write_text(json.dumps(plain(block_to_json(made))), encoding="utf-8")
    first = MONDAY - timedelta(days=3 * len(days))
    rows = [
        f"{first + timedelta(days=3 * at)},{LIFT},{number},{load},kg,9,2,{pain}"
        for at, (load, pain) in enumerate(days)
        for number in (1, 2, 3)
    ]
    log = folder / "log.csv"
    log.write_text("\n".join(["when,lift,set,load,unit,reps,rir,pain", *rows]) + "\n")
    asked = ["sheet", str(folder / "block.json"), "--date", str(date(2027, 1, 4)),
             "--facts", str(log), "--json"]  # fmt: skip
    assert exit_code(asked) == 0
    (found,) = json.loads(capsys.readouterr().out)["entries"]
    return dict(found)


def loads(found: dict[str, Any]) -> list[float | None]:
    return [one["load_kg"] for one in found["sets"]]


@pytest.mark.parametrize(
    ("planned_kg", "days", "most_kg"),
    [
        (None, [(60, "4")] * 12, 59.0),
        (60.0, [(60, "4")], 59.0),
        (60.0, [(60, "0")] * 8 + [(60, "4")], 59.0),
        (None, [(60, "4"), (55, "5"), (62.5, "3")], 54.0),
        (None, [(60, "0")] * 8 + [(70, "4")], 60.0),
        (80.0, [(60, "1")] * 8 + [(70, "4")] * 2, 60.0),
        (50.0, [(60, "")] * 8 + [(70, "4")], 50.0),
        (60.0, [(60, "4"), (50, "")], 50.0),
    ],
)
def test_it_keeps_what_it_tolerated_and_never_climbs(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    planned_kg: float | None,
    days: list[tuple[float, str]],
    most_kg: float,
) -> None:
    found = sheet_entry(tmp_path, capsys, planned_kg, *days)
    assert all(load is not None and 0 < load <= most_kg for load in loads(found))
    assert found["find_load"] == []
    assert {row["move"] for row in found["next_set_advice"]} == {"lower", "keep"}
    assert "sheet_hurts" in [one["code"] for one in found["cautions"]]


@pytest.mark.parametrize(
    ("days", "asks"),
    [((), "swap it, or go lighter"), (("mon",), "swap it, or go lighter"), (("thu",), "a swap")],
)
def test_a_pin_that_hurts_asks_the_one_who_pinned_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], days: tuple[str, ...], asks: str
) -> None:
    pins = (Pin(lift=LIFT, days=days),)
    found = sheet_entry(tmp_path, capsys, 60.0, (60.0, "4"), pins=pins)
    (said,) = [one["says"] for one in found["cautions"] if one["code"] == "sheet_hurts"]
    assert said.startswith("Bench press: pain 4 of 10 on 1 January 2027. ")
    assert said.endswith(asks)


def test_above_the_line_it_is_out_and_has_no_ladder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = sheet_entry(tmp_path, capsys, 60.0, *[(60.0, "0")] * 8, (60.0, "6"))
    assert loads(found) == [None] * 3
    assert found["find_load"] == []
    assert "sheet_hurts_out" in [one["code"] for one in found["cautions"]]


@pytest.mark.parametrize(
    ("days", "cleared", "most_kg"),
    [
        ([(60.0, "0")] * 3 + [(65.0, "6")], date(2027, 1, 1), 60.0),
        ([(60.0, "8")] * 2, date(2027, 1, 2), 59.0),
        ([(60.0, "0")] * 3 + [(65.0, "6")], date(2026, 12, 31), None),
    ],
)
def test_a_clearance_of_that_day_or_later_ends_the_stop_and_not_the_hold(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    days: list[tuple[float, str]],
    cleared: date,
    most_kg: float | None,
) -> None:
    found = sheet_entry(tmp_path, capsys, 65.0, *days, cleared=cleared)
    by_file = sheet_entry(tmp_path, capsys, 65.0, *days, signs_cleared={"shoulder": cleared})
    assert by_file == found
    codes = [one["code"] for one in found["cautions"]]
    if most_kg is None:
        assert loads(found) == [None] * 3
        assert "sheet_hurts_out" in codes
    else:
        assert all(load is not None and 0 < load <= most_kg for load in loads(found))
        assert "sheet_hurts" in codes
    assert found["find_load"] == []
    assert "raise" not in {row["move"] for row in found["next_set_advice"]}


def test_a_quiet_report_ends_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = sheet_entry(tmp_path, capsys, 60.0, *[(60.0, "4")] * 3, (60.0, "1"))
    assert loads(found) == [60.0] * 3
    assert [one["code"] for one in found["cautions"] if one["code"].startswith("sheet_hurts")] == []
