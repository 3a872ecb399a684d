"""Why: reasons as data, and cautions that cannot be argued away.

A reason carries a stable code and facts with the unit in the key (`e1rm_change_pct`). Words are
made at the edge from the code (`files/words.py`), so that page, paper and JSON agree."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

FactValue = float | int | str | bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """One reason for a decision: a code, the facts behind it, the policy used, the source."""

    code: str
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    policy: tuple[str, ...] = ()  # Keys of the policy values that took part
    source: str | None = None
    """Words naming the source of a published value, or "common practice, no source"."""


def because(code: str, /, *policy: str, **facts: FactValue) -> Reason:
    """A reason with its facts, and the keys of the policy values that took part."""
    return Reason(code=code, facts=facts, policy=policy)


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution: shown where the risk arises, never declined away."""

    code: str
    facts: Mapping[str, FactValue] = field(default_factory=dict)
    source: str | None = None


def each_once(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """The cautions in order, each once; what they hold has no hash."""
    kept: list[Caution] = []
    for caution in cautions:
        if caution not in kept:
            kept.append(caution)
    return tuple(kept)


def and_listed(words: Sequence[str]) -> str:
    """ "dip", "dip and fly", "dip, fly and row"; "" of none."""
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def listed_in(text: str) -> list[str]:
    """The words that `and_listed` made `text` of; none of them holds a comma or "and"."""
    return text.replace(" and ", ", ").split(", ") if text else []


Certainty = Literal["sure", "likely", "even"]
CERTAINTY: tuple[tuple[float, Certainty], ...] = ((0.9, "sure"), (0.66, "likely"))
"""Words of a letter for a probability of at least so much; below the last it is "even". The bounds
of "very likely" and "likely" in Mastrandrea et al. 2010, guidance note on the treatment of
uncertainties, Table 1 (from memory)."""


def certainty_word(confidence: float) -> Certainty:
    return next((word for least, word in CERTAINTY if confidence >= least), "even")
