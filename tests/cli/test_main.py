"""The door: exit codes, no traceback, messages on stderr."""

import json
import sqlite3
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest
from jsonschema import Draft202012Validator
from typer.main import get_command

from blockwright.cli import output
from blockwright.cli.app import app
from blockwright.cli.main import exit_code, load_commands, run
from blockwright.files.schemas import schema_of


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (["nope"], 2, "No such command"),
        (["policy", "--nope"], 2, "No such option"),
        (["schema"], 2, "Missing argument"),
        (["schema", "blok"], 2, 'no schema called "blok"'),
        (["policy", "--coach", "no-such.toml"], 2, "no-such.toml"),
        (["estimate", "x.csv", "--through", "soon"], 2, "'soon' is not a date; write year-month"),
        (["rack", "80", "--unit", "st"], 2, "'--unit': 'st' is not one of 'kg', 'lb'"),
        (["serve", "--port", "x"], 2, "write a whole number"),
        (["estimate", "a\0b.csv"], 2, "no file can have such a name"),
        ([], 2, "Usage"),
    ],
)
def test_bad_input_is_two(
    arguments: list[str], code: int, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(arguments) == code
    captured = capsys.readouterr()
    assert says in captured.err + captured.out
    assert "Traceback" not in captured.err


def test_our_fault_is_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a bolt came loose")

    monkeypatch.setattr("blockwright.verbs.list_lifts.policy_document", broken)
    assert exit_code(["policy"]) == 1
    captured = capsys.readouterr()
    assert "our fault" in captured.err
    assert "a bolt came loose" in captured.err
    assert captured.out == ""


def test_trouble_with_the_database_is_said_with_its_mend(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def locked(*_: object) -> None:
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr("blockwright.verbs.list_lifts.policy_document", locked)
    assert exit_code(["policy"]) == 2
    said = capsys.readouterr().err
    assert said.startswith("blockwright: ")
    assert "our fault" not in said


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("B P --accept a b --decline c d -o N", "B P --accept a --accept b "
         "--decline c --decline d -o N"),
        ("--accept a B P", "--accept a B P"),
        ("--accept a B P b", "--accept a B P --accept b"),
        ("B P --accept a --json b", "B P --accept a --json b"),
        ("B P --words w --accept a -- b", "B P --words w --accept a -- b"),
        ("B P --accept", "B P --accept"),
    ],
)  # fmt: skip
def test_several_words_behind_one_option(typed: str, read: str) -> None:
    load_commands()
    command = get_command(app).commands["revise"]  # type: ignore[attr-defined]
    assert list(command._one_by_one(typed.split())) == read.split()


def test_policy_document_keeps_its_schema(capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["policy", "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    Draft202012Validator(schema_of("policy")).validate(document)
    assert document["policy"]


def test_policy_text_and_coach_layer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    coach = tmp_path / "coach.toml"
    coach.write_text('# nothing changed yet\n"rack.most_plates_on_a_side" = 12\n', encoding="utf-8")
    assert exit_code(["policy", "--coach", str(coach), "--find", "no such thing"]) == 0
    assert "No policy value matches" in capsys.readouterr().out


@pytest.mark.parametrize("name", ["lifts", "policy", "block", "proposals", "clash"])
def test_schema_command_prints_a_schema(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["schema", name]) == 0
    Draft202012Validator.check_schema(json.loads(capsys.readouterr().out))


@pytest.mark.parametrize(("seconds", "said"), [(2.5, "rack: 2.5 s"), (0.5, "")])
def test_what_takes_over_a_second_is_said_on_stderr(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], seconds: float, said: str
) -> None:
    ticks = iter((0.0, seconds))
    monkeypatch.setattr(output, "time", SimpleNamespace(monotonic=lambda: next(ticks)))
    with pytest.raises(SystemExit, match="0"):
        run(["rack", "80", "--json"])
    out, err = capsys.readouterr()
    assert json.loads(out)["exact"]
    assert [line for line in err.splitlines() if " s" in line] == ([said] if said else [])


def test_a_closed_stdout_is_no_fault_of_ours(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    with pytest.raises(SystemExit) as stop:
        run(["policy"])
    sys.stdout.close()
    assert stop.value.code == 0


@pytest.mark.parametrize("command", ["restore", "backup", "check"])
def test_a_name_no_system_takes_is_bad_input(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code([command, str(tmp_path / ("a" * 300))]) == 2
    assert "our fault" not in capsys.readouterr().err
