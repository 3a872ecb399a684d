"""Rest-pause and drop sets leave the counted sets of held and lead muscles within their rules."""

from datetime import date
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from small_gym import lifter, small_catalogue

from blockwright.engine.planning import QUICK, compose
from blockwright.engine.planning.block import may_fail
from blockwright.engine.planning.methods import SpecialSets
from blockwright.engine.training import Allow, Block, Entry, Lifter, RepRange, Session, SetPlan
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from plan_checker import findings_of

SLOTS = ("mon 18:00 60", "wed 18:00 60", "fri 18:00 60")


@cache
def block(lead: str, hold: str) -> Block:
    return compose(
        lifter(
            *SLOTS,
            emphasis={lead: "lead", hold: "hold"},
            allow=Allow(rest_pause=True, drop_sets=True, supersets=False),
        ),
        small_catalogue(),
        default_policy(),
        budget=QUICK,
    )


@pytest.mark.parametrize(("lead", "hold"), [("forearms", "triceps"), ("triceps", "biceps")])
def test_methods_leave_leads_half_direct_and_held_muscles_still(lead: str, hold: str) -> None:
    made = block(lead, hold)
    special = [e for w in made.weeks for s in w.sessions for e in s.entries if is_special(e)]
    assert special, "nothing is tested without a special set"
    assert findings_of(made, small_catalogue(), default_policy()) == []
    builds = [week for week in made.weeks if week.kind == "build"]
    for week in builds:
        sets = week.muscle_sets[lead]
        assert sets.direct >= sets.fractional / 2
    held = [week.muscle_sets[hold].direct for week in builds]
    assert max(held) - min(held) <= 1
    assert not [e for e in special if hold in small_catalogue().lifts[e.lift].direct]


def draft(**sets: int) -> tuple[Session, ...]:
    """A week of one session."""
    row = SetPlan.of(RepRange(low=10, high=15), 2)
    entries = [
        Entry(order=at, lift=name.replace("_", " "), method="straight", rest_s=90, sets=(row,) * n)
        for at, (name, n) in enumerate(sets.items(), start=1)
    ]
    return (
        Session(
            session=1, day=date(2027, 1, 4), start_time="18:00", minutes_available=60,
            minutes_planned=0.0, entries=tuple(entries),
        ),
    )  # fmt: skip


def put_in(
    weeks: list[tuple[Session, ...]], who: Lifter, held: str = ""
) -> list[tuple[Session, ...]]:
    special = SpecialSets(who, small_catalogue(), default_policy(), lambda e: e.lift == held)
    return special.put_in(weeks)


def test_a_special_set_does_not_come_and_go() -> None:
    """The crunch has enough sets in the last week only: no curl that drops, and then does not."""
    who = lifter(*SLOTS, allow=Allow(drop_sets=True))
    weeks = [draft(leg_curl=3, cable_crunch=2 + (week == 6)) for week in range(1, 7)]
    made = put_in(weeks, who)
    special = [{e.lift for s in week for e in s.entries if e.method == "drop"}
               for week in made]  # fmt: skip
    assert special[-1]
    assert all(before <= after for before, after in pairwise(special))


@pytest.mark.parametrize("lead", ["side_delts", "hamstrings"])
def test_a_lead_has_the_special_set_before_what_comes_later_in_the_session(lead: str) -> None:
    who = lifter(*SLOTS, emphasis={lead: "lead"}, allow=Allow(drop_sets=True))
    counts = {"cable_lateral_raise": 4, "leg_curl": 4}
    week = draft(**dict(sorted(counts.items(), reverse=lead == "hamstrings")))
    made = put_in([week] * 6, who)
    (special,) = [e.lift for s in made[-1] for e in s.entries if e.method == "drop"]
    assert set(small_catalogue().lifts[special].direct) == {lead}


def test_what_is_on_hold_ends_straight() -> None:
    """Rest-pause through a sore elbow was printed under its own caution."""
    who = lifter(*SLOTS, allow=Allow(drop_sets=True))
    weeks = [draft(leg_curl=3, cable_crunch=3)] * 6
    for held in ("leg curl", "cable crunch"):
        last = put_in(weeks, who, held)[-1]
        dropped = [e.lift for s in last for e in s.entries if e.method == "drop"]
        assert dropped
        assert held not in dropped


def is_special(entry: Entry) -> bool:
    return entry.method in ("rest-pause", "drop")


@pytest.mark.parametrize(
    ("who", "press_up"),
    [({}, True), ({"experience": "advanced"}, False), ({"energy": "deficit"}, False)],
)
def test_who_pays_most_for_failure_takes_only_small_lifts_there(
    who: dict[str, Any], press_up: bool
) -> None:
    one = lifter(*SLOTS, allow=Allow(to_failure=True), **who)
    press, raise_ = builtin_catalogue().lifts["press-up"], builtin_catalogue().lifts["face pull"]
    assert press.safe_to_fail
    assert raise_.safe_to_fail
    assert may_fail(one, press, default_policy()) is press_up
    assert may_fail(one, raise_, default_policy())
