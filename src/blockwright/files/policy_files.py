"""Reads the policy: the defaults shipped as data, then a coach's file, then a lifter's keys."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, BadPolicy, Problem
from blockwright.engine.policy import Policy, PolicyValue
from blockwright.engine.training import Block
from blockwright.files.toml_checks import load_toml

_FIELDS = {"value", "unit", "low", "high", "choices", "why", "source", "stricter"}


@cache
def default_policy() -> Policy:
    """The shipped policy, every file of `files/data/policy` in name order."""
    folder = resources.files("blockwright.files") / "data" / "policy"
    values: list[PolicyValue] = []
    for file in sorted(folder.iterdir(), key=lambda item: item.name):
        if file.name.endswith(".toml"):
            values += read_values(tomllib.loads(file.read_text(encoding="utf-8")), file.name)
    keys = [value.key for value in values]
    twice = {key for key in keys if keys.count(key) > 1}
    if twice:
        raise BadPolicy([Problem(key=key, says="is defined twice", mend="") for key in twice])
    return Policy(values)


def read_values(table: Mapping[str, Any], file: str) -> list[PolicyValue]:
    """The values of one file; the dotted path of tables is the key.

    Raises BadPolicy when an entry lacks a field, has an unknown one, or is out of bounds.
    """
    values: list[PolicyValue] = []
    problems: list[Problem] = []
    _walk(table, "", values, problems, file)
    if problems:
        raise BadPolicy(problems)
    return values


def _walk(
    table: Mapping[str, Any],
    prefix: str,
    values: list[PolicyValue],
    problems: list[Problem],
    file: str,
) -> None:
    for name, item in table.items():
        key = f"{prefix}{name}"
        if not isinstance(item, dict):
            problems.append(
                Problem(file=file, key=key, says="stands outside an entry", mend="use [key]")
            )
        elif "value" in item:
            problem = _entry_problem(key, item, file)
            if problem is None:
                values.append(_entry(key, item))
            else:
                problems.append(problem)
        else:
            _walk(item, f"{key}.", values, problems, file)


def _entry_problem(key: str, item: Mapping[str, Any], file: str) -> Problem | None:
    unknown = set(item) - _FIELDS
    if unknown:
        return Problem(file=file, key=key, says=f"unknown fields {sorted(unknown)}", mend="")
    missing = {"unit", "why", "source"} - set(item)
    if missing:
        return Problem(file=file, key=key, says=f"lacks {sorted(missing)}", mend="add them")
    value = item["value"]
    if isinstance(value, int | float) and not isinstance(value, bool):
        if "low" not in item or "high" not in item:
            return Problem(file=file, key=key, says="a number lacks low or high", mend="add them")
        if not item["low"] <= value <= item["high"]:
            return Problem(file=file, key=key, says="is outside its own bounds", mend="")
    return None


def _entry(key: str, item: Mapping[str, Any]) -> PolicyValue:
    said = {"low": None, "high": None, **item, "choices": tuple(item.get("choices", ()))}
    return PolicyValue(key=key, **said)


def policy_under(coach: Path | None) -> Policy:
    """The shipped policy, with a coach's file laid over it where there is one."""
    return default_policy() if coach is None else coach_policy(coach, default_policy())


def block_policy(block: Block) -> Policy:
    """The policy a block stands under: default, the coach's values it carries, the lifter's."""
    coach = default_policy().overridden(block.coach_policy, "coach")
    return coach.overridden(block.lifter.policy, "lifter")


def under_coach(block: Block, coach: Path | None) -> Block:
    """The block with a coach's file in place of the coach's values it carries; as it is without
    a file. Raises BadPolicy naming file and key."""
    if coach is None:
        return block
    moved = replace(block, coach_policy=policy_under(coach).set_by("coach"))
    try:
        block_policy(moved)
    except BadPolicy as error:
        mend = "change it in the coach's file, or in the lifter's [policy]"
        raise BadPolicy([replace(p, file=coach.name, mend=mend) for p in error.problems]) from error
    return moved


def coach_policy(file: Path, base: Policy) -> Policy:
    """`base` with a coach's file laid over: plain `key = value` lines, dotted or in tables.

    Raises BadPolicy naming file and key.
    """
    try:
        changes = dict(flattened(load_toml(file)))
        odd = [
            Problem(
                key=key,
                says="takes a number, a word, true or false",
                mend=f"write {key} = and one value",
            )
            for key, value in changes.items()
            if not isinstance(value, bool | int | float | str)
        ]
        if odd:
            raise BadPolicy(odd)
        return base.overridden(changes, "coach")
    except BadInput as error:
        raise BadPolicy([replace(p, file=file.name) for p in error.problems]) from error


def flattened(table: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Dotted key and value of a table and the tables in it."""
    for name, item in table.items():
        if isinstance(item, dict):
            yield from flattened(item, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", item
