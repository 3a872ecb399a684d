"""One log of a pound gym, in pounds and in kilograms with two or four decimals: one answer."""

import csv
import json
from typing import Any

import pytest

from blockwright.cli.main import exit_code

LIFTER = """
name = "Invented Lou"
units = "lb"
bodyweight = 170
start = 2027-01-04
weeks = 3
[[slot]]
day = "mon"
start = "18:00"
minutes = 60
[[slot]]
day = "thu"
start = "18:00"
minutes = 60
[gym]
kit = ["bar", "squat rack", "bench", "dumbbells", "leg curl", "cable"]
"""
KG_PER_LB = 0.45359237
START_LB = 50
"""Every lift; 50 lb is 22.679618 kg: above it with two decimals (22.68), below it with four."""


def rows_of(block: dict[str, Any], decimals: int | None) -> list[list[str]]:
    rows = []
    for session in block["weeks"][0]["sessions"]:
        for entry in session["entries"]:
            for number, planned in enumerate(entry["sets"], 1):
                load = str(START_LB) if decimals is None else f"{START_LB * KG_PER_LB:.{decimals}f}"
                unit = "lb" if decimals is None else "kg"
                opens = entry is session["entries"][0]  # far above its range, so that loads move
                reps = planned["reps_low"] + 1 - number % 2 + (8 if opens else 0)
                rows.append([session["date"], entry["lift"], str(number), load, unit, str(reps),
                             f"{planned['rir']:g}"])  # fmt: skip
    return rows


@pytest.fixture(scope="module")
def proposals(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    made = tmp_path_factory.mktemp("pounds")
    (made / "lou.toml").write_text(LIFTER, encoding="utf-8")
    plan = ["plan", str(made / "lou.toml"), "--search", "quick", "-o", str(made / "block.json")]
    assert exit_code(plan) == 0
    block = json.loads((made / "block.json").read_text(encoding="utf-8"))
    for planned in (
        p for s in block["weeks"][1]["sessions"] for e in s["entries"] for p in e["sets"]
    ):
        planned["load_kg"] = START_LB * KG_PER_LB
    (made / "block.json").write_text(json.dumps(block), encoding="utf-8")
    found = []
    for decimals in (None, 4, 2):
        with (made / "log.csv").open("w", newline="", encoding="utf-8") as out:
            writer = csv.writer(out)
            writer.writerow(["when", "lift", "set", "load", "unit", "reps", "rir"])
            writer.writerows(rows_of(block, decimals))
        asked = ["review", str(made / "block.json"), "--facts", str(made / "log.csv"),
                 "--through", "2027-01-10",
                 "-o", str(made / "p.json")]  # fmt: skip
        assert exit_code(asked) == 0
        found.append(json.loads((made / "p.json").read_text(encoding="utf-8")))
    return found


def test_the_same_log_gets_the_same_proposals_whatever_the_decimals(
    proposals: list[dict[str, Any]],
) -> None:
    pounds, four, two = ([change(p) for p in one["proposals"]] for one in proposals)
    assert [kind for kind, *_ in pounds if kind.endswith("_load")]
    assert four == pounds
    assert two == pounds


def change(proposal: dict[str, Any]) -> tuple[Any, ...]:
    return (proposal["kind"], proposal["lift"], proposal["before"], proposal["after"],
            proposal["says"])  # fmt: skip


def test_no_line_goes_from_a_load_to_the_same_load(proposals: list[dict[str, Any]]) -> None:
    for one in proposals:
        for proposal in one["proposals"]:
            if proposal["kind"] in ("raise_load", "lower_load"):
                before, after = proposal["before"]["load_kg"], proposal["after"]["load_kg"]
                assert abs(before - after) > 0.1
