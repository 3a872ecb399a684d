"""A coach's change from its document, `{"kind": "set_count", "week": 3, ...}`, as the API and the
block page send it.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from blockwright.engine import editing
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.replan import Trouble
from blockwright.engine.units import Unit, kg_from
from blockwright.verbs.edit_block import Change, GoBack, Several, TakeRest

MOST_STEPS = 60
_BIGGEST = 10**9

Document = Mapping[str, Any]


def change_of(document: object) -> Change:
    """The change a document names. BadInput for one that names none."""
    if not isinstance(document, Mapping):
        raise _unreadable("kind")
    made = _READERS.get(str(document.get("kind")))
    if made is None:
        raise _unreadable("kind")
    return made(document)


def several_of(documents: object) -> Several:
    """Steps one after another. BadInput where one cannot be among several."""
    if not isinstance(documents, Sequence) or isinstance(documents, str) or not documents:
        raise _unreadable("steps")
    if len(documents) > MOST_STEPS:
        mend = "keep what there is, then go on"
        says = f"more than {MOST_STEPS} changes at once"
        raise BadInput(Problem(column="steps", says=says, mend=mend))
    steps = []
    for document in documents:
        step = change_of(document)
        if isinstance(step, Trouble | GoBack | Several):
            raise _unreadable("steps")
        steps.append(step)
    return Several(tuple(steps))


def _unreadable(key: str) -> BadInput:
    mend = "load the page anew and try again"
    return BadInput(Problem(column=key, says="this is no change of a block", mend=mend))


def _whole(document: Document, key: str) -> int:
    value = document.get(key)
    if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value < _BIGGEST:
        raise _unreadable(key)
    return value


def _number(document: Document, key: str) -> float:
    value = document.get(key)
    if not isinstance(value, int | float) or isinstance(value, bool):
        raise _unreadable(key)
    if not math.isfinite(value) or not 0 <= value < _BIGGEST:
        raise _unreadable(key)
    return float(value)


def _text(document: Document, key: str) -> str:
    value = document.get(key)
    if not isinstance(value, str) or len(value) > 200:
        raise _unreadable(key)
    return value


def _names(document: Document, key: str) -> tuple[str, ...]:
    value = document.get(key)
    if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
        raise _unreadable(key)
    return tuple(value)


def _only(document: Document) -> bool:
    return document.get("only_this_week") is True


def _place(document: Document) -> editing.Place:
    return editing.Place(
        week=_whole(document, "week"),
        session=_whole(document, "session"),
        lift=_text(document, "lift"),
    )


def _set_count(d: Document) -> Change:
    return editing.SetCount(place=_place(d), sets=_whole(d, "sets"), only_this_week=_only(d))


def _move_lift(d: Document) -> Change:
    to = _whole(d, "to_session")
    return editing.MoveLift(place=_place(d), to_session=to, only_this_week=_only(d))


def _swap_lift(d: Document) -> Change:
    return editing.SwapLift(place=_place(d), other=_text(d, "other"), only_this_week=_only(d))


def _set_range(d: Document) -> Change:
    low, high = _whole(d, "reps_low"), _whole(d, "reps_high")
    return editing.SetRange(place=_place(d), low=low, high=high, only_this_week=_only(d))


def _set_reserve(d: Document) -> Change:
    return editing.SetReserve(place=_place(d), rir=_number(d, "rir"), only_this_week=_only(d))


def _set_load(d: Document) -> Change:
    unit: Unit = "lb" if d.get("unit") == "lb" else "kg"
    load_kg = kg_from(_number(d, "load"), unit)
    return editing.SetLoad(place=_place(d), load_kg=load_kg, only_this_week=_only(d))


def _add_lift(d: Document) -> Change:
    sets = None if d.get("sets") is None else _whole(d, "sets")
    return editing.AddLift(place=_place(d), sets=sets, only_this_week=_only(d))


def _remove_lift(d: Document) -> Change:
    return editing.RemoveLift(place=_place(d), only_this_week=_only(d))


def _trouble(d: Document) -> Change:
    return Trouble(
        week=_whole(d, "week"),
        session=_whole(d, "session"),
        minutes=_whole(d, "minutes") if d["kind"] == "short_of_time" else None,
        missed=d["kind"] == "missed",
        without=_names(d, "lifts") if d["kind"] == "without" else (),
        hurts=_names(d, "lifts") if d["kind"] == "hurts" else (),
        sore=_names(d, "muscles") if d["kind"] == "sore" else (),
    )


_READERS: Mapping[str, Callable[[Document], Change]] = {
    "set_count": _set_count,
    "move_lift": _move_lift,
    "swap_lift": _swap_lift,
    "set_range": _set_range,
    "set_reserve": _set_reserve,
    "set_load": _set_load,
    "add_lift": _add_lift,
    "remove_lift": _remove_lift,
    "pin_lift": lambda d: editing.PinLift(place=_place(d)),
    "unpin_lift": lambda d: editing.UnpinLift(place=_place(d)),
    "short_of_time": _trouble,
    "missed": _trouble,
    "without": _trouble,
    "hurts": _trouble,
    "sore": _trouble,
    "go_back": lambda d: GoBack(_whole(d, "revision")),
    "take_rest": lambda d: TakeRest(_whole(d, "composing")),
    "several": lambda d: several_of(d.get("steps")),
}
