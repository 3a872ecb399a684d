"""What every database, page and export can hold: refused at the door, or it fails behind it.

Half a surrogate pair has no UTF-8, PostgreSQL keeps no NUL, and neither nesting nor numbers are
without end where the answer is read again.
"""

import re
from collections.abc import Mapping
from typing import Any

from blockwright.engine.errors import BadInput, Problem

MOST_DEPTH = 40
"""Lists and tables within each other; our own documents have less than ten."""
MOST_WHOLE = 2**53
"""The largest whole number that a script on a phone reads as it was sent."""

_CANNOT_BE_KEPT = re.compile("[\x00\ud800-\udfff]")
SAYS = "holds a character that cannot be kept (half an emoji, or a NUL)"
MEND = "write it anew without that character"


class UnstorableError(ValueError):
    """A document holds what no database or page can."""


def is_storable(text: str) -> bool:
    """Whether every database and every page can hold the text."""
    return _CANNOT_BE_KEPT.search(text) is None


def what_cannot_be_kept(document: Any) -> str | None:
    """Of a JSON or TOML value: what is wrong with it, with its place; None for a sound one."""
    fault = _fault(document)
    return None if fault is None else ": ".join(filter(None, fault))


def require_storable(document: Mapping[str, Any], file: str | None) -> None:
    """Raises BadInput for a document with something that no database or page can hold."""
    fault = _fault(document)
    if fault is not None:
        place, says = fault
        mend = MEND if SAYS in says else "write a plain number"
        raise BadInput(Problem(file=file, key=place or None, says=says, mend=mend))


def _fault(document: Any) -> tuple[str, str] | None:
    """The place and what is wrong there."""
    waiting: list[tuple[str, Any, int]] = [("", document, 0)]
    while waiting:
        place, value, depth = waiting.pop()
        says = _wrong(value, depth)
        if says is not None:
            return place, says
        if isinstance(value, Mapping):
            if not all(is_storable(str(key)) for key in value):
                return place, f"a name {SAYS}"
            waiting += [(_below(place, str(key)), one, depth + 1) for key, one in value.items()]
        elif isinstance(value, list | tuple):
            waiting += [(_below(place, str(at)), one, depth + 1) for at, one in enumerate(value, 1)]
    return None


def _wrong(value: Any, depth: int) -> str | None:
    if depth > MOST_DEPTH:
        return "is nested too deep"
    if isinstance(value, str) and not is_storable(value):
        return SAYS
    if isinstance(value, int) and abs(value) > MOST_WHOLE:
        return "is a number too large to keep"
    if isinstance(value, float) and not abs(value) < float("inf"):
        return "is no number"
    return None


def _below(place: str, key: str) -> str:
    return f"{place}.{key}"[:80] if place else key[:80]
