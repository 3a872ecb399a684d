"""docs/estimate.md and docs/evidence.md say what the code does: keys, values, names."""

import importlib
import re
from pathlib import Path

import pytest

from blockwright.engine.policy import Policy
from blockwright.files.policy_files import default_policy

ROOT = Path(__file__).resolve().parents[2]
PAGES = ("estimate.md", "evidence.md")


@pytest.fixture(scope="module")
def policy() -> Policy:
    return default_policy()


def text_of(page: str) -> str:
    return " ".join((ROOT / "docs" / page).read_text(encoding="utf-8").split())


@pytest.mark.parametrize("page", PAGES)
def test_every_value_named_is_the_policys(page: str, policy: Policy) -> None:
    said = re.findall(r"`([a-z_]+(?:\.[a-z_]+)+)` = (-?[\d.]*\d)", text_of(page))
    assert len(said) > 8
    for key, value in said:
        assert policy.number(key) == pytest.approx(float(value)), key


@pytest.mark.parametrize("page", PAGES)
def test_every_key_and_every_name_exists(page: str, policy: Policy) -> None:
    words = re.findall(r"`([a-zA-Z_]+(?:\.[a-zA-Z_0-9]+)+)`", text_of(page))
    named = [word for word in words if word.startswith("engine.")]
    assert named
    for word in words:
        if word.startswith("engine."):
            module, name = f"blockwright.{word}".rsplit(".", 1)
            assert hasattr(importlib.import_module(module), name), word
        else:
            assert word in policy.values, word


@pytest.mark.parametrize("page", PAGES)
def test_paths_exist(page: str) -> None:
    for path in re.findall(r"`(src/[^`]+)`", text_of(page)):
        assert (ROOT / path).exists(), path


def test_the_points_against_the_method_are_said() -> None:
    """What engine.md asks the honesty page to say; none may be edited away silently."""
    said = text_of("evidence.md").lower()
    for words in (
        "preprint", "equivalent", "brought no benefit", "keep their frequency",
        "merges sessions", "soreness is a weak sign", "remembered", "not learnt",
    ):  # fmt: skip
        assert words in said, words
