"""The words of training logs, from `data/import_words.toml`."""

import re
import tomllib
import unicodedata
from functools import cache, lru_cache
from importlib import resources
from typing import Any


def without_accents(text: str) -> str:
    """The text with plain letters: `é` is `e`, `ü` is `u`."""
    if text.isascii():
        return text
    return "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))


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


@cache
def _of_marks(table: str) -> re.Pattern[str]:
    behind = r"\b" if table == "not_done" else ""
    return re.compile(rf"(?:{without_accents('|'.join(words()['marks'][table]))}){behind}", re.I)


@lru_cache(maxsize=32768)
def is_ditto(text: str) -> bool:
    """Whether a cell says "the same as above"."""
    return _of_marks("ditto").fullmatch(without_accents(text.strip().strip("()"))) is not None


@lru_cache(maxsize=32768)
def says_not_done(text: str) -> bool:
    """Whether a note says that its row was not done: "cancelled, back", "back, skipped"."""
    first, *rest = re.split(r"\s*[,;(]\s*", without_accents(text.strip(" )")))
    form = _of_marks("not_done")
    return form.match(first) is not None or any(map(form.fullmatch, rest))
