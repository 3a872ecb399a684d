"""What a file may hold at most. Looked at before it is parsed: a small file can be made that takes
gigabytes, or minutes, to read.

And what every database, page and export can hold: refused at the door, or it fails behind it. Half
a surrogate pair has no UTF-8, PostgreSQL keeps no NUL, and neither nesting nor numbers are without
end where the answer is read again."""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from blockwright.engine.errors import BadInput, Problem

MOST_BYTES = 32 * 2**20  # A log of twenty years is about 4 MB
MOST_TOML_BYTES = 2**20  # A lifter file with a hundred own lifts is about 60 KB
MOST_ROWS = 250_000  # Forty years of five sessions a week of twenty sets
MOST_SETS_OF_A_LIFT = 30_000
"""Of one lifter: half a century of twelve a week. Each costs the estimate 0.3 ms."""
MOST_COLUMNS = 200
FIRST_YEAR, LAST_YEAR = 1990, 2100
"""Years outside are typing errors or a spreadsheet's empty date (judgement)."""
MOST_KEY_PARTS = 16
"""Our own keys have four. Each part of a dotted key costs the parser a table, and all before it."""

_WORD = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP_KEY = re.compile(rf"(?<![\w-])(?:{_WORD}[ \t]*+\.[ \t]*+){{{MOST_KEY_PARTS},}}")


def read_limited(path: Path, most: int = MOST_BYTES, *, cut: bool = False) -> bytes:
    """A file's bytes; BadInput when the system will not give them or there are too many (with
    `cut`, the first of them)."""
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)
    except OSError as error:
        raise BadInput(unreadable(path, error)) from error
    if len(data) > most and not cut:
        mend = "check that it is the right file, or give it in parts"
        raise BadInput.of(f"is larger than {most // 2**20} MB", mend, file=path.name)
    return data[:most]


def unreadable(path: Path, error: OSError) -> Problem:
    """The problem of a file the system would not give us, in plain words."""
    if isinstance(error, FileNotFoundError):
        says, mend = "there is no such file", "check the name and the folder"
    elif isinstance(error, IsADirectoryError):
        says, mend = "is a folder, not a file", "name a file in it"
    elif isinstance(error, PermissionError):
        says, mend = "may not be read", "give yourself the right to read it"
    else:
        says, mend = "cannot be read", "check the disk and the name"
    return Problem(file=path.name or str(path), says=says, mend=mend)


def refuse_deep_keys(text: str, file: str | None) -> None:
    """BadInput for a TOML key of more parts than any of ours could have."""
    found = _DEEP_KEY.search(text)
    if found is not None:
        row = text.count("\n", 0, found.start()) + 1
        says = f"a key or text of more than {MOST_KEY_PARTS} parts with dots between them"
        raise BadInput.of(says, "write fewer dots", file=file, row=row)


MOST_DEPTH = 40  # Lists and tables within each other; our own documents have less than ten
MOST_WHOLE = 2**53  # The largest whole number that a script on a phone reads as it was sent

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
        raise BadInput.of(says, mend, file=file, key=place or None)


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
