"""What safety holds stays off the sheet while the letter waits: joints, signs, open loads."""

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code
from blockwright.engine.reasons import Reason
from blockwright.engine.training import Block, BlockDecision
from blockwright.files.block_json import block_to_json
from blockwright.files.json_text import plain
from blockwright.sheets.text import sheet_text
from sheet_people import MONDAY, block, entry, lifter, session, sets, week

DAY = timedelta(days=1)
FOURTH_WEEK = MONDAY + 21 * DAY
PRESSES = ["bench press", "standing dumbbell press"]


def climbing(**more: Any) -> Block:
    """Four weeks in which every lift gains load, a set and a repetition, with less in reserve; the
    load of the dumbbell press is open."""
    weeks = []
    for number in range(1, 5):
        up = number - 1
        entries = [
            entry(1, "bench press", sets(2 + up, 60 + 2.5 * up, 8 + up, 10 + up, rir=4 - up)),
            entry(2, "seated cable row", sets(2 + up, 50 + 5 * up, 8 + up, 10 + up, rir=4 - up)),
            entry(3, "standing dumbbell press", sets(2 + up, None, 8 + up, 10 + up, rir=4 - up)),
        ]
        day = session(1, MONDAY + 7 * up * DAY, entries)
        weeks.append(week(number, [day], rir=4 - up))
    return replace(block(lifter(), weeks=1, **more), weeks=tuple(weeks))


def fourth_sheet(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    made: Block,
    *,
    checkins: str = "",
    note: str = "",
) -> dict[str, Any]:
    """Week four's sheet, after three weeks done with much to spare; the note is of week two."""
    (folder / "block.json").write_text(json.dumps(plain(block_to_json(made))), encoding="utf-8")
    rows = ["when,lift,set,load,unit,reps,rir,note"]
    for one in made.weeks[:3]:
        for each in one.sessions[0].entries:
            load = each.sets[0].load_kg or 14 + 2 * one.week
            said = note if one.week == 2 and each.order == 2 else ""
            rows += [
                f"{one.sessions[0].day},{each.lift},{n + 1},{load},kg,13,4,{said}"
                for n in range(len(each.sets))
            ]
    (folder / "log.csv").write_text("\n".join(rows) + "\n")
    (folder / "checkins.csv").write_text("when,measure,about,value,unit\n" + checkins)
    asked = [
        "sheet",
        str(folder / "block.json"),
        "--date",
        str(FOURTH_WEEK),
        "--json",
        "--facts",
        str(folder / "log.csv"),
        "--checkins",
        str(folder / "checkins.csv"),
    ]
    assert exit_code(asked) == 0
    return dict(json.loads(capsys.readouterr().out))


def asks(sheet: dict[str, Any], lift: str) -> tuple[int, float | None, int, float]:
    """Sets, load, top of the range, reserve of the first set."""
    (found,) = [one for one in sheet["entries"] if one["lift"] == lift]
    first = found["sets"][0]
    return len(found["sets"]), first["load_kg"], first["reps_high"], first["rir"]


def codes(found: dict[str, Any]) -> set[str]:
    return {one["code"] for one in found["cautions"]}


def moves(found: dict[str, Any]) -> set[str]:
    return {row["move"] for row in found["next_set_advice"]}


def test_without_pain_the_fourth_week_is_as_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = fourth_sheet(tmp_path, capsys, climbing())
    assert asks(sheet, "bench press") == (5, 67.5, 13, 1)
    assert asks(sheet, "seated cable row") == (5, 65, 13, 1)
    sets_, load, _, _ = asks(sheet, "standing dumbbell press")
    assert sets_ == 5
    assert load is not None
    assert load > 18


def test_a_joint_that_hurts_holds_its_lifts_where_they_stood_when_it_was_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two reports, weeks two and three: the row goes on, the presses stay at week two."""
    said = "".join(f"{MONDAY + n * DAY},pain,shoulder,4,\n" for n in (8, 15))
    sheet = fourth_sheet(tmp_path, capsys, climbing(), checkins=said)
    assert asks(sheet, "bench press") == (3, 62.5, 11, 3)
    assert asks(sheet, "seated cable row") == (5, 65, 13, 1)
    assert asks(sheet, "standing dumbbell press") == (3, 18, 11, 3)
    for one in sheet["entries"]:
        held = one["lift"] in PRESSES
        assert ("sheet_hurts" in codes(one)) is held
        assert ("raise" in moves(one)) is not held
        assert "lower" in moves(one)
        told = f"Shoulder: pain 4 of 10 on 19 January 2027; {one['lift']} loads it. "
        assert any(said["says"].startswith(told) for said in one["cautions"]) is held


def test_what_waits_for_a_letter_prints_no_more_than_the_held_week(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nobody decided a letter since week two: the sheet does not climb by itself, and goes on where
    nothing waits."""
    made = climbing()
    weeks = [
        replace(one, sessions=tuple(
            replace(day, entries=tuple(
                replace(each, waits=one.week > 2 and each.lift == "bench press")
                for each in day.entries
            ))
            for day in one.sessions
        ))
        for one in made.weeks
    ]  # fmt: skip
    sheet = fourth_sheet(tmp_path, capsys, replace(made, weeks=tuple(weeks)))
    assert asks(sheet, "bench press") == (3, 62.5, 11, 3)
    assert asks(sheet, "seated cable row") == (5, 65, 13, 1)


def test_a_joint_that_hurts_too_much_leaves_its_lifts_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = fourth_sheet(
        tmp_path, capsys, climbing(), checkins=f"{MONDAY + 15 * DAY},pain,shoulder,7,\n"
    )
    for one in sheet["entries"]:
        out = one["lift"] in PRESSES
        assert ("sheet_hurts_out" in codes(one)) is out
        assert (one["sets"][0]["load_kg"] is None) is out
        assert one["find_load"] == []


@pytest.mark.parametrize(
    ("later", "held"),
    [("", True), (f"{MONDAY + 17 * DAY},pain,shoulder,1,\n", False)],
)
def test_a_clearance_alone_adds_nothing_until_the_pain_is_quiet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], later: str, held: bool
) -> None:
    change = {"week": 4, "about": "shoulder", "cleared_on": str(MONDAY + 16 * DAY)}
    seen = BlockDecision(
        proposal="w4-refer-shoulder", kind="refer", verdict="changed", change=change
    )
    said = "".join(f"{MONDAY + n * DAY},pain,shoulder,4,\n" for n in (8, 15)) + later
    sheet = fourth_sheet(tmp_path, capsys, climbing(decisions=(seen,)), checkins=said)
    assert asks(sheet, "bench press") == ((3, 62.5, 11, 3) if held else (5, 67.5, 13, 1))
    for one in sheet["entries"]:
        if one["lift"] in PRESSES:
            assert ("sheet_hurts" in codes(one)) is held
            assert ("raise" in moves(one)) is not held
            assert "lower" in moves(one)


@pytest.mark.parametrize(
    ("note", "held"),
    [
        ("chest pain in the last set", ["bench press", "seated cable row", PRESSES[1]]),
        ("sharp stabbing pain in the elbow", ["seated cable row"]),
    ],
)
def test_an_open_sign_holds_what_it_concerns(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], note: str, held: list[str]
) -> None:
    """By a sign of the whole body all that is left is held; a lift with its own is out, on paper
    too: nothing is asked of it and no line waits for a set."""
    sheet = fourth_sheet(tmp_path, capsys, climbing(), note=note)
    top, _, rest = sheet_text(sheet).partition("=" * 80)
    assert "WRITTEN DOWN" in top
    row = rest.partition("Seated cable row")[2].partition("-" * 80)[0]
    assert ("set 1" in row) is ("3 × " in row) is (len(held) > 1)
    for one in sheet["entries"]:
        sets_, load, top, left = asks(sheet, one["lift"])
        assert (sets_ == 3) is (one["lift"] in held)
        assert (top == 11) is (left == 3) is (one["lift"] in held)
        out = one["lift"] in held and len(held) == 1
        assert (load is None) is ("sheet_sign_out" in codes(one)) is out
    assert asks(sheet, "seated cable row")[1] in (55, None)
    assert (asks(sheet, "standing dumbbell press")[1] == 18) is (PRESSES[1] in held)


@pytest.mark.parametrize(("note", "load_kg"), [("", 60), ("shoulder a bit sore then popped", 57.5)])
def test_a_new_block_asks_no_more_than_before_it_of_what_a_sign_holds(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], note: str, load_kg: float
) -> None:
    """The sheet says "no load more than last time"; last time is the log's, not the print's."""
    (tmp_path / "block.json").write_text(json.dumps(plain(block_to_json(climbing()))))
    rows = [f"{MONDAY - 7 * DAY},bench press,{n},57.5,kg,10,2,{note}" for n in (1, 2)]
    (tmp_path / "log.csv").write_text("\n".join(["when,lift,set,load,unit,reps,rir,note", *rows]))
    asked = ["sheet", str(tmp_path / "block.json"), "--week", "1", "--session", "1", "--json"]
    assert exit_code([*asked, "--facts", str(tmp_path / "log.csv")]) == 0
    sheet = json.loads(capsys.readouterr().out)
    assert asks(sheet, "bench press")[1] == load_kg


@pytest.mark.parametrize("quiet", [False, True])
def test_a_sheet_without_check_ins_forgets_no_pain_the_block_was_made_with(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], quiet: bool
) -> None:
    facts: dict[str, Any] = {"lifts": "dip and bench press", "count": 2}
    made = climbing(reasons=(Reason(code="held_as_it_hurts", facts=facts),))
    said = f"{MONDAY + 15 * DAY},pain,shoulder,0,\n" if quiet else ""
    bench, row, _ = fourth_sheet(tmp_path, capsys, made, checkins=said)["entries"]
    assert asks({"entries": [bench]}, "bench press")[1] == (67.5 if quiet else 60)
    assert ("sheet_held" in codes(bench)) is ("raise" not in moves(bench)) is not quiet
    assert "raise" in moves(row)


def test_a_block_that_waits_for_clearance_does_not_climb(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = fourth_sheet(tmp_path, capsys, climbing(status="refer"))
    assert asks(sheet, "bench press") == (2, 60, 10, 4)
    assert "sheet_refer" in codes(sheet)


@pytest.mark.parametrize(
    ("days", "often"),
    [
        ((14, 15), "2 days running"),
        ((9, 15), "twice in a week"),
        ((4, 9, 15), "3 times in 12 days"),
    ],
)
def test_a_referral_says_how_often_it_hurt(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], days: tuple[int, ...], often: str
) -> None:
    said = "".join(f"{MONDAY + n * DAY},pain,shoulder,4,\n" for n in days)
    fourth_sheet(tmp_path, capsys, climbing(), checkins=said)
    files = [str(tmp_path / name) for name in ("block.json", "log.csv", "checkins.csv")]
    asked = ["review", files[0], "--facts", files[1], "--checkins", files[2], "--through"]
    assert exit_code([*asked, str(MONDAY + 20 * DAY)]) == 0
    assert f"shoulder (pain 4 of 10, {often})" in " ".join(capsys.readouterr().out.split())
