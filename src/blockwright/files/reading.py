"""What a reader gives back: the value, and what it assumed on the way."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from blockwright.engine.errors import Problem

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Reading(Generic[T]):
    """A file's value and the warnings to show beside it; errors are raised instead."""

    value: T
    warnings: tuple[Problem, ...] = ()
