"""Minutes: the published session lengths, and what a pair saves."""

import pytest
from small_gym import small_catalogue

from blockwright.engine.planning.time_model import LiftTime, lift_time, minutes_of, pair_time
from blockwright.engine.training import RepRange
from blockwright.files.policy_files import default_policy


@pytest.mark.parametrize(
    ("sets", "seconds", "published_min"), [(3, 2610, 40), (5, 4290, 68), (1, 930, 13)]
)
def test_session_lengths_of_schoenfeld_2019(sets: int, seconds: int, published_min: int) -> None:
    """published.md `session_time`: seven lifts, 30 s a set, 90 s rest, 120 s between lifts
    (13 min seen in PMC6303131, 40 and 68 from memory)."""
    lift = LiftTime(rest_s=90, work_s=30, ready_s=120)
    total = 7 * lift.seconds(sets) - 120  # nothing has to be changed over before the first
    assert total == seconds
    assert total / 60 == pytest.approx(published_min, rel=0.2)


def test_a_pair_saves_about_half_and_each_lift_keeps_its_rest() -> None:
    """Iversen et al. 2021: supersets take about half the time (published.md `iversen2021`)."""
    one = LiftTime(rest_s=90, work_s=36, ready_s=60)
    pair = pair_time(one, one, default_policy())
    straight = 2 * (4 * one.work_s + 3 * one.rest_s)
    together = straight - pair.saved_in(4)
    rounds = 4 * (2 * one.work_s + pair.change_s) + 3 * pair.rest_s
    assert together == rounds
    assert 0.45 <= together / straight <= 0.75
    assert pair.change_s + one.work_s + pair.rest_s >= one.rest_s


def test_one_round_saves_nothing() -> None:
    one = LiftTime(rest_s=90, work_s=36, ready_s=60)
    assert pair_time(one, one, default_policy()).saved_in(1) == 0


def test_heavy_compounds_take_longer_rests_and_warm_ups() -> None:
    squat = small_catalogue().lifts["barbell back squat"]
    policy = default_policy()
    low = lift_time(squat, "low", RepRange(low=5, high=8), policy)
    mid = lift_time(squat, "mid", RepRange(low=8, high=12), policy)
    assert low.rest_s > mid.rest_s
    assert low.ready_s > mid.ready_s
    assert low.work_s == round(8 * squat.seconds_per_rep)


def test_minutes_are_rounded_up_so_that_nothing_is_hidden() -> None:
    assert minutes_of(3600) == 60.0
    assert minutes_of(3601) == 60.1
