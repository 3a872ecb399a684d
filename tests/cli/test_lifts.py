"""`blockwright lifts` as a person and a script use it."""

import json

import pytest

from blockwright.cli.main import exit_code


def test_json_is_one_document_and_the_same_twice(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["lifts", "--json"]) == 0
    first = capsys.readouterr()
    assert exit_code(["lifts", "--json"]) == 0
    assert capsys.readouterr().out == first.out
    assert json.loads(first.out)["format"] == "blockwright/lifts/1"
    assert first.err == ""


def test_text_is_readable(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["lifts", "--kit", "rings", "--pattern", "dip"]) == 0
    shown = capsys.readouterr().out
    assert "ring dip" in shown
    assert shown.rstrip().endswith("1 lift. Muscles in brackets count in part.")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--muscle", "quad"], '"quads"'),
        (["--pattern", "benchpress"], "press"),
        (["--kit", "smith machine"], "smith machine squat"),
        (["--lifter", "nobody.toml"], "nobody.toml"),
    ],
)
def test_bad_words_exit_two_with_a_mend(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["lifts", *arguments]) == 2
    captured = capsys.readouterr()
    assert says in captured.err
    assert captured.out == ""
