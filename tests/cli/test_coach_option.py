"""A coach's policy file reaches every command, and a block made under it stands alone."""

import json
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from blockwright.cli.main import exit_code
from blockwright.files.block_json import block_from_json, block_to_json, read_block
from blockwright.files.policy_files import block_policy, under_coach

ROOT = Path(__file__).resolve().parents[2]
BLOCK = ROOT / "tests" / "goldens" / "block.json"
LIFTER, LOG = ROOT / "examples" / "lifter.toml", ROOT / "examples" / "log.csv"
Run = Callable[..., Any]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def once(*arguments: object, code: int = 0) -> Any:
        done = exit_code([str(argument) for argument in arguments])
        out, err = capsys.readouterr()
        assert done == code, err
        return json.loads(out) if code == 0 else err

    return once


def coach(folder: Path, text: str) -> Path:
    file = folder / "coach.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_a_block_planned_under_a_coach_carries_the_values(tmp_path: Path, run: Run) -> None:
    file = coach(tmp_path, "[ramp.start]\nlead = 6\n")
    lifter = tmp_path / "small.toml"
    lifter.write_text(
        'name = "Invented"\nbodyweight = 80\nstart = 2027-01-04\nweeks = 3\n'
        '[[slot]]\nday = "mon"\nstart = "18:00"\nminutes = 60\n'
        '[[slot]]\nday = "thu"\nstart = "18:00"\nminutes = 60\n',
        encoding="utf-8",
    )
    made = tmp_path / "block.json"
    run("plan", lifter, "--coach", file, "--search", "quick", "-o", made, "--json")
    block = read_block(made)
    assert block.coach_policy == {"ramp.start.lead": 6}
    value = block_policy(block).value("ramp.start.lead")
    assert (value.value, value.origin) == (6, "coach")
    assert block_from_json(block_to_json(block), "again") == block
    assert run("check", made, "--json")["files"][0]["errors"] == []


def test_the_sheet_needs_the_option_once_only(tmp_path: Path, run: Run) -> None:
    file = coach(tmp_path, "[warmup.reps]\n1 = 6\n")
    at = ("--week", 1, "--session", 1, "--json")
    plain = run("sheet", BLOCK, *at)
    given = run("sheet", BLOCK, *at, "--coach", file)
    assert given != plain
    carried = tmp_path / "carried.json"
    carried.write_text(json.dumps(block_to_json(under_coach(read_block(BLOCK), file))), "utf-8")
    assert run("sheet", carried, *at) == given
    nothing = tmp_path / "nothing.toml"
    nothing.write_text("# nothing of our own\n", encoding="utf-8")
    assert run("sheet", carried, *at, "--coach", nothing) == plain, "a file stands in their place"


def test_review_revise_replan_and_report_take_it(tmp_path: Path, run: Run) -> None:
    start = read_block(BLOCK).start.isoformat()
    sunday = (read_block(BLOCK).start + timedelta(days=6)).isoformat()
    file = coach(tmp_path, "[review.load]\ntoo_light_probability = 0.9\n")
    letter, new = tmp_path / "letter.json", tmp_path / "new.json"
    run("review", BLOCK, "--facts", LOG, "--through", sunday, "--coach", file, "-o", letter,
        "--json")  # fmt: skip
    run("revise", BLOCK, letter, "--accept-all", "--coach", file, "-o", new, "--json")
    assert read_block(new).coach_policy == {"review.load.too_light_probability": 0.9}
    moved = run("replan", new, "--date", start, "--minutes", 40, "--json")
    assert moved["coach_policy"] == {"review.load.too_light_probability": 0.9}
    log = tmp_path / "log.csv"
    log.write_text(f"when,lift,set,load,unit,reps,rir\n{start},leg curl,1,40,kg,9,2\n", "utf-8")
    report = ("report", new, "--facts", log, "--through", sunday, "--json")
    assert run(*report, "--coach", file) == run(*report)


def test_estimate_and_backtest_read_it(tmp_path: Path, run: Run) -> None:
    file = coach(tmp_path, "[strength]\nkappa = 0.04\n")
    for command in ("estimate", "backtest"):
        assert run(command, LOG, "--json") != run(command, LOG, "--coach", file, "--json")


def test_rack_reads_it(tmp_path: Path, run: Run) -> None:
    file = coach(tmp_path, "[warmup.reps]\n1 = 6\n")
    plain = run("rack", 120, "--json")
    assert run("rack", 120, "--coach", file, "--json") != plain


def test_a_lifter_may_not_be_looser_than_the_coach(tmp_path: Path, run: Run) -> None:
    file = coach(tmp_path, "[safety]\npain_stop_above = 4\n")
    lifter = tmp_path / "lifter.toml"
    lifter.write_text('name = "Invented"\n[policy]\n"safety.pain_stop_above" = 5\n', "utf-8")
    said = run("rack", 60, "--lifter", lifter, "--coach", file, code=2)
    assert "stricter, never looser" in said
    assert "lifter.toml" in said
    assert run("check", lifter, "--json")["files"][0]["errors"] == []
    both = run("check", lifter, file, "--json", code=2)
    assert "lifter.toml" in both


@pytest.mark.parametrize(
    "text", ["[ramp]\nnonsense = 1\n", "[safety]\npain_stop_above = 9\n", "[["]
)
def test_a_bad_coachs_file_is_named(tmp_path: Path, run: Run, text: str) -> None:
    said = run(
        "sheet", BLOCK, "--week", 1, "--session", 1, "--coach", coach(tmp_path, text), code=2
    )
    assert "coach.toml" in said
