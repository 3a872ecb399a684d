"""The words of training logs, from `data/import_words.toml`."""

import tomllib
import unicodedata
from functools import cache
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
    return {word: int(number) for number, forms in words()[table].items() for word in forms}
