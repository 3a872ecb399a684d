"""The shipped policy is sound; a coach's file is read, checked and layered."""

from dataclasses import replace
from pathlib import Path

import pytest

from blockwright.engine.errors import BadInput
from blockwright.files import policy_files
from blockwright.files.policy_files import default_policy, policy_under, under_coach
from planned_people import fixed_block


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
        assert all((value.why, value.source)), value.key


def test_every_entry_of_the_shipped_files_is_a_value_of_its_own() -> None:
    folder = Path(policy_files.__file__).parent / "data" / "policy"
    lines = [
        line for file in folder.glob("*.toml") for line in file.read_text("utf-8").splitlines()
    ]
    assert sum(line.startswith("value =") for line in lines) == len(default_policy().values)


def test_a_coach_file_may_be_dotted_or_in_tables(tmp_path: Path) -> None:
    key = next(
        key for key, value in default_policy().values.items()
        if isinstance(value.value, float) and value.stricter is None
    )  # fmt: skip
    head, _, tail = key.rpartition(".")
    low = default_policy().value(key).low
    file = tmp_path / "coach.toml"
    file.write_text(f"[{head}]\n{tail} = {low}\n", encoding="utf-8")
    changed = policy_under(file).value(key)
    assert changed.value == low
    assert changed.origin == "coach"


def test_a_broken_coach_file_names_itself(tmp_path: Path) -> None:
    file = tmp_path / "coach.toml"
    file.write_text("[rack\n", encoding="utf-8")
    with pytest.raises(BadInput, match=r"coach\.toml"):
        policy_under(file)
    file.write_text("[nothing]\nhere = 1\n", encoding="utf-8")
    with pytest.raises(BadInput, match=r"coach\.toml, nothing\.here"):
        policy_under(file)
    with pytest.raises(BadInput, match=r"missing\.toml"):
        policy_under(tmp_path / "missing.toml")


def test_a_coach_file_stricter_than_the_lifters_own_value_names_itself(tmp_path: Path) -> None:
    block = fixed_block()
    key, usual = "safety.pain_stop_above", default_policy().number("safety.pain_stop_above")
    known = replace(block, lifter=replace(block.lifter, policy={key: usual}))
    file = tmp_path / "coach.toml"
    file.write_text(f"{key} = {usual - 1}\n", encoding="utf-8")
    assert under_coach(block, file).coach_policy == {key: usual - 1}
    with pytest.raises(BadInput, match=r"coach\.toml, safety\.pain_stop_above: .*\[policy\]"):
        under_coach(known, file)
