"""What commands write as text: no control characters from a file, numbers in figures."""

import unicodedata
from pathlib import Path

import pytest

from blockwright.cli.main import exit_code
from blockwright.cli.output import save, save_document, visible
from blockwright.engine.errors import BadInput

NASTY = "\x1b[2Jcurl\x07\x9b31m\u202egnik\x7f"


def test_control_characters_are_written_out_and_the_rest_is_left_alone() -> None:
    assert visible("80 kg × 5, früh\n\tend") == "80 kg × 5, früh\n\tend"
    shown = visible(NASTY)
    assert shown.startswith("\\u001b[2Jcurl\\u0007\\u009b31m\\u202egnik\\u007f")
    assert visible("\udc80") == "\\udc80", "a byte of a file name that is no text"


@pytest.mark.parametrize("command", ["estimate", "check", "backtest"])
def test_a_lift_name_moves_no_cursor(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str
) -> None:
    log = tmp_path / "log.csv"
    rows = "".join(f"2027-01-0{n},{NASTY},1,40,kg,8,1\n" for n in range(4, 9))
    log.write_text("when,lift,set,load,unit,reps,rir\n" + rows, encoding="utf-8")
    assert exit_code([command, str(log)]) == 0
    out, err = capsys.readouterr()
    for character in out + err:
        assert character in "\n\t" or unicodedata.category(character) != "Cc"
        assert character != "\u202e"


@pytest.mark.parametrize(
    ("line", "said"),
    [("bodyweight = 1000060", "1000060"), ("bodyweight = 0.00001", "0.00001"),
     ("weeks = 1234567", "1234567"),
     ('[policy]\n"ramp.sets_per_week" = 1' + 400 * "0", "number too large"),
     ('[policy]\n"ramp.sets_per_week" = 12345678', "12345678")],
)  # fmt: skip
def test_numbers_out_of_bounds_are_said_in_figures(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], line: str, said: str
) -> None:
    lifter = tmp_path / "lifter.toml"
    lifter.write_text(f'name = "Ana"\n{line}\n', encoding="utf-8")
    assert exit_code(["check", str(lifter)]) == 2
    out = capsys.readouterr().out
    assert said in out
    assert "e+0" not in out
    assert "e-0" not in out


@pytest.mark.parametrize("place", [".", "/", "no such folder/block.json"])
def test_a_place_that_takes_no_file_is_bad_input(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, place: str
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(BadInput, match="cannot be written"):
        save(Path(place), "text")
    assert not list(tmp_path.iterdir())


def test_a_demo_nobody_can_leave_is_bad_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    assert exit_code(["demo", "--no-serve", "--dir", str(tmp_path / "file" / "demo")]) == 2
    assert "--dir DIR" in capsys.readouterr().err


def test_a_saved_file_is_as_readable_as_others_of_the_folder(tmp_path: Path) -> None:
    """Unlike a backup, which is its owner's alone."""
    other = tmp_path / "other"
    other.touch()
    save(tmp_path / "block.json", "text")
    assert (tmp_path / "block.json").stat().st_mode == other.stat().st_mode
    assert sorted(file.name for file in tmp_path.iterdir()) == ["block.json", "other"]


@pytest.mark.parametrize("name", ["lifter.toml", "log.csv", "log.XLSX"])
def test_no_document_is_written_over_a_lifters_file_or_log(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("the only copy", encoding="utf-8")
    with pytest.raises(BadInput, match="name a"):
        save_document(tmp_path / name, {})
    assert (tmp_path / name).read_text(encoding="utf-8") == "the only copy"
