"""The shipped policy is sound; a coach's file is read, checked and layered."""

from pathlib import Path

import pytest

from blockwright.engine.errors import BadPolicy
from blockwright.files.policy_files import coach_policy, default_policy, read_values


def test_every_default_is_within_its_bounds_and_explained() -> None:
    values = default_policy().values.values()
    assert len(values) > 20
    for value in values:
        if isinstance(value.value, int | float) and not isinstance(value.value, bool):
            assert value.low is not None
            assert value.high is not None
            assert value.low <= value.value <= value.high
        if isinstance(value.value, str):
            assert value.value in value.choices


def test_a_coach_file_may_be_dotted_or_in_tables(tmp_path: Path) -> None:
    key = next(
        key for key, value in default_policy().values.items()
        if isinstance(value.value, float) and value.stricter is None
    )  # fmt: skip
    head, _, tail = key.rpartition(".")
    low = default_policy().value(key).low
    file = tmp_path / "coach.toml"
    file.write_text(f"[{head}]\n{tail} = {low}\n", encoding="utf-8")
    changed = coach_policy(file, default_policy()).value(key)
    assert changed.value == low
    assert changed.origin == "coach"


def test_a_broken_coach_file_names_itself(tmp_path: Path) -> None:
    file = tmp_path / "coach.toml"
    file.write_text("[rack\n", encoding="utf-8")
    with pytest.raises(BadPolicy, match=r"coach\.toml"):
        coach_policy(file, default_policy())
    file.write_text("[nothing]\nhere = 1\n", encoding="utf-8")
    with pytest.raises(BadPolicy, match=r"coach\.toml, nothing\.here"):
        coach_policy(file, default_policy())
    with pytest.raises(BadPolicy, match=r"missing\.toml"):
        coach_policy(tmp_path / "missing.toml", default_policy())


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ({"value": 3, "unit": "s", "why": "w"}, "source"),
        ({"value": 3, "unit": "s", "why": "w", "source": "s"}, "low or high"),
        ({"value": 3, "low": 4, "high": 5, "unit": "s", "why": "w", "source": "s"}, "bounds"),
        ({"value": 3, "low": 1, "high": 5, "unit": "s", "why": "w", "source": "s", "x": 1}, "x"),
    ],
)
def test_an_entry_without_its_reason_is_refused(entry: dict[str, object], says: str) -> None:
    with pytest.raises(BadPolicy, match=says):
        read_values({"a": {"b": entry}}, "test.toml")
