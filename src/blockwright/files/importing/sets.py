"""Entries to the sets of a sets file: loads, the form of the lift they mean, rest, method, pain."""

import datetime as dt
import re
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from blockwright.engine.training import Method, Moment, SetDone
from blockwright.engine.units import Unit, kg_from, number_text
from .entries import Entry
from .names import LiftMatcher
from .told import OneSet, Weight

_HELP = re.compile(r"\([^()]*[^\d\s(]\s*-\s?(\d{1,2}(?:[.,]\d)?)[^()\d]*\)")
"""A help in the lift's name: "Pull-up (band -10)"."""
_HELD = re.compile(
    r"\b(?:planks?|l-?sits?|wall[- ]sits?|(?:dead|active) ?hangs?|holds?$|"
    r"(?:farmers?'?s?|suitcase) (?:walks?|carr(?:y|ies)|holds?))\b",
    re.I,
)
"""Lifts that are counted in seconds or metres."""
_DUMBBELLS = re.compile(r"\b(?:dbs?|dumbbells?|kh)\b", re.I)


Numbers = Counter[tuple[str, dt.date, str]]
_ALL = ("", dt.date.min, "")


def set_done(
    entry: Entry,
    one: OneSet,
    typed: tuple[str, Unit, dt.date],
    matcher: LiftMatcher,
    numbers: Numbers,
) -> SetDone | str:
    """The set of a lift, unit and day, or why there is none; `numbers` counts those of each lift
    and day."""
    lift, unit, day = typed
    if _is_held(entry.lift):
        return "it is held or carried: its seconds or metres are no repetitions"
    helped = _HELP.search(entry.lift) if "(" in entry.lift else None
    if helped and all(w.bodyweight and not w.amount for w in one.weights):
        one = one._replace(weights=(Weight(-float(helped[1].replace(",", ".")), None, True),))
    name, amounts = _load(_with_kit(lift, entry, matcher), entry.lift, one.weights, matcher)
    if isinstance(amounts, str):
        return amounts
    told = next((weight.unit for weight in one.weights if weight.unit), None) or unit
    if len(amounts) not in (1, len(one.reps)):
        return "its loads and repetitions do not match"
    rir = one.rir or (None, None)
    numbers[entry.lifter, day, name] += 1
    numbers[_ALL] += 1
    return SetDone(
        moment=Moment(day=day),
        lift=name,
        set_number=numbers[entry.lifter, day, name],
        row=numbers[_ALL] + 1,
        loads_kg=tuple(kg_from(amount, told) for amount in amounts),
        entered_load="+".join(number_text(amount) for amount in amounts),
        entered_unit=told,
        reps=one.reps,
        rir_low=rir[0],
        rir_high=rir[1],
        rest_s=_seconds(entry.rest) if entry.rest else None,
        method=_method(entry.method, one, len(amounts)),
        pain=_pain(entry.pain) if entry.pain else None,
        note=entry.note,
        lifter=entry.lifter or None,
    )


@lru_cache(maxsize=32768)
def _is_held(lift: str) -> bool:
    return _HELD.search(lift) is not None


def _with_kit(name: str, entry: Entry, matcher: LiftMatcher) -> str:
    """The lift with dumbbells, where the cell of its load or the sheet says them: "2x45lb DBs"."""
    if not entry.dumbbells and not _DUMBBELLS.search(entry.text):
        return name
    lift = matcher.catalogue.lifts.get(name)
    if lift is None or "dumbbells" in lift.kit or lift.load_kind == "bodyweight_plus":
        return name
    other = matcher.match(f"dumbbell {entry.lift}")
    return other.best if other.best is not None and other.is_sure else name


def _load(
    name: str, typed: str, weights: Sequence[Weight], matcher: LiftMatcher
) -> tuple[str, tuple[float, ...] | str]:
    """The lift (its assisted or bodyweight form where the load says so) and its loads."""
    lift = matcher.catalogue.lifts.get(name)
    if not weights or (len(weights) == 1 and weights[0].bodyweight and not weights[0].amount):
        if lift is None and not weights and not _is_of_body(matcher.match(name).best, matcher):
            # "scapular push-up" is nearest to a lift that the body loads, and would do.
            return name, "no load stands beside it, and no lift of that name is known"
        if lift is None or lift.load_kind == "bodyweight_plus":
            return name, (0.0,)
        for other in (matcher.match(f"bodyweight {one}") for one in (name, typed) if weights):
            if other.best and _is_of_body(other.best, matcher) and other.score >= 0.75:
                return other.best, (0.0,)
        return name, "the load is missing"
    if any(weight.amount < 0 for weight in weights):
        if (lift is None and "assist" not in name) or (lift and lift.load_kind != "assisted"):
            assisted = matcher.match(f"assisted {name}").best if lift else None
            known = assisted and matcher.catalogue.lifts[assisted].load_kind == "assisted"
            # What the catalogue has no such form of becomes a lift of its own.
            name = assisted if assisted and known else f"assisted {name.lower()}"
        return name, tuple(abs(weight.amount) for weight in weights)
    return name, tuple(weight.amount for weight in weights)


def _is_of_body(lift: str | None, matcher: LiftMatcher) -> bool:
    return lift is not None and matcher.catalogue.lifts[lift].load_kind == "bodyweight_plus"


def _seconds(text: str) -> float | None:
    """A rest as people write it: 90, 90s, 2:30, 2 min; minutes below ten."""
    said = text.lower().strip()
    if match := re.fullmatch(r"(\d{1,2}):(\d{2})(?::00)?", said):
        return int(match[1]) * 60.0 + int(match[2])
    match = re.fullmatch(
        r"(\d+(?:[.,]\d+)?)\s*(m|min|mins|minutes?|s|sec|secs|seconds?|'|\")?", said
    )
    if match is None:
        return None
    amount = float(match[1].replace(",", "."))
    minutes = (match[2] is not None and match[2][0] in "m'") or (match[2] is None and amount < 10)
    found = amount * 60 if minutes else amount
    return found if 0 < found <= 3600 else None


def _method(text: str, one: OneSet, loads: int) -> Method:
    said = text.lower()
    if one.warmup:
        return "warmup"
    if len(one.reps) > 1:
        return "drop" if loads > 1 or "drop" in said else "rest-pause"
    if "super" in said:
        return "superset"
    return "straight"


def _pain(text: str) -> float | None:
    match = re.fullmatch(r"(\d{1,2})(?:/10)?", text.strip())
    return float(match[1]) if match and int(match[1]) <= 10 else None
