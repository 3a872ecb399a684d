"""What a cell tells, as values: a load, a set, or a part of what the row's cells tell together."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Any, Literal, NamedTuple

from blockwright.engine.units import Unit

Kind = Literal["", "sets", "reps", "load", "scheme", "pair"]


class Weight(NamedTuple):
    """A load as typed. `bodyweight`: added to or taken from the body's own; a help is negative."""

    amount: float
    unit: Unit | None = None
    bodyweight: bool = False


class OneSet(NamedTuple):
    """A set told by a cell; what the cell leaves out is None or empty."""

    reps: tuple[int, ...]
    weights: tuple[Weight, ...] = ()
    rir: tuple[float, float] | None = None
    row_rir: tuple[float, float] | None = None
    """The one effort beside a row of sets; it is of the last, unless the coach says of each."""
    warmup: bool = False


Sets = tuple[OneSet, ...]


def last_so(sets: Sets, **changed: Any) -> Sets:
    """The sets, the last of them otherwise."""
    return (*sets[:-1], sets[-1]._replace(**changed))


def all_so(sets: Iterable[OneSet], **changed: Any) -> Sets:
    """The sets, each of them otherwise."""
    return tuple(one._replace(**changed) for one in sets)


class Told(NamedTuple):
    """What one cell tells; nothing where it is false. For `load` the sets are empty and `weight` is
    set; a `scheme` or a `pair` of bare numbers holds both readings' numbers in `numbers`."""

    kind: Kind
    sets: tuple[OneSet, ...] = ()
    weight: Weight | None = None
    numbers: tuple[int, ...] = ()
    rir: tuple[float, float] | None = None

    def __bool__(self) -> bool:
        return self.kind != ""


NO_SETS = Told("")


_RPE = r"(?P<rpe>\d{1,2}(?:[.,]5)?)"
_RIR = r"(?P<rir>\d(?:[.,]5)?)"
EFFORTS = tuple(
    re.compile(form)
    for form in (
        rf"[,@(]*\s*\b(?:rpe|pse)\s*[:=@]?\s*{_RPE}(?:\s*-\s*(?P<rpe2>\d{{1,2}}(?:[.,]5)?))?\)?",
        rf"[,@(]*\s*{_RPE}\s*rpe\b\)?",
        rf"[,@(]*\s*\b(?:rir|reserve)\s*[:=@]?\s*{_RIR}(?:\s*-\s*(?P<rir2>\d(?:[.,]5)?))?\)?",
        rf"[,@(]*\s*\b{_RIR}(?:\s*-\s*(?P<rir2>\d))?\s*"
        r"(?:rir\b|(?:reps? )?(?:in|en) (?:the )?(?:tank|r[eé]serv[ea])|(?:reps? )?left\b)\)?",
        r"[,@(]*\s*(?:\b|(?<=\d))r\s?(?P<rir>[0-5])\b\)?$",
        r"[,@(]*\s*\b(?P<fail>to failure|failure|to fail)\b\)?",
        r"(?<=\d)\s*(?P<fail>\(?f(?:ail)?\)?)$",
    )
)
_LATE = r"(?:[5-9]|10)(?:[.,]5)?"
_AT_EFFORT = re.compile(rf"(?<=[^\s@])\s*@\s*(?P<rpe>{_LATE})(?:\s*-\s*(?P<rpe2>{_LATE}))?\s*$")

LAST_SET = re.compile(
    r"\b(?:last (?:set |one )?|letzter satz )(?:was |only |at |just |nur |war )*"
    r"(\d{1,2})\b(?! ?(?:kg|lb))",
    re.I,
)
"""A note that corrects the repetitions of a row's last set."""
_SURELY_REPS = 5  # No effort is noted so low (judgement)


def with_last_set(sets: Sets, note: str, as_planned: bool) -> Sets:
    """The sets, the last with fewer repetitions where the note says so: "last set 4". What may be
    an effort ("last set 8") corrects only what was ticked as planned."""
    match = LAST_SET.search(note)
    if match is None:
        return sets
    last, reps = sets[-1], int(match[1])
    told = reps < last.reps[0] and (last.rir is not None or reps <= _SURELY_REPS)
    return last_so(sets, reps=(reps,)) if told or as_planned else sets


@lru_cache(maxsize=32768)
def read_effort(text: str, is_rpe: bool) -> tuple[float, float] | None:
    """A cell of an RPE or RIR column as (lowest, highest) repetitions in reserve."""
    said = text.lower().strip().replace(",", ".")
    for pattern in (*EFFORTS, _AT_EFFORT):
        if (match := pattern.search(said)) and (found := effort_of(match.groupdict())):
            return found
    match = re.fullmatch(r"@?\s*(\d{1,2}(?:\.\d)?)(?:\s*-\s*(\d{1,2}(?:\.\d)?))?", said)
    if match is None:
        return (0.0, 0.0) if re.fullmatch(r"f|fail(?:ed|ure)?|max", said) else None
    key = "rpe" if is_rpe else "rir"
    return effort_of({key: match[1], f"{key}2": match[2]})


def effort_of(found: dict[str, str | None]) -> tuple[float, float] | None:
    def number(key: str) -> float | None:
        return float(value.replace(",", ".")) if (value := found.get(key)) else None

    if found.get("fail"):
        return (0.0, 0.0)
    rpe, rir = number("rpe"), number("rir") or 0.0
    if rpe is not None:
        ends = sorted(10 - end for end in (rpe, number("rpe2") or rpe))
    else:
        ends = sorted((rir, number("rir2") or rir))
    return (ends[0], ends[-1]) if ends[0] >= 0 and ends[-1] <= 10 else None
