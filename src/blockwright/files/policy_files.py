"""Reads the policy: the defaults shipped as data, then a coach's file, then a lifter's keys."""

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy, PolicyValue
from blockwright.engine.training import Block
from .reading import shipped_in
from .toml_checks import load_toml


@cache
def default_policy() -> Policy:
    """The shipped policy, every file of `files/data/policy` in name order."""
    texts = shipped_in("policy").values()
    return Policy(value for text in texts for value in _values(tomllib.loads(text), ""))


def _values(table: Mapping[str, Any], prefix: str) -> Iterator[PolicyValue]:
    """The entries of a file; the dotted path of tables is the key."""
    for name, item in table.items():
        key = f"{prefix}{name}"
        if "value" in item:
            said = {"low": None, "high": None, **item, "choices": tuple(item.get("choices", ()))}
            yield PolicyValue(key=key, **said)
        else:
            yield from _values(item, f"{key}.")


def block_policy(block: Block) -> Policy:
    """The policy a block stands under: default, the coach's values it carries, the lifter's."""
    coach = default_policy().overridden(block.coach_policy, "coach")
    return coach.overridden(block.lifter.policy, "lifter")


def under_coach(block: Block, coach: Path | None) -> Block:
    """The block with a coach's file in place of the coach's values it carries; as it is without
    a file. Raises BadInput naming file and key."""
    if coach is None:
        return block
    moved = replace(block, coach_policy=policy_under(coach).set_by("coach"))
    try:
        block_policy(moved)
    except BadInput as error:
        mend = "change it in the coach's file, or in the lifter's [policy]"
        raise BadInput([replace(p, file=coach.name, mend=mend) for p in error.problems]) from error
    return moved


def policy_under(file: Path | None) -> Policy:
    """The shipped policy, with a coach's file laid over it where there is one: plain `key = value`
    lines, dotted or in tables. Raises BadInput naming file and key."""
    if file is None:
        return default_policy()
    try:
        changes = dict(flattened(load_toml(file)))
        odd = [
            Problem(
                "takes a number, a word, true or false", f"write {key} = and one value", key=key
            )
            for key, value in changes.items()
            if not isinstance(value, bool | int | float | str)
        ]
        BadInput.raise_any(odd)
        return default_policy().overridden(changes, "coach")
    except BadInput as error:
        raise BadInput([replace(p, file=file.name) for p in error.problems]) from error


def flattened(table: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Dotted key and value of a table and the tables in it."""
    for name, item in table.items():
        if isinstance(item, dict):
            yield from flattened(item, f"{prefix}{name}.")
        else:
            yield f"{prefix}{name}", item
