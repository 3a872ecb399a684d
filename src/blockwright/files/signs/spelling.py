"""Typing slips: a word nobody knows that is nearly a word of a sign is read as that word."""

from functools import cache, lru_cache

from rapidfuzz.distance import OSA

from .patterns import classes_of
from .tables import CLASSES, NOT_SLIPS

LEAST_LETTERS, TWO_SLIPS_FROM = 5, 9
FUZZY_CLASSES = (
    "chest bone jaw pain ache gasp faint palp headache numb swell sharp stab one_calf rhabdo"
)
FUZZY_WORDS = """
heart heartbeat breath breathe breathing tight tightness pressure crushing squeezing burning
racing pounding fluttering skipping irregular blurry blurred vision double urine brown coffee
blacked passed keeled popped tearing snapped weakness strength feeling fingers spinning electric
"""
"""Words whose slips are worth reading: each class's, and some of others."""


@lru_cache(maxsize=8192)
def corrected(word: str) -> str:
    """The word of a sign that was meant, or the word itself.

    One slip (a letter wrong, missing, too many, or two exchanged) in words of five letters or more,
    two from nine letters on; the first letter must be right."""
    if len(word) < LEAST_LETTERS - 1 or word in _known() or not word.isalpha():
        return word
    best, fewest = word, 3
    for meant in meant_words().get(word[0], ()):
        most = 2 if min(len(meant), len(word) + 1) >= TWO_SLIPS_FROM else 1
        slips = OSA.distance(word, meant, score_cutoff=most)
        if slips <= most and slips < fewest:
            best, fewest = meant, slips
    return best


@cache
def _known() -> frozenset[str]:
    words = {word for entries in classes_of(CLASSES).values() for e in entries for word in e}
    return frozenset(words) | frozenset(NOT_SLIPS.split())


@cache
def meant_words() -> dict[str, tuple[str, ...]]:
    """By first letter, in a fixed order: the words that may have been meant."""
    classes = classes_of(CLASSES)
    fuzzy = {e[0] for name in FUZZY_CLASSES.split() for e in classes[name] if len(e) == 1}
    words = sorted(w for w in fuzzy | {*FUZZY_WORDS.split()} if len(w) >= LEAST_LETTERS)
    return {first: tuple(w for w in words if w[0] == first) for first in {w[0] for w in words}}
