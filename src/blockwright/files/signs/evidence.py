"""What the words of a note weigh, taken together, where no rule speaks or a rule speaks too soon.

Rules know only ways of writing that somebody thought of. The weights (`tables.py`) were fitted to
invented notes of several authors: each word, class of words, pair of neighbours and short run of
letters speaks a little for or against a warning sign. They raise doubts, never certainty: what only
they find is asked about. `studies/sign_weights.py` fits them anew."""

from collections.abc import Mapping
from functools import cache, lru_cache
from itertools import pairwise
from math import sqrt

from blockwright.engine.signs import POSSIBLE, QUESTIONS
from .denial import SIGN_CLASSES, counts
from .reading import NoteReading, word_set
from .tables import MEANT, OF_A_RULE, OF_A_SURE_RULE, START, WEIGHTS

LEAD = 3
"""By how much a sign must lead the next for its question to be asked; else the open one is. On
authors held out in turn, where only the words together speak: right in 62 %, wrong in 15 (judgement
between fewer wrong questions and fewer open ones)."""
BUCKETS = 16384
"""How many weights there are: what is weighed shares them by its hash, so that the phone's table
stays small; few of what counts meet in one."""
NONE_WEIGHS, SKIPPED = 82, 92
"""Codes of the character for a weight of nothing, and of the one (a backslash) left out."""
EVEN = 10
"""What all words weigh is shared by the root of how many there are, so that a long note is not
louder than a short one; times this."""
RUNS = (3, 4)  # Letters in a row that are weighed: endings and slips of words nobody listed


def features(reading: NoteReading) -> set[str]:
    """What of a note is weighed: its words, their classes, neighbours, runs of letters, its length,
    first and last word, and what the harmless phrases took out."""
    marks = _marks(reading)
    forms = [
        (f"{mark}{token}", *(f"{mark}<{name}>" for name in here))
        for mark, token, here in zip(marks, reading.tokens, reading.classes, strict=True)
    ]
    seen = {"9" if one.isdigit() else one for here in forms for one in here}
    for index, (here, following) in enumerate(pairwise(forms)):
        if not (reading.hard[index] or reading.hard[index + 1]):
            seen.update(
                f"{one}_{other}"
                for one in here
                for other in following
                if "<" not in one or "<" not in other
            )
    for mark, token in set(zip(marks, reading.tokens, strict=True)):
        word = f" {token} "
        seen.update(f"#{mark}{word[at : at + n]}" for n in RUNS for at in range(len(word) - n + 1))
    seen.update(f"~{one}" for index in reading.silent for one in ("", *forms[index]))
    if forms:
        seen |= {f"^{forms[0][0]}", f"{forms[-1][0]}$", f"%{min(len(forms) // 4, 6)}"}
    return seen


def _marks(reading: NoteReading) -> list[str]:
    """By word: "!" after a denial in its clause and for a sign's word that does not count, "@"
    after another person, "?" after "if" and advice; else nothing."""
    marks, mark = [], ""
    for index, here in enumerate(reading.classes):
        if reading.is_mark(index):
            mark = ""
        is_sign = not word_set(SIGN_CLASSES).isdisjoint(here)
        marks.append("!" if is_sign and not counts(reading, ((index, index + 1),)) else mark)
        if index in reading.denials:
            mark = "!"
        elif "other" in here:
            mark = "@"
        elif "if" in here or "advice" in here:
            mark = "?"
    return marks


@lru_cache(maxsize=1 << 16)
def bucket(feature: str) -> int:
    """Which weight is a feature's: FNV-1a of 32 bits, folded."""
    found = 2166136261
    for letter in feature:
        found = (found ^ ord(letter)) * 16777619 & 0xFFFFFFFF
    return (found ^ found >> 15) % BUCKETS


def doubt_left(reading: NoteReading, sure: Mapping[str, bool]) -> bool | None:
    """Of a note, all its words weighed: None where it holds no sign, though rules may have found
    one; else whether its words, taken alone, leave a doubt of what a rule is sure of. `sure`: what
    the rules say, of each sign whether its own words leave none."""
    table = _weights()
    weighed = {bucket(one) for one in features(reading)}
    words = START + sum(table[one] for one in weighed) * EVEN / sqrt(max(len(weighed), 1))
    by_rule = OF_A_RULE * bool(sure) + OF_A_SURE_RULE * any(sure.values())
    return words <= 0 if words + by_rule > 0 else None


def meant_words(reading: NoteReading) -> frozenset[str]:
    """What tells which sign a note is about: its words and their classes."""
    words = (token for token in reading.tokens if token[0].isalpha())
    return frozenset((*words, *(f"<{name}>" for name in reading.named)))


def sign_meant(reading: NoteReading) -> str:
    """The sign to ask about where only the words together speak."""
    speak = dict.fromkeys(QUESTIONS, 0)
    table = _meant()
    for word in meant_words(reading):
        for sign, says in table.get(word, ()):
            speak[sign] += says
    first, second = sorted(speak, key=speak.__getitem__, reverse=True)[:2]
    return first if speak[first] - speak[second] >= LEAD else POSSIBLE


@cache
def _meant() -> dict[str, list[tuple[str, int]]]:
    signs = list(QUESTIONS)
    rows = (entry.split() for entry in MEANT.split(";"))
    return {
        word: [(signs[ord(one[0]) - ord("a")], int(one[1:])) for one in of] for word, *of in rows
    }


@cache
def _weights() -> list[int]:
    codes = map(ord, "".join(WEIGHTS.split()))
    return [code - NONE_WEIGHS - (code > SKIPPED) for code in codes]
