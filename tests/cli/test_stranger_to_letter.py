"""From a stranger's workbook to the first letter: import, plan, a first session, review."""

import json
from pathlib import Path

import pytest

from blockwright.cli.main import exit_code

BOOK = Path(__file__).parents[1] / "import_gallery" / "strangers" / "priya_block2.xlsx"
LIFTER = """
name = "Invented Priya"
born = 1991
sex = "female"
bodyweight = 66.0
start = 2025-06-02
[screening]
heart_or_metabolic_condition = false
symptoms_at_effort = false
pregnant_or_postpartum = false
kidney_disease = false
high_blood_pressure = false
currently_active = true
surgery_or_injury_last_year = false
[emphasis]
quads = "lead"
lats = "lead"
""" + "".join(
    f'[[slot]]\nday = "{day}"\nstart = "18:00"\nminutes = {minutes}\n'
    for day, minutes in (("mon", 75), ("tue", 60), ("thu", 75), ("sat", 90))
)


def test_a_load_that_gave_what_is_asked_next_is_not_lowered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lifter, log, block = (tmp_path / name for name in ("p.toml", "log.csv", "block.json"))
    lifter.write_text(LIFTER, encoding="utf-8")
    assert exit_code(["import", str(BOOK), "-o", str(log)]) == 0
    assert exit_code(["plan", str(lifter), "--facts", str(log), "-o", str(block)]) == 0
    weeks = json.loads(block.read_text(encoding="utf-8"))["weeks"]
    now, then = (
        next(e for e in week["sessions"][0]["entries"] if e["lift"] == "barbell back squat")
        for week in weeks[:2]
    )
    for key in ("load_kg", "reps_low", "rir"):
        assert then["sets"][0][key] == now["sets"][0][key], "the same is asked again"
    with log.open("a", encoding="utf-8") as file:
        for session in weeks[0]["sessions"][:2]:
            for entry in session["entries"]:
                for number, one in enumerate(entry["sets"], 1):
                    reps = (one["reps_low"] + one["reps_high"]) // 2 - (number > 2)
                    kg, left = one["load_kg"] or 30, one["rir"]
                    pain = 4 if entry["lift"] == "bench press" else ""
                    file.write(f"{session['date']},{entry['lift']},{number},{kg},kg,{reps},{left},,"
                               f"straight,yes,{pain},,no\n")  # fmt: skip
    capsys.readouterr()
    asked = ["review", str(block), "--facts", str(log), "--through", "2025-06-08", "--json"]
    assert exit_code(asked) == 0
    kinds = {p["kind"] for p in json.loads(capsys.readouterr().out)["proposals"]
             if p["lift"] == "barbell back squat"}  # fmt: skip
    assert "lower_load" not in kinds
