"""The nearest known word to what a person typed, for "did you mean"."""

from collections.abc import Iterable
from difflib import get_close_matches

_ALIKE = 0.65
"""A guess less like the word than this ("machine fly" for "calf machine") misleads (judgement)."""


def nearest(word: str, known: Iterable[str], count: int = 1) -> tuple[str, ...]:
    """Up to `count` known words like `word`, best first; case does not matter."""
    by_folded: dict[str, str] = {}
    for name in known:
        by_folded.setdefault(name.lower(), name)
    found = get_close_matches(word.strip().lower(), list(by_folded), n=count, cutoff=_ALIKE)
    return tuple(by_folded[name] for name in found)


def did_you_mean(word: str, known: Iterable[str], otherwise: str, count: int = 1) -> str:
    """`did you mean "x" or "y"?`, or `otherwise` when nothing is near."""
    names = nearest(word, known, count)
    if not names:
        return otherwise
    return "did you mean " + " or ".join(f'"{name}"' for name in names) + "?"


def listed(words: Iterable[str]) -> str:
    """Words as a person lists them: `a, b or c`."""
    names = list(words)
    return " or ".join(filter(None, [", ".join(names[:-1]), names[-1]])) if names else ""
