"""One event of a phone at the edges of what is taken: the last that is, the first that is not, and
in which words."""

import json
import re
from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

import pytest

import people
from blockwright.engine.errors import BadInput
from blockwright.files.catalogue import catalogue_for
from blockwright.store.models import Fact
from blockwright.verbs.read_event import MOST_BYTES, Arrival, read_envelope, read_event

KEY = UUID("0d6f0000-0000-4000-8000-00000000000a")
DONE = datetime(2026, 1, 5, 17, 1, 5, tzinfo=UTC)
"""When the set of `people.set_event` was done."""
PLAN = {"block": "2026-01-05", "revision": 1, "week": 1, "session": 1, "entry": 2, "set": 1}


def taken(event: Mapping[str, Any], received: datetime = DONE, ahead_s: float = 0.0) -> Fact:
    lifter = people.mara()
    return read_event(
        read_envelope(event), lifter, catalogue_for(lifter), Arrival(received, ahead_s)
    )


def of(kind: str, **said: Any) -> dict[str, Any]:
    """A sound event of a kind with so much else in its own part."""
    event = people.set_event(KEY)
    own = event.pop("set") if kind == "set" else {}
    return event | {"kind": kind, kind: own | said}


def turn(what: str, **said: Any) -> dict[str, Any]:
    return of("session", what=what, **said)


def refused(event: Mapping[str, Any], **arrived: Any) -> str:
    with pytest.raises(BadInput) as caught:
        taken(event, **arrived)
    (problem,) = caught.value.problems
    return problem.says


@pytest.mark.parametrize(
    ("path", "low", "high"),
    [
        *(((("plan", key)), 1, 10_000) for key in PLAN if key != "block"),
        (("n",), 0, 2**53),
        (("knew",), 0, 2**53),
        (("set", "set"), 1, 200),
    ],
)
def test_a_count_is_whole_and_within_its_bounds(path: tuple[str, ...], low: int, high: int) -> None:
    def at(value: object) -> dict[str, Any]:
        event = people.set_event(KEY)
        (event[path[0]] if path[1:] else event)[path[-1]] = value
        return event

    for sound in (low, high):
        assert taken(at(sound)).day == date(2026, 1, 5)
    for wrong in (low - 1, 2.0, True, "3"):
        assert refused(at(wrong)) == "this entry is not readable", wrong
    assert re.search("not readable$|a number too large to keep$", refused(at(high + 1)))


@pytest.mark.parametrize(
    ("event", "sound", "wrong"),
    [
        ({"what": "skip_lift"}, {"entry": (None, 1, 10_000)}, {"entry": (0, 10_001, 1.5, False)}),
        ({"what": "machine_taken"}, {"entry": (1,)}, {"entry": (-1, "1")}),
        ({"what": "short_of_time"}, {"minutes": (None, 0, 0.5, 1440)},
         {"minutes": (-0.1, 1440.5, True, "20")}),
        ({"what": "hurts"}, {"pain": (None, 0, 10), "region": ("", "shoulder")},
         {"pain": (-1, 10.1, False), "region": ("soul", 3)}),
        ({"what": "note"}, {"text": ("", None, "x" * 1000)}, {"text": ("x" * 1001, 1, ["a"])}),
        ({"what": "swap_lift"}, {"lift": ("squat",), "why": ("taken",)}, {"why": (1, True)}),
        ({"what": "ended"}, {}, {"entry": (1,), "text": ("on",)}),
        ({"what": "began"}, {}, {"pain": (4,)}),
        ({"what": "danced"}, {}, {"why": ("no word of ours",)}),
        ({"what": None}, {}, {"why": ("no word at all",)}),
    ],
)  # fmt: skip
def test_a_turn_of_a_session_says_what_its_word_may_say(
    event: dict[str, Any], sound: dict[str, Any], wrong: dict[str, Any]
) -> None:
    for key, values in sound.items():
        for value in values:
            assert taken(of("session", **event, **{key: value})).body == event | {key: value}
    for key, values in wrong.items():
        for value in values:
            assert refused(of("session", **event, **{key: value}))


def test_a_set_says_its_flags_and_numbers_and_nothing_else_in_their_place() -> None:
    body = taken(of("set", full_range=False, confirmed=True, rest_s=90.5, pain=3)).body
    assert (body["full_range"], body["rest_s"], body["pain"]) == (False, 90.5, 3)
    event = people.set_event(KEY)
    del event["set"]["full_range"], event["set"]["confirmed"]
    assert taken(event).body["full_range"], "said unless said otherwise"
    for key in ("full_range", "confirmed"):
        for wrong in (1, "true", None):
            assert refused(of("set", **{key: wrong})) == "this entry is not readable"
    assert refused(people.set_event(KEY) | {"withdrawn": 0}) == "this entry is not readable"
    for wrong in (True, "3", [3]):
        assert refused(of("set", rest_s=wrong)) == "this entry is not readable"


@pytest.mark.parametrize("block", ["20260105", "2026-W02-1", "soon", "", 20260105, True])
def test_a_block_is_named_by_its_date_in_one_way(block: object) -> None:
    assert refused(people.set_event(KEY, plan=PLAN | {"block": block})) == (
        "this entry is not readable"
    )


def test_a_set_of_no_block_and_of_no_plan_is_taken() -> None:
    for plan in (None, {}, PLAN | {"block": None}, {"block": "2026-01-05"}):
        assert taken(people.set_event(KEY, plan=plan)).event["plan"] == plan
    for plan in ({**PLAN, "coach": 1}, [], "monday"):
        assert refused(people.set_event(KEY, plan=plan)) == "this entry is not readable"


def test_four_weeks_before_its_block_is_the_earliest_a_set_may_be() -> None:
    last = people.set_event(KEY, plan=PLAN | {"block": "2026-02-02"})
    assert taken(last).day == date(2026, 1, 5)
    early = people.set_event(KEY, plan=PLAN | {"block": "2026-02-03"})
    assert refused(early) == (
        "it says it was done on 2026-01-05, long before its block of 2026-02-03"
    )


def test_a_day_ahead_is_the_furthest_by_the_clock_set_right() -> None:
    event, day = people.set_event(KEY), timedelta(days=1)
    assert taken(event, DONE - day).day == date(2026, 1, 5)
    said = refused(event, received=DONE - day - timedelta(seconds=1))
    assert said == "it says it was done on 2026-01-05, which has not come yet"
    assert taken(event, DONE - 2 * day, ahead_s=86_400.0).day == date(2026, 1, 4)


@pytest.mark.parametrize(
    ("at", "says"),
    [
        ("1990-01-01T12:00:00+01:00", None),
        ("1989-12-31T12:00:00+01:00", "it says it was done in 1989"),
        ("1968-12-31T12:00:00+01:00", "it says it was done in 1968"),
        ("2200-01-01T12:00:00+01:00", "it says it was done in 2200"),
        ("2026-01-05T18:00:00", "at: the time lacks its zone"),
        ("evening", "at: this entry has no readable time"),
        (None, "at: this entry has no readable time"),
    ],
)
def test_a_clock_says_a_year_somebody_trained_in(at: str | None, says: str | None) -> None:
    event = people.set_event(KEY, at=at, began=None, plan=None)
    if says is None:
        assert taken(event).day == date(1990, 1, 1)
    else:
        assert refused(event) == says


@pytest.mark.parametrize(
    ("began", "at", "day"),
    [
        ("2026-01-05T23:30:00+01:00", "2026-01-06T00:40:00+01:00", 5),
        ("2026-01-05T23:30:00+01:00", "2026-01-05T23:30:00+01:00", 5),
        ("2026-01-06T00:10:00+01:00", "2026-01-05T23:59:00+01:00", 5),
        ("2026-01-05T02:00:00+01:00", "2026-01-06T18:00:00+01:00", 6),
        # The phone took the zone of the place it landed in after the first set.
        ("2026-01-06T08:00:00+13:00", "2026-01-05T20:30:00+01:00", 6),
        ("2026-01-05T23:30:00Z", "2026-01-06T00:40:00+01:00", 6),
        (None, "2026-01-06T00:40:00+01:00", 6),
    ],
)
def test_what_is_done_past_midnight_belongs_to_the_evening_it_began(
    began: str | None, at: str, day: int
) -> None:
    fact = taken(people.set_event(KEY, began=began, at=at), DONE + timedelta(days=1))
    assert fact.day == date(2026, 1, day)


def test_a_zone_nobody_knows_keeps_the_digits_of_the_wall_clock() -> None:
    known = taken(people.set_event(KEY))
    assert (known.zone, known.at) == (people.ZONE, DONE)
    for zone in ("Mars/Olympus", "x" * 300, "", None):
        fact = taken(people.set_event(KEY, zone=zone))
        assert fact.zone == ""
        assert fact.at == DONE.replace(hour=18)


def test_an_id_is_written_in_one_way_and_amends_another() -> None:
    first = uuid4()
    assert taken(people.set_event(KEY, amends=str(first))).amends == first
    event = people.set_event(KEY)
    assert refused(event | {"amends": event["id"]}) == "this entry amends itself"
    for key in ("id", "lifter", "device", "amends"):
        for wrong in (str(first).upper(), f"{{{first}}}", first.hex, "5", 5):
            assert refused(event | {key: wrong}) == f"this entry has no readable {key}"


def test_an_entry_is_of_a_kind_and_of_a_length_that_is_known() -> None:
    for wrong in ([], "set", None):
        assert refused(wrong) == "this entry is not readable"  # type: ignore[arg-type]
    other = "this page is of another version than the server"
    for event in ({"kind": "dance", "dance": {}}, {"kind": "checkin"}, {"set": [1]}):
        assert refused(people.set_event(KEY) | event) == other
    empty = people.set_event(KEY) | {"more": ""}
    room = MOST_BYTES - len(json.dumps(empty, sort_keys=True, separators=(",", ":")))
    assert taken(empty | {"more": "x" * room})
    assert refused(empty | {"more": "x" * (room + 1)}) == "this entry is too long"
