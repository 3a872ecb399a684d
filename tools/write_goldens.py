"""Writes the golden example documents that take a whole plan to make: policy, block,
proposals and report; and the texts of `tests/text_goldens.py`. `make goldens` runs it; a house test
checks each document against its published schema.

The example lifter's block is made with the quick budget, so the file stays small to make; the
week reviewed is invented: every set of week one done as planned.
"""

import csv
import io
import json
import sys
from datetime import date, timedelta
from pathlib import Path

from blockwright.cli.main import exit_code
from blockwright.files.json_text import dumps
from blockwright.verbs.list_lifts import policy_document
from blockwright.verbs.report_block import report_block

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))
GOLDENS = ROOT / "tests" / "goldens"
LIFTER, LOG = ROOT / "examples" / "lifter.toml", ROOT / "examples" / "log.csv"


def write_policy() -> None:
    """One area of the policy: enough to show every field."""
    (GOLDENS / "policy.json").write_text(dumps(policy_document(None, "warmup")), encoding="utf-8")


def week_as_planned(block: dict[str, object]) -> str:
    """A sets file in which week one was done as written."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["when", "lift", "set", "load", "unit", "reps", "rir", "rest_s"])
    for session in block["weeks"][0]["sessions"]:  # type: ignore[index]
        for entry in session["entries"]:
            for number, planned in enumerate(entry["sets"], 1):
                if planned["load_kg"] is not None:
                    writer.writerow(
                        [session["date"], entry["lift"], number, planned["load_kg"], "kg",
                         planned["reps_high"], planned["rir"], entry["rest_s"]]
                    )  # fmt: skip
    return text.getvalue()


def write_block_and_proposals() -> None:
    """A whole block of the example lifter, and the review of its first week."""
    block_file = GOLDENS / "block.json"
    assert (
        exit_code(
            ["plan", str(LIFTER), "--facts", str(LOG), "--search", "quick", "-o", str(block_file)]
        )
        == 0
    )
    block = json.loads(block_file.read_text(encoding="utf-8"))
    facts = GOLDENS / "week.csv"
    facts.write_text(week_as_planned(block), encoding="utf-8")
    sunday = date.fromisoformat(block["start"]) + timedelta(days=6)
    proposals = ["--through", sunday.isoformat(), "-o", str(GOLDENS / "proposals.json")]
    assert exit_code(["review", str(block_file), "--facts", str(facts), *proposals]) == 0
    facts.unlink()


def write_report() -> None:
    """The report of that block after its first week, from the goldens as they stand."""
    block_file, facts = GOLDENS / "block.json", GOLDENS / "week.csv"
    block = json.loads(block_file.read_text(encoding="utf-8"))
    facts.write_text(week_as_planned(block), encoding="utf-8")
    sunday = date.fromisoformat(block["start"]) + timedelta(days=6)
    letters = [GOLDENS / "proposals.json"]
    answer = report_block(block_file, facts, proposals=letters, through=sunday)
    (GOLDENS / "report.json").write_text(dumps(answer.document), encoding="utf-8")
    facts.unlink()


def main() -> None:
    """Writes all of them."""
    from text_goldens import write_all

    write_all()
    write_policy()
    write_block_and_proposals()
    write_report()


if __name__ == "__main__":
    main()
