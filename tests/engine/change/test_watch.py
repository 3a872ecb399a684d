"""The watch on small logs worked by hand, its restarts, and the properties it promises."""

import math
import random
from collections.abc import Sequence
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.change import (
    Watch,
    one_sided_run_length,
    pooled_deviation,
    pooled_limit,
    watch_lift,
    watch_lifter,
)
from blockwright.engine.training import SessionCapacity
from blockwright.files.policy_files import default_policy

POLICY = default_policy()
START = date(2027, 1, 4)
LEVEL = math.log(100)


def log_of(
    levels: Sequence[float], *, every: int = 3, variance: float = 0.0004, start: date = START
) -> list[SessionCapacity]:
    """Exposures `every` days apart at `levels`, given as parts of 100 kg."""
    return [
        SessionCapacity(
            day=start + timedelta(days=every * i),
            ln_capacity=LEVEL + math.log(x),
            variance=variance,
        )
        for i, x in enumerate(levels)
    ]


def deviations(watch: Watch) -> list[float | None]:
    return [point.deviation for point in watch.points]


def test_second_exposure_by_hand() -> None:
    """Both exposures carry the same noise, so the surprise's variance is twice it plus the
    days' wandering."""
    day_sd = POLICY.number("watch.day_sd")
    wander = POLICY.number("watch.process_sd_per_sqrt_day")
    sd = math.sqrt(2 * (0.0004 + day_sd**2) + 3 * wander**2)
    watch = watch_lift(log_of([1.0, 0.97]), POLICY)
    expected = math.log(0.97) / sd / POLICY.number("watch.realised_sd")
    assert deviations(watch) == [None, pytest.approx(expected)]
    assert watch.statistic == pytest.approx(max(0.0, -expected - POLICY.number("watch.slack")))


def test_a_fall_of_eight_per_cent_sounds_and_a_plateau_or_rise_does_not() -> None:
    fallen = watch_lift(log_of([1.0] * 12 + [0.92] * 6), POLICY)
    fell_on = START + timedelta(days=36)
    assert len(fallen.alarms) == 1
    assert fell_on < fallen.alarms[0] <= START + timedelta(days=51)
    assert fallen.falling_since is not None
    assert fallen.falling_since == fell_on
    for levels in ([1.0] * 30, [1.01**i for i in range(30)]):
        steady = watch_lift(log_of(levels), POLICY)
        assert not steady.alarm
        assert steady.alarms == ()
        assert steady.falling_since is None


def test_alarm_says_now_and_alarms_say_when() -> None:
    """Once performance is back the statistic comes down; the day it sounded stays."""
    watch = watch_lift(log_of([1.0] * 12 + [0.9] * 5 + [1.0] * 20), POLICY)
    assert len(watch.alarms) == 1
    assert not watch.alarm
    during = watch_lift(
        log_of([1.0] * 12 + [0.9] * 5 + [1.0] * 20), POLICY, through=START + timedelta(days=48)
    )
    assert during.alarm
    assert during.alarms == watch.alarms


def test_one_wild_session_never_sounds_alone() -> None:
    for bad in (0.8, 0.5, 0.1):
        watch = watch_lift(log_of([1.0] * 12 + [bad] + [1.0] * 8), POLICY)
        assert watch.alarms == ()


@pytest.mark.parametrize(("gap", "anew"), [(10, False), (11, True)])
def test_a_gap_of_more_than_ten_days_starts_anew(gap: int, anew: bool) -> None:
    first = log_of([1.0] * 8)
    later = log_of([0.9] * 4, start=first[-1].day + timedelta(days=gap))
    watch = watch_lift(first + later, POLICY)
    assert (deviations(watch)[8] is None) is anew
    assert (watch.statistic == 0) is anew


def test_an_accepted_deload_starts_anew_on_or_after_its_day() -> None:
    log = log_of([1.0] * 10 + [0.93] * 3 + [0.93] * 6)
    deload = log[12].day + timedelta(days=1)
    watch = watch_lift(log, POLICY, restarts=[deload])
    assert [i for i, point in enumerate(watch.points) if point.deviation is None] == [0, 13]
    assert watch.points[12].statistic > 0
    assert all(point.statistic == 0 for point in watch.points[13:])
    pooled = watch_lifter({"a": log, "b": log}, POLICY, restarts=[deload]).pooled
    assert pooled.points[12].statistic > 0
    assert pooled.points[13].statistic == 0


def test_pooled_deviation_of_correlated_lifts() -> None:
    """Sum over the root of its variance, n(1 + (n-1) rho)."""
    assert pooled_deviation([-1.0], 0.3) == -1.0
    assert pooled_deviation([-1.0] * 4, 0.0) == pytest.approx(-2.0)
    assert pooled_deviation([-1.0] * 4, 1.0) == pytest.approx(-1.0)
    assert pooled_deviation([-1.0, 0.0, -2.0], 0.25) == pytest.approx(-3 / math.sqrt(4.5))


def test_pooled_sounds_where_single_lifts_are_still_in_doubt() -> None:
    log = log_of([1.0] * 12 + [0.963] * 6, variance=0.0003)
    watches = watch_lifter(dict.fromkeys("abcd", log), POLICY)
    assert watches.pooled.alarms
    assert not any(watch.alarms for watch in watches.lifts.values())


def test_a_new_lift_says_nothing_to_the_pool_on_its_first_day() -> None:
    old = log_of([1.0] * 10)
    new = log_of([0.7, 0.7], start=old[8].day)
    alone = watch_lifter({"old": old}, POLICY).pooled
    both = watch_lifter({"old": old, "new": new}, POLICY).pooled
    assert both.points[8] == alone.points[8]
    assert both.points[9].deviation == pytest.approx(0.0, abs=1e-9)


def test_days_of_new_lifts_only_keep_the_pooled_sum() -> None:
    old = log_of([1.0] * 8 + [0.95])
    new = log_of([1.0], start=old[-1].day + timedelta(days=1))
    pooled = watch_lifter({"old": old, "new": new}, POLICY).pooled
    assert pooled.points[-1].deviation is None
    assert pooled.points[-1].statistic == pooled.points[-2].statistic > 0


def test_pooled_limit_gives_about_a_year_between_false_alarms() -> None:
    for days_a_week in (3.0, 4.0, 6.0):
        run = one_sided_run_length(POLICY.number("watch.slack"), pooled_limit(days_a_week, POLICY))
        assert run == pytest.approx(52 * days_a_week, rel=1e-4)


def test_pooled_limit_follows_the_lifters_own_pace() -> None:
    weekly = watch_lifter({"a": log_of([1.0] * 30, every=7)}, POLICY).pooled
    daily = watch_lifter({"a": log_of([1.0] * 90, every=1)}, POLICY).pooled
    nothing = watch_lifter({}, POLICY).pooled
    assert weekly.limit < nothing.limit < daily.limit
    assert (nothing.statistic, nothing.alarm, nothing.alarms) == (0.0, False, ())


levels = st.lists(st.floats(0.7, 1.3), min_size=1, max_size=14)


@settings(deadline=None, derandomize=True, max_examples=50)
@given(levels, st.randoms(use_true_random=False), st.integers(0, 13))
def test_order_of_input_does_not_matter_and_the_future_is_not_seen(
    parts: list[float], chance: random.Random, upto: int
) -> None:
    log = log_of(parts)
    shuffled = log[:]
    chance.shuffle(shuffled)
    whole = watch_lifter({"a": shuffled}, POLICY)
    assert whole == watch_lifter({"a": log}, POLICY)
    through = START + timedelta(days=3 * upto)
    cut = watch_lifter({"a": log}, POLICY, through=through)
    assert cut.pooled.points == tuple(p for p in whole.pooled.points if p.day <= through)
    assert cut.lifts["a"].points == tuple(p for p in whole.lifts["a"].points if p.day <= through)


@settings(deadline=None, derandomize=True, max_examples=50)
@given(levels, st.floats(0.5, 2.0))
def test_the_unit_of_load_does_not_matter(parts: list[float], times: float) -> None:
    one = watch_lift(log_of(parts), POLICY)
    other = watch_lift(log_of([part * times for part in parts]), POLICY)
    assert [p.statistic for p in other.points] == pytest.approx(
        [p.statistic for p in one.points], abs=1e-6
    )


@settings(deadline=None, derandomize=True, max_examples=50)
@given(levels, st.floats(0.0, 0.3))
def test_a_worse_last_session_never_lowers_the_statistic(parts: list[float], worse: float) -> None:
    plain = watch_lift(log_of(parts), POLICY)
    lower = watch_lift(log_of([*parts[:-1], parts[-1] * (1 - worse)]), POLICY)
    assert lower.statistic >= plain.statistic - 1e-12
