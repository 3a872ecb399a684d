"""What the words of a note weigh, taken together, where no rule speaks or a rule speaks too soon.

Rules know only ways of writing that somebody thought of. The weights (`weights.py`) were fitted to
invented notes of several authors: each word, class of words and pair of neighbours speaks a little
for or against a warning sign. They raise doubts, never certainty: what only they find is asked
about. `studies/sign_weights.py` fits them anew.
"""

from collections.abc import Iterator
from functools import cache

from blockwright.engine.signs.reading import Reading
from blockwright.engine.signs.rules import (
    ARM,
    BREATH,
    CALF,
    CHEST,
    FAINT,
    HEAD,
    HEART,
    NUMB,
    POSSIBLE,
    SHARP,
    SWELLING,
    URINE,
)
from blockwright.engine.signs.weights import OF_A_RULE, START, WEIGHTS

CLASS_SIGNS = (
    (CHEST, "chest bone ribs"), (HEART, "heart palp rate rate_bad"), (BREATH, "gasp breath"),
    (FAINT, "faint spin everything"), (HEAD, "headache blur spotty stroke eyes head"),
    (URINE, "pee pee_only brown"), (CALF, "one_calf calf"), (NUMB, "numb asleep dead grip hand"),
    (SHARP, "sharp stab tear pop"), (SWELLING, "swell weak rhabdo"), (ARM, "jaw neck arm"),
)  # fmt: skip
"""The sign that is asked about, by the first class of words a note holds (judgement)."""


def features(reading: Reading) -> Iterator[str]:
    """What of a note is weighed: its words, their classes, and neighbours, each once."""
    forms = [
        (token, *(f"<{name}>" for name in sorted(here)))
        for token, here in zip(reading.tokens, reading.classes, strict=True)
    ]
    seen: dict[str, None] = {}
    for index, here in enumerate(forms):
        seen.update(dict.fromkeys(here))
        if reading.hard[index] or index + 1 == len(forms) or reading.hard[index + 1]:
            continue
        for one in here:
            for other in forms[index + 1]:
                if one[0] != "<" or other[0] != "<":
                    seen[f"{one}_{other}"] = None
    yield from seen


def is_likely(reading: Reading, by_rule: bool) -> bool:
    """Whether the note, all its words weighed, holds a sign; `by_rule`: a rule has spoken."""
    table = _weights()
    total = START + OF_A_RULE * by_rule + sum(table.get(one, 0) for one in features(reading))
    return total > 0


def sign_meant(reading: Reading) -> str:
    """The sign to ask about where only the words together speak."""
    for sign, classes in CLASS_SIGNS:
        if not reading.named.isdisjoint(classes.split()):
            return sign
    return POSSIBLE


@cache
def _weights() -> dict[str, int]:
    pairs = (entry.rsplit("=", 1) for entry in WEIGHTS.split())
    return {feature: int(weight) for feature, weight in pairs}
