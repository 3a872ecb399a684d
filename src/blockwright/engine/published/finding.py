"""`Finding`: one published value with its source. The type every module here is made of."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Generic, TypeVar

from blockwright.engine.sources import Source

T = TypeVar("T")
K = TypeVar("K")
V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class Finding(Generic[T]):
    """A value as published, in `unit`. `note` says what it does and does not support."""

    value: T
    unit: str
    source: Source
    note: str = ""


@dataclass(frozen=True, slots=True)
class Effect:
    """An effect and its interval (95 % unless the finding says otherwise)."""

    estimate: float
    low: float
    high: float


def table(rows: Mapping[K, V]) -> Mapping[K, V]:
    """A read-only copy."""
    return MappingProxyType(dict(rows))
