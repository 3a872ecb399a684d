"""Words for reason and caution codes: the one place where a decision becomes a sentence.

The sentences stand in `files/data/words/*.toml`, one table a code with `says`, a format string over
the facts; what a letter says on its face has `short` too (and `brief` where words are short,
`cause` for what that comes to), what `check` asks `mend`, a caution also `head`, the words that
several of its kind share, and `about`, whom it is about. A list of facts is joined beforehand by
whoever builds the reason."""

import re
import tomllib
from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import date
from functools import cache
from itertools import zip_longest
from string import Formatter
from types import MappingProxyType
from typing import Any

from blockwright.engine.reasons import Caution, FactValue, Reason, and_listed
from blockwright.engine.training import DAY_NAMES, DAYS
from blockwright.engine.units import number_text
from .json_text import plain
from .reading import shipped_in


@cache
def sentences() -> Mapping[str, str]:
    """Code to sentence, of every file in the folder; a code may stand in one file only."""
    return MappingProxyType({code: entry["says"] for code, entry in entries().items()})


@cache
def entries() -> Mapping[str, Mapping[str, str]]:
    """Code to everything said of it: `says`, and `short` and `head` where a letter needs them."""
    found: dict[str, Mapping[str, str]] = {}
    for text in shipped_in("words").values():
        for code, entry in tomllib.loads(text).items():
            if code in found:
                raise ValueError(f"the words for {code} stand in two files")
            found[code] = entry
    return MappingProxyType(found)


class _Plain(Formatter):
    """Numbers in facts are written as a person writes them: no trailing zeros, and with
    `{count:question is|questions are}` the words that go with one and with more."""

    def format_field(self, value: Any, format_spec: str) -> str:
        if "|" in format_spec:
            one, more = format_spec.split("|")
            return f"{self.format_field(value, '')} {one if value == 1 else more}"
        if isinstance(value, float) and not format_spec:
            return number_text(value)
        return "?" if value is _UNSAID else str(super().format_field(value, format_spec))

    def get_value(self, key: int | str, args: Any, kwargs: Any) -> Any:
        return kwargs.get(key, _UNSAID)


_UNSAID = object()
"""A fact that a document of an older version lacks: the rest of the sentence still stands."""


_DATES = re.compile(r"\d{4}-\d{2}-\d{2}(, \d{4}-\d{2}-\d{2})*")
_DAY = re.compile(rf"\b({'|'.join(DAYS)})\b")


def _named_days(facts: Mapping[str, FactValue], *, short: bool) -> dict[str, FactValue]:
    """The facts with dates and the lifter file's short days ("mon") as a sentence names them."""
    return {
        key: _named(value, short=short)
        if isinstance(value, str) and key.endswith(("day", "days", "date", "dates"))
        else value
        for key, value in facts.items()
    }


def _named(value: str, *, short: bool) -> str:
    """Days in a sentence or, short, as on a letter's face: "Mon 4 Jan"."""
    if not _DATES.fullmatch(value):
        return _DAY.sub(lambda day: day[0].capitalize() if short else DAY_NAMES[day[0]], value)
    days = [date.fromisoformat(one) for one in value.split(", ")]
    return ", ".join(f"{day:%a} {day.day} {day:%b}" for day in days) if short else dates_text(days)


def dates_text(days: Sequence[date]) -> str:
    """Days in a sentence: "23, 24 and 26 November 2026"; month and year where they change."""
    said = []
    for day, following in zip_longest(days, days[1:]):
        if following is None or following.year != day.year:
            said.append(f"{day.day} {day:%B %Y}")
        elif following.month != day.month:
            said.append(f"{day.day} {day:%B}")
        else:
            said.append(f"{day.day}")
    return and_listed(said)


def _say(code: str, facts: Mapping[str, FactValue], form: str = "says") -> str:
    words = entries().get(code)
    # A stored or imported block may know codes that this version does not.
    if words is None or (form not in words and form == "says"):
        return code.replace("_", " ")
    if form not in words:
        return ""
    short = form != "says" or code.startswith("ask_")
    return _Plain().vformat(words[form], (), _named_days({"at": "", **facts}, short=short))


def reason_says(reason: Reason) -> str:
    return _say(reason.code, reason.facts)


def reason_short(reason: Reason) -> str:
    """A reason on a letter's face; its sentence where nothing shorter is known."""
    return _say(reason.code, reason.facts, "short") or reason_says(reason)


def reason_brief(reason: Reason) -> str:
    """What is left of it where words are short."""
    return _say(reason.code, reason.facts, "brief") or reason_short(reason)


def reason_cause(reason: Reason) -> str:
    """What it comes to, in two or three words."""
    return _say(reason.code, reason.facts, "cause") or reason_brief(reason)


def reason_mend(reason: Reason) -> str:
    """What to do about it; "" where nothing of its own is known."""
    return _say(reason.code, reason.facts, "mend")


def caution_says(caution: Caution) -> str:
    return _say(caution.code, caution.facts)


def caution_lines(cautions: Iterable[Caution], told: Collection[object] = ()) -> list[str]:
    """Cautions on a letter's face, each kind once: "No more load ...: dip, fly 4 of 10 on Mon".
    Referred pain, and a sign in one lift, have a line of their own there; what is `told` there of a
    place, where and how much, is not said twice."""
    kinds: dict[str, dict[str, list[str]]] = {}
    for caution in cautions:
        if caution.code in ("pain_refer", "warning_sign_lift"):
            continue
        head = _say(caution.code, caution.facts, "head")
        alike = kinds.setdefault(head or caution_says(caution), {})
        about = _say(caution.code, caution.facts, "about") if head else ""
        where = caution.facts.get("about")
        short = "" if where in told else _say(caution.code, caution.facts, "short")
        same = alike.setdefault(short, [])
        if about and about not in same:
            same.append(about)
    return [_caution_line(head, alike) for head, alike in kinds.items()]


_MOST_NAMED = 5
"""What a caution is about, by name; more is a number, and each is named behind the face."""


def _caution_line(head: str, alike: Mapping[str, Sequence[str]]) -> str:
    if (lifts := sum(map(len, alike.values()))) > _MOST_NAMED:
        return f"{head}: {lifts} lifts"
    own = "; ".join(
        f"{', '.join(about)} {short}".strip() for short, about in alike.items() if about
    )
    return f"{head}: {own}" if own else head


def why_json(why: Reason | Caution) -> dict[str, Any]:
    """A reason or a caution as documents have it."""
    document: dict[str, Any] = {
        "code": why.code,
        "says": _say(why.code, why.facts),
        "facts": plain(why.facts),
        "source": why.source,
    }
    if isinstance(why, Reason) and why.policy:
        document["policy"] = list(why.policy)
    return document
