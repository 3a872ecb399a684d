"""How commands speak: one JSON document or readable text on stdout, everything else on stderr."""

import sys
import time
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from threading import Timer
from typing import Any

from blockwright.engine.errors import BadInput, BlockwrightError, Problem
from blockwright.files.json_text import dumps
from blockwright.store.folder import replacing

_TURNS = frozenset("\u200e\u200f\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the direction of writing, and separators that end a line."""


def say(text: str) -> None:
    """A message for the person, on stderr, so that stdout stays clean."""
    if sys.stderr is not None:
        sys.stderr.write(f"{visible(text)}\n")


def say_error(error: BlockwrightError) -> None:
    """What is wrong, one problem a line: a field of no file by the option it was given in."""
    problems = (
        replace(one, column=_OPTIONS.get(one.column, f"--{one.column.replace('_', '-')}"))
        if one.column and not one.file
        else one
        for one in error.problems
    )
    say("blockwright: " + "\n".join(map(str, problems)))


_OPTIONS = {"load": "LOAD"}  # Of arguments that are no options


def warn(problems: Iterable[Problem]) -> None:
    """What a reader assumed, one line each, on stderr."""
    for problem in problems:
        say(f"note: {problem}")


def show(document: Mapping[str, Any], text: str, as_json: bool) -> None:
    """The command's answer: the JSON document when asked for, else the text."""
    sys.stdout.write(dumps(document) if as_json else visible(text.rstrip("\n")) + "\n")


def visible(text: str) -> str:
    """Text whose control characters are written out: what a file holds moves no cursor, hides
    no line and turns no writing round."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(f"\\u{ord(c):04x}" if _is_control(c) else c for c in text)


def _is_control(character: str) -> bool:
    if character in "\n\t":
        return False
    return unicodedata.category(character) in ("Cc", "Cs") or character in _TURNS


def save(path: Path, content: str | bytes) -> None:
    """Writes a file the person asked for, whole or not at all; BadInput when it cannot be."""
    with replacing(path, mode=0o666) as partial:
        partial.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)


def save_document(path: Path | None, document: Mapping[str, Any]) -> None:
    if path is not None:
        if path.suffix.lower() in (".toml", ".csv", ".xlsx"):
            raise BadInput.of(f"what is written to {path} is JSON", "name a .json file with -o")
        save(path, dumps(document))


@contextmanager
def progress(what: str, after_s: float = 1.0) -> Iterator[None]:
    """Says on stderr what takes longer than that and, at the end, how long it took."""
    late = Timer(after_s, say, [f"{what} ..."])
    late.daemon = True
    late.start()
    began = time.monotonic()
    yield
    late.cancel()
    if (took := time.monotonic() - began) > after_s:
        say(f"{what}: {took:.1f} s")
