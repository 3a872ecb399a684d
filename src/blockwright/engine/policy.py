"""Every number a coach may change, with its bounds, its reason and its source.

The engine asks for a value by key; the files (default, coach, lifter) are read and layered by
`files/policy_files.py`. Published findings are not policy: they live in `published/`."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from difflib import get_close_matches
from math import inf, isfinite, isnan
from types import MappingProxyType
from typing import Literal

from .errors import BadInput, Problem
from .units import plain_number

PolicyScalar = float | int | str | bool
Origin = Literal["default", "coach", "lifter"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PolicyValue:
    key: str
    value: PolicyScalar
    unit: str
    low: float | None
    high: float | None
    why: str
    source: str
    origin: Origin = "default"
    choices: tuple[str, ...] = ()  # Legal words of a text value; empty for numbers and switches
    stricter: Literal["lower", "higher"] | None = None
    """For a caution's threshold: the only direction in which it may be moved."""


class Policy:
    """Policy values by key. Read-only; `overridden` makes a new one."""

    def __init__(self, values: Iterable[PolicyValue]) -> None:
        self.values: Mapping[str, PolicyValue] = MappingProxyType({v.key: v for v in values})

    def value(self, key: str) -> PolicyValue:
        """The whole entry; raises BadInput naming the nearest key when there is none."""
        try:
            return self.values[key]
        except KeyError:
            raise BadInput(unknown_key(key, self.values)) from None

    def number(self, key: str) -> float:
        """The number under `key`, in the unit its entry names."""
        value = self.value(key).value
        if isinstance(value, bool | str):
            raise TypeError(f"policy {key} is not a number")
        return float(value)

    def whole(self, key: str) -> int:
        return round(self.number(key))

    def days(self, key: str) -> timedelta:
        return timedelta(days=self.number(key))

    def switch(self, key: str) -> bool:
        value = self.value(key).value
        if not isinstance(value, bool):
            raise TypeError(f"policy {key} is not a switch")
        return value

    def text(self, key: str) -> str:
        value = self.value(key).value
        if not isinstance(value, str):
            raise TypeError(f"policy {key} is not a word")
        return value

    def overridden(self, changes: Mapping[str, PolicyScalar], origin: Origin) -> "Policy":
        """A policy with `changes` laid over; raises BadInput with every problem at once."""
        problems = [
            problem
            for key, value in changes.items()
            if (problem := override_problem(self.values, key, value)) is not None
        ]
        if problems:
            raise BadInput(problems)
        merged = dict(self.values)
        for key, value in changes.items():
            merged[key] = replace(merged[key], value=value, origin=origin)
        return Policy(merged.values())

    def set_by(self, origin: Origin) -> Mapping[str, PolicyScalar]:
        """The values that come from one layer, in the order of their keys."""
        return {key: v.value for key, v in sorted(self.values.items()) if v.origin == origin}


def unknown_key(key: str, known: Iterable[str]) -> Problem:
    """The problem of a key nobody knows, with the nearest known one."""
    near = get_close_matches(key, list(known), n=1, cutoff=0.5)
    mend = f'did you mean "{near[0]}"?' if near else "see `blockwright policy` for the known keys"
    return Problem(key=key, says=f'there is no policy value called "{key}"', mend=mend)


def override_problem(
    known: Mapping[str, PolicyValue], key: str, value: PolicyScalar
) -> Problem | None:
    """What is wrong with setting `key` to `value`, or None."""
    entry = known.get(key)
    if entry is None:
        return unknown_key(key, known)
    if isinstance(entry.value, bool) or isinstance(value, bool):
        if isinstance(entry.value, bool) and isinstance(value, bool):
            return None
        says = f"{value!r} is not the kind of value {key} takes"
        mend = "write true or false" if isinstance(entry.value, bool) else "write a number"
        return Problem(key=key, says=says, mend=mend)
    if isinstance(entry.value, str):
        says, mend = f"{value!r} is not one of its words", "use one of: " + ", ".join(entry.choices)
        return None if value in entry.choices else Problem(key=key, says=says, mend=mend)
    if isinstance(value, str):
        return Problem(key=key, says=f"{value!r} is not a number", mend="write a number")
    try:
        number = float(value)
    except OverflowError:  # a whole number of more than three hundred figures
        number = inf if value > 0 else -inf
    return _number_problem(entry, number)


def _number_problem(entry: PolicyValue, value: float) -> Problem | None:
    low = float("-inf") if entry.low is None else entry.low
    high = float("inf") if entry.high is None else entry.high
    mend, usual = f"the default is {entry.value}", float(entry.value)
    if isnan(value):
        says = "nan is not a number one can use"
    elif not low <= value <= high:
        shown = plain_number(value) if isfinite(value) else "this number"
        says = f"{shown} {entry.unit} is outside {plain_number(low)} to {plain_number(high)}"
    elif value > usual if entry.stricter == "lower" else entry.stricter and value < usual:
        says = "a caution's threshold may be made stricter, never looser"
        mend = f"keep it at or {'below' if entry.stricter == 'lower' else 'above'} {entry.value}"
    else:
        return None
    return Problem(key=entry.key, says=says, mend=mend)
