"""What a file may hold at most. Looked at before it is parsed: a small file can be made that takes
gigabytes, or minutes, to read."""

import re
from collections.abc import Sequence
from pathlib import Path

from blockwright.engine.errors import MOST_TOLD, BadInput, Problem

MOST_BYTES = 32 * 2**20
"""A log of twenty years is about 4 MB."""
MOST_TOML_BYTES = 2**20
"""A lifter file with a hundred own lifts is about 60 KB."""
MOST_ROWS = 250_000
"""Forty years of five sessions a week of twenty sets."""
MOST_COLUMNS = 200
MOST_KEY_PARTS = 16
"""Our own keys have four. Each part of a dotted key costs the parser a table, and all before it."""

_WORD = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP_KEY = re.compile(rf"(?<![\w-])(?:{_WORD}[ \t]*+\.[ \t]*+){{{MOST_KEY_PARTS},}}")


def read_limited(path: Path, most: int = MOST_BYTES) -> bytes:
    """A file's bytes; BadInput when the system will not give them or there are too many."""
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)
    except OSError as error:
        raise BadInput(unreadable(path, error)) from error
    if len(data) > most:
        mend = "check that it is the right file, or give it in parts"
        says = f"is larger than {most // 2**20} MB"
        raise BadInput(Problem(file=path.name, says=says, mend=mend))
    return data


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
        raise BadInput(Problem(file=file, row=row, says=says, mend="write fewer dots"))


def is_enough(problems: Sequence[Problem]) -> bool:
    """Whether a reader of rows should stop: what it found already fills the message."""
    return len(problems) >= MOST_TOLD


def rows_left(file: str, row: int, left: int) -> list[Problem]:
    """What to say of the rows that were not looked at after `row`; nothing where none is left."""
    if not left:
        return []
    says = f"the {left} rows after this one were not looked at"
    mend = "mend these first, then look again"
    return [Problem(file=file, row=row, says=says, mend=mend, stands_for=left)]
