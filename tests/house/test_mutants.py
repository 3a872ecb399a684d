"""Mistakes that must be noticed (`tools/named_mutants.toml`); `make test` makes each and runs the
tests beside it. Here only: each can still be made."""

import ast
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
NAMED = tomllib.loads((ROOT / "tools" / "named_mutants.toml").read_text(encoding="utf-8"))["mutant"]


@pytest.mark.parametrize("one", NAMED, ids=lambda one: one["what"])
def test_a_named_mutant_can_still_be_made(one: dict[str, str]) -> None:
    text = (ROOT / "src" / "blockwright" / one["file"]).read_text(encoding="utf-8")
    assert text.count(one["is"]) == 1, "name the same mistake in the source's new words"
    assert one["is"] != one["becomes"]
    ast.parse(text.replace(one["is"], one["becomes"]))
    for test in one["tests"]:
        assert (ROOT / test.split("::")[0]).exists(), test
