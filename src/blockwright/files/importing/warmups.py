"""Warm-up marks: "Squat w/up", "WU 40x10", "135 wu", a column of x's."""

import re
from functools import lru_cache

from blockwright.files.importing.words import words

_WORD = rf"(?:{'|'.join(words()['marks']['warmup'])})(?:\s*sets?)?(?![a-zà-ÿ])"
_MARK = re.compile(rf"[\s(\[:,-]*(?<![a-zà-ÿ/]){_WORD}[)\]:.]*(?:\s*-\s+)?", re.I)
_LABEL = re.compile(rf"w\s?\d{{0,2}}|{_WORD}\s*#?\d{{0,2}}[.:)]*", re.I)
_NOT = frozenset({"no", "n", "0", "false", "-", "nein", "non", "work", "working", "normal"})


@lru_cache(maxsize=32768)
def without_warmup(text: str) -> tuple[str, bool]:
    """The text without a warm-up mark, and whether it bore one."""
    match = _MARK.search(text)
    if match is None:
        return text, False
    return f"{text[: match.start()]} {text[match.end() :]}".strip(" -:,(["), True


_FIRST = re.compile(
    r"\b(?:first|1st|erste[rs]?|premi[eè]re?|primer[ao]?)(?:\s+(?P<two>two|2|zwei))?\b.{0,25}?"
    rf"(?:{_WORD}|\bwarm)",
    re.I,
)


def warmups_first(note: str) -> int:
    """How many sets at the beginning of a row its note calls warm-ups: "first one to warm up"."""
    match = _FIRST.search(note)
    return 0 if match is None else 2 if match["two"] else 1


@lru_cache(maxsize=32768)
def is_warmup_label(text: str) -> bool:
    """Whether a cell of set numbers or kinds of set says warm-up: "WU", "W1", "warm-up"."""
    return _LABEL.fullmatch(text.strip()) is not None


def is_warmup_word(text: str) -> bool:
    """Whether a cell says warm-up and no more, in a word."""
    return len(text) > 1 and text[-1:].isalpha() and is_warmup_label(text)


def is_ticked(text: str) -> bool:
    """Whether a cell of a warm-up column marks its row."""
    return text.strip().lower() not in _NOT
