"""A change as a document becomes the change it says; what is none is refused."""

import math
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from blockwright.engine import editing
from blockwright.engine.planning.replan import Disruption
from blockwright.verbs.edit_block import Change, GoBack, Several, TakeRest
from blockwright.verbs.read_change import Wanted

AT = {"week": 3, "session": 1}
LIFT = {**AT, "lift": "bench press"}
PLACE = editing.Place(**LIFT)  # type: ignore[arg-type]
WANTED: TypeAdapter[Any] = TypeAdapter(Wanted)
SAID: list[tuple[dict[str, Any], Change]] = [
    ({"kind": "set_count", **LIFT, "sets": 2}, editing.SetCount(place=PLACE, sets=2)),
    ({"kind": "move_lift", **LIFT, "to_session": 2, "only_this_week": True},
     editing.MoveLift(place=PLACE, to_session=2, only_this_week=True)),
    ({"kind": "swap_lift", **LIFT, "other": "dip"}, editing.SwapLift(place=PLACE, other="dip")),
    ({"kind": "set_range", **LIFT, "reps_low": 6, "reps_high": 9.0},
     editing.SetRange(place=PLACE, low=6, high=9)),
    ({"kind": "set_reserve", **LIFT, "rir": 2.5}, editing.SetReserve(place=PLACE, rir=2.5)),
    ({"kind": "set_load", **LIFT, "load": 100, "unit": "lb", "only_this_week": True},
     editing.SetLoad(place=PLACE, load_kg=45.359237, only_this_week=True)),
    ({"kind": "add_lift", **LIFT}, editing.AddLift(place=PLACE)),
    ({"kind": "remove_lift", **LIFT}, editing.RemoveLift(place=PLACE)),
    ({"kind": "pin_lift", **LIFT}, editing.PinLift(place=PLACE)),
    ({"kind": "unpin_lift", **LIFT}, editing.UnpinLift(place=PLACE)),
    ({"kind": "short_of_time", **AT, "minutes": 40}, Disruption(week=3, session=1, minutes=40)),
    ({"kind": "missed", **AT}, Disruption(week=3, session=1, missed=True)),
    ({"kind": "without", **AT, "lifts": ["dip"]}, Disruption(week=3, session=1, without=("dip",))),
    ({"kind": "hurts", **AT, "lifts": ["dip"]}, Disruption(week=3, session=1, hurts=("dip",))),
    ({"kind": "sore", **AT, "muscles": ["quads"]}, Disruption(week=3, session=1, sore=("quads",))),
    ({"kind": "go_back", "revision": 2}, GoBack(2)),
    ({"kind": "take_rest", "composing": 4}, TakeRest(4)),
    ({"kind": "several", "steps": [{"kind": "take_rest", "composing": 4}]},
     Several((TakeRest(4),))),
]  # fmt: skip


@pytest.mark.parametrize(("document", "change"), SAID, ids=lambda one: getattr(one, "kind", None))
def test_a_document_is_the_change_it_says(document: dict[str, Any], change: Change) -> None:
    assert WANTED.validate_python(document).change() == change


@pytest.mark.parametrize(
    "more",
    [{"sets": -1}, {"sets": "2"}, {"sets": True}, {"week": 0}, {"lift": ""}, {"lift": "a\x00"},
     {"other": "dip"}, {"sets": 10_000}, {"week": 100}, {"lift": "a" * 201},
     {"kind": "go_back", "revision": 0}, {"kind": "go_back", "revision": 2**31},
     {"kind": "set_reserve", "rir": -0.5}, {"kind": "set_load", "load": 100_000},
     {"kind": "set_load", "load": math.inf}, {"kind": "short_of_time", "minutes": 0},
     {"kind": "short_of_time", "minutes": 601}, {"kind": "without", "lifts": []},
     {"kind": "without", "lifts": ["dip"] * 21}, {"kind": "sore", "muscles": []}],
)  # fmt: skip
def test_what_is_no_number_or_no_key_of_it_is_refused(more: dict[str, Any]) -> None:
    """Of a change that is sound but for that."""
    kind = more.get("kind", "set_count")
    sound = next(document for document, _ in SAID if document["kind"] == kind)
    with pytest.raises(ValidationError):
        WANTED.validate_python(sound | more)
