"""What a coach who reads a block expects of its lifts and ranges, beyond the counted rules."""

from itertools import chain

import pytest

from blockwright.engine.training import Block, Entry
from planned_people import lift_of, planned


def last_week(block: Block) -> list[Entry]:
    week = [week for week in block.weeks if week.kind == "build"][-1]
    return list(chain.from_iterable(session.entries for session in week.sessions))


@pytest.mark.parametrize("key", ["four_visits_of_six", "sore_shoulder", "six_days_of_raises"])
def test_no_machine_or_cable_pull_is_trained_heavy(key: str) -> None:
    block = planned(key)
    heavy = [lift_of(block, e.lift) for e in last_week(block) if e.zone == "low"]
    assert heavy
    pulls = [lift for lift in heavy if lift.pattern in ("row", "vertical pull")]
    assert [lift.name for lift in pulls if lift.stability != "free"] == []


def test_a_lift_that_is_logged_heavy_stays_heavy() -> None:
    bench = [e for e in last_week(planned("powerlifter")) if e.lift == "bench press"]
    assert "low" in [e.zone for e in bench]


def test_short_visits_are_spent_on_sets_rather_than_on_long_rests() -> None:
    block = planned("two_hotel_mornings")
    entries = last_week(block)
    assert "low" not in [e.zone for e in entries]
    assert "no_low_time" in {reason.code for reason in block.reasons}
    assert len({e.lift for e in entries}) >= 8


def test_a_lead_of_one_kind_of_lift_gets_its_logged_sets() -> None:
    block = planned("six_days_of_raises")
    raises = [e for e in last_week(block) if lift_of(block, e.lift).pattern == "lateral raise"]
    assert len(raises) >= 3
    assert block.weeks[5].muscle_sets["side_delts"].fractional >= 17
