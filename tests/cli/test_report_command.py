"""`blockwright report` as a user runs it, on the golden block and proposals."""

import json
import sys
from pathlib import Path

import pytest

from blockwright.cli.main import exit_code

ROOT = Path(__file__).resolve().parents[2]
GOLDENS = ROOT / "tests" / "goldens"


@pytest.fixture(scope="module")
def facts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Week one of the golden block, done as written."""
    sys.path.insert(0, str(ROOT / "tools"))
    try:
        from write_goldens import week_as_planned
    finally:
        sys.path.pop(0)
    block = json.loads((GOLDENS / "block.json").read_text(encoding="utf-8"))
    file = tmp_path_factory.mktemp("facts") / "week.csv"
    file.write_text(week_as_planned(block), encoding="utf-8")
    return file


def test_it_writes_paper_and_one_json_document(
    facts: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pdf = tmp_path / "r.pdf"
    code = exit_code(
        ["report", str(GOLDENS / "block.json"), "--facts", str(facts), "--proposals",
         str(GOLDENS / "proposals.json"), "--pdf", str(pdf), "--json"]
    )  # fmt: skip
    out = capsys.readouterr().out
    assert code == 0
    document = json.loads(out)
    assert document["format"] == "blockwright/report/1"
    assert document["proposals"]
    assert pdf.read_bytes().startswith(b"%PDF")


def test_somebody_elses_letter_is_refused_by_name(
    facts: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    theirs = json.loads((GOLDENS / "proposals.json").read_text(encoding="utf-8"))
    theirs["lifter"] = "Somebody Else"
    letter = tmp_path / "theirs.json"
    letter.write_text(json.dumps(theirs), encoding="utf-8")
    code = exit_code(
        ["report", str(GOLDENS / "block.json"), "--facts", str(facts), "--proposals", str(letter)]
    )
    assert code == 2
    assert "theirs.json" in capsys.readouterr().err


def test_a_log_from_before_the_block_has_nothing_to_report(
    capsys: pytest.CaptureFixture[str],
) -> None:
    log = ROOT / "examples" / "log.csv"
    assert exit_code(["report", str(GOLDENS / "block.json"), "--facts", str(log)]) == 2
    assert "nothing to report" in capsys.readouterr().err
