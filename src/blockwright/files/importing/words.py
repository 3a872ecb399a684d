"""The words of training logs, from `data/import_words.toml`."""

import re
import tomllib
import unicodedata
from functools import cache, lru_cache
from importlib import resources
from typing import Any

from blockwright.engine.units import Unit

_LETTERS = str.maketrans(
    {"ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "æ": "ae", "Æ": "Ae", "ß": "ss", "œ": "oe", "đ": "d"}
)
"""Letters that are more than one with an accent."""


def without_accents(text: str) -> str:
    """The text with plain letters: `é` is `e`, `ü` is `u`."""
    if text.isascii():
        return text
    plain = unicodedata.normalize("NFKD", text.translate(_LETTERS))
    return "".join(c for c in plain if not unicodedata.combining(c))


UNIT = re.compile(r"\b(?:(?P<kg>kgs?|kilos?|kilograms?)|(?P<lb>lbs?|pounds))\b", re.I)


def unit_in(said: str) -> Unit | None:
    """The unit of load that a text names."""
    match = UNIT.search(said)
    return None if match is None else "kg" if match["kg"] else "lb"


def slug(name: str) -> str:
    """A name as part of a question's id."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40]


@cache
def words() -> dict[str, Any]:
    """The tables of the file, as they stand."""
    path = resources.files("blockwright.files") / "data" / "import_words.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def numbered(table: str) -> dict[str, int]:
    """Word to number: `jan` to 1, `mon` to 0."""
    return {
        without_accents(word): int(number)
        for number, forms in words()[table].items()
        for word in forms
    }


def one_of(name: str, table: str = "marks") -> str:
    """The words of a list as one regular expression."""
    return f"(?:{'|'.join(words()[table][name])})"


@cache
def _of_marks(table: str) -> re.Pattern[str]:
    behind = r"\b" if table == "not_done" else ""
    return re.compile(rf"(?:{without_accents('|'.join(words()['marks'][table]))}){behind}", re.I)


@lru_cache(maxsize=32768)
def is_ditto(text: str) -> bool:
    """Whether a cell says "the same as above"."""
    return _of_marks("ditto").fullmatch(without_accents(text.strip().strip("()"))) is not None


@lru_cache(maxsize=32768)
def is_drop(text: str) -> bool:
    """Whether what stands for a lift's name says that the set above went on with less."""
    return _of_marks("drop").fullmatch(without_accents(text.strip(" ()>-."))) is not None


@lru_cache(maxsize=32768)
def says_not_done(text: str) -> bool:
    """Whether a note says that its row was not done: "cancelled, back", "back, skipped"."""
    first, *rest = re.split(r"\s*[,;(]\s*", without_accents(text.strip(" )")))
    form = _of_marks("not_done")
    return form.match(first) is not None or any(map(form.fullmatch, rest))


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
