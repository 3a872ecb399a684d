"""What a reader gives back: the value, and what it assumed on the way; the room for it; and what
ships with the program, in `files/data`."""

import gc
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import resources
from typing import Any, Generic, TypeVar

from blockwright.engine.errors import Problem

T = TypeVar("T")
_DATA = resources.files("blockwright.files") / "data"


def shipped(name: str) -> Any:
    return tomllib.loads((_DATA / name).read_text(encoding="utf-8"))


def shipped_in(folder: str) -> dict[str, str]:
    """The texts of the TOML files of a folder, in the order of their names."""
    files = sorted((_DATA / folder).iterdir(), key=lambda item: item.name)
    return {one.name: one.read_text("utf-8") for one in files if one.name.endswith(".toml")}


@dataclass(frozen=True, slots=True)
class Reading(Generic[T]):
    """A file's value and the warnings to show beside it; errors are raised instead."""

    value: T
    warnings: tuple[Problem, ...] = ()


@contextmanager
def collection_paused() -> Iterator[None]:
    """Pauses the search for reference cycles while a large log is built.

    Rows and facts are flat and never form cycles; searching them over and over while they are made
    takes half the time of reading 200,000 rows (`benchmarks/read_log.py`)."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@dataclass(frozen=True, slots=True)
class CommandAnswer:
    """What a verb of the command line answers: its document, the same as text, and what reading
    the files assumed."""

    document: dict[str, Any]
    text: str = ""
    warnings: tuple[Problem, ...] = ()
