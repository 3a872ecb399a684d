"""Words for reason and caution codes: the one place where a decision becomes a sentence.

The sentences stand in `files/data/words/*.toml`, one table a code with `says`, a format string
over the facts. A list of facts is joined beforehand by whoever builds the reason.
"""

import re
import tomllib
from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from importlib import resources
from string import Formatter
from types import MappingProxyType
from typing import Any

from blockwright.engine.reasons import Caution, FactValue, Reason
from blockwright.engine.training import DAY_NAMES, DAYS
from blockwright.engine.units import number_text


@cache
def sentences() -> Mapping[str, str]:
    """Code to sentence, of every file in the folder; a code may stand in one file only."""
    found: dict[str, str] = {}
    folder = resources.files("blockwright.files") / "data" / "words"
    for file in sorted(folder.iterdir(), key=lambda item: item.name):
        if not file.name.endswith(".toml"):
            continue
        for code, entry in tomllib.loads(file.read_text(encoding="utf-8")).items():
            if code in found:
                raise ValueError(f"the words for {code} stand in two files")
            found[code] = entry["says"]
    return MappingProxyType(found)


class _Plain(Formatter):
    """Numbers in facts are written as a person writes them: no trailing zeros."""

    def format_field(self, value: Any, format_spec: str) -> str:
        if isinstance(value, float) and not format_spec:
            return number_text(value)
        return "?" if value is _UNSAID else str(super().format_field(value, format_spec))

    def get_value(self, key: int | str, args: Any, kwargs: Any) -> Any:
        return kwargs.get(key, _UNSAID)


_UNSAID = object()
"""A fact that a document of an older version lacks: the rest of the sentence still stands."""


_DATES = re.compile(r"\d{4}-\d{2}-\d{2}(, \d{4}-\d{2}-\d{2})*")
_DAY = re.compile(rf"\b({'|'.join(DAYS)})\b")


def _named_days(facts: Mapping[str, FactValue]) -> dict[str, FactValue]:
    """The facts with dates and the lifter file's short days ("mon") as a sentence names them."""
    return {
        key: _named(value)
        if isinstance(value, str) and key.endswith(("day", "days", "date", "dates"))
        else value
        for key, value in facts.items()
    }


def _named(value: str) -> str:
    if _DATES.fullmatch(value):
        return dates_text([date.fromisoformat(one) for one in value.split(", ")])
    return _DAY.sub(lambda found: DAY_NAMES[found[0]], value)


def dates_text(days: Sequence[date]) -> str:
    """Days in a sentence: "23, 24 and 26 November 2026"; month and year where they change."""
    said = []
    for n, day in enumerate(days):
        following = days[n + 1] if n + 1 < len(days) else None
        same_year = following is not None and following.year == day.year
        same_month = same_year and following is not None and following.month == day.month
        said.append(
            f"{day.day}"
            if same_month
            else f"{day.day} {day:%B}"
            if same_year
            else f"{day.day} {day:%B %Y}"
        )
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _say(code: str, facts: Mapping[str, FactValue]) -> str:
    words = sentences().get(code)
    facts = _named_days(facts)
    # A stored or imported block may know codes that this version does not.
    return code.replace("_", " ") if words is None else _Plain().vformat(words, (), facts)


def reason_says(reason: Reason) -> str:
    """The sentence of a reason."""
    return _say(reason.code, reason.facts)


def caution_says(caution: Caution) -> str:
    """The sentence of a caution."""
    return _say(caution.code, caution.facts)


def reason_json(reason: Reason) -> dict[str, Any]:
    """A reason as it stands in every JSON document."""
    document: dict[str, Any] = {
        "code": reason.code,
        "says": reason_says(reason),
        "facts": dict(reason.facts),
        "source": reason.source,
    }
    if reason.policy:
        document["policy"] = list(reason.policy)
    return document


def caution_json(caution: Caution) -> dict[str, Any]:
    """A caution as it stands in every JSON document."""
    return {
        "code": caution.code,
        "says": caution_says(caution),
        "facts": dict(caution.facts),
        "source": caution.source,
    }
