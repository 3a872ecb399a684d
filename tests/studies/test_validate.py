"""The page of the studies: what is asked for is run, the rest stays."""

from pathlib import Path

import pytest

from studies import validate


def test_only_what_is_asked_for_is_run_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(validate, "SECTIONS", (("A watch", lambda: "new"), ("Other", lambda: "o")))
    file = tmp_path / "page.md"
    file.write_text(validate.page({"A watch": "old", "Other": "stays"}), encoding="utf-8")
    validate.main([str(file), "--only", "watch"])
    assert validate.sections_of(file.read_text(encoding="utf-8")) == {
        "A watch": "new", "Other": "stays",
    }  # fmt: skip


def test_a_question_for_help_runs_no_study(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(validate, "SECTIONS", (("A watch", lambda: "new"),))
    with pytest.raises(SystemExit) as ended:
        validate.main(["--help"])
    assert ended.value.code == 0
    assert "--only" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []


def test_the_page_begins_with_what_its_sections_miss(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(validate, "SECTIONS", (("A watch", str), ("Other", str)))
    page = validate.page({
        "A watch": "Rows.\n\nMissed: found 0.29 (asked 0.30).", "Other": "Missed: nothing.",
    })  # fmt: skip
    head = page.split("## ")[0]
    assert "- A watch. Missed: found 0.29 (asked 0.30)." in head
    assert "Other" not in head
