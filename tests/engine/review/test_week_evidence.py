"""The pieces of evidence one by one: session load, wellness, soreness, levels, warning words."""

from datetime import date, timedelta

import pytest
from small_block import CATALOGUE, START, Truth, checkin, log_of, monday, small_block, sunday

from blockwright.engine.review import week_case
from blockwright.engine.review.baseline import Change, UsualChanges, pooled
from blockwright.engine.review.recovery import RecoveryLaw, met_a_session
from blockwright.engine.review.wellness import (
    bodyweight_trend,
    load_of_week,
    session_load,
    wellness_of,
)
from blockwright.engine.training import CheckIn
from blockwright.files.policy_files import default_policy
from studies.cases import case_of

POLICY = default_policy()


@pytest.mark.parametrize(
    ("daily", "total", "population", "sample", "strain"),
    [
        ([300, 0, 300, 0, 300, 0, 0], 900, 0.866, 0.802, 779.4),
        ([420, 300, 420, 300, 420, 180, 0], 2040, 2.010, 1.861, 4101.3),
        ([400, 0, 350, 0, 450, 200, 0], 1400, 1.069, 0.990, 1496.7),
    ],
)
def test_monotony_and_strain_of_worked_weeks(
    daily: list[float], total: float, population: float, sample: float, strain: float
) -> None:
    """Foster 1998, MSSE 30:1164 (definitions); worked weeks computed for this project from
    them, with both SDs. The second stands on either side of the usual flag of 2."""
    load = load_of_week(daily, 5)
    assert load.total == total
    assert load.monotony == pytest.approx(population, abs=5e-4)
    assert load.monotony_sample_sd == pytest.approx(sample, abs=5e-4)
    assert load.strain == pytest.approx(strain, abs=0.5)


def test_seven_equal_days_have_no_monotony() -> None:
    assert load_of_week([300.0] * 7, 7).monotony is None


def test_session_load_needs_both_effort_and_minutes() -> None:
    effort = checkin(START, "session_rpe", 7)
    assert session_load([effort], START) is None
    load = session_load([effort, checkin(START, "session_minutes", 60)], START)
    assert load is not None
    assert load.total == 420


def wellness(*totals: int) -> list[CheckIn]:
    """Check-ins with these Hooper totals, two days apart."""
    return [
        checkin(START + timedelta(days=2 * n), item, total / 4)
        for n, total in enumerate(totals)
        for item in ("sleep", "fatigue", "stress", "soreness")
    ]


def test_tired_takes_three_check_ins_in_a_row_above_the_own_usual() -> None:
    usual = (10, 11, 12, 10, 11, 12)
    tired = wellness_of(wellness(*usual, 20, 20, 20), POLICY)
    assert tired is not None
    assert tired.tired
    once = wellness_of(wellness(*usual, 20, 11, 20), POLICY)
    assert once is not None
    assert not once.tired
    assert wellness_of(wellness(20, 20, 20), POLICY) is None, "nobody's usual is known yet"


def test_a_total_needs_all_four_answers() -> None:
    some = [said for said in wellness(*[11] * 9) if said.measure != "sleep"]
    assert wellness_of(some, POLICY) is None


def test_bodyweight_trend_in_percent_a_week() -> None:
    falling = [
        checkin(START + timedelta(days=day), "bodyweight", 80 - 0.08 * day) for day in range(15)
    ]
    trend = bodyweight_trend(falling, START + timedelta(days=14), POLICY)
    assert trend is not None
    assert trend.pct_per_week == pytest.approx(-100 * 7 * 0.08 / 79.44, abs=1e-3)
    assert bodyweight_trend(falling[:2], START + timedelta(days=14), POLICY) is None


# ------------------------------------------------------------------------------- soreness


def days(*numbers: int) -> tuple[date, ...]:
    return tuple(START + timedelta(days=n) for n in numbers)


def test_of_several_answers_the_last_before_the_session_counts() -> None:
    answers = dict(zip(days(1, 2, 3), (7.0, 5.0, 2.0), strict=True))
    assert met_a_session(answers, days(0, 3)) == [(days(3)[0], 2.0)]


def test_an_answer_the_day_after_the_last_session_is_too_early_to_tell() -> None:
    assert met_a_session({days(1)[0]: 8.0}, days(0)) == []
    assert met_a_session({days(2)[0]: 8.0}, days(0)) == [(days(2)[0], 8.0)]


def test_a_missing_answer_is_neither_yes_nor_no() -> None:
    rule = RecoveryLaw(POLICY)
    missing, gone, there = (rule.p_soreness_gone(x) for x in (None, 1.0, 6.0))
    assert there < missing < gone


# --------------------------------------------------------------------------------- levels


def change(mean: float, sd: float) -> Change:
    return Change(mean=mean, sd=sd)


def test_one_noisy_measurement_does_not_make_a_fall() -> None:
    usual = UsualChanges.of(POLICY)
    noisy, sure = change(-0.05, 0.04), change(-0.05, 0.01)
    assert noisy.p_above(-0.03, usual) > 0.7
    assert sure.p_above(-0.03, usual) < 0.15


def test_p_above_is_a_probability_that_falls_with_the_line() -> None:
    usual = UsualChanges.of(POLICY)
    for mean in (-0.5, -0.03, 0.0, 0.4):
        found = [change(mean, 0.02).p_above(line, usual) for line in (-0.2, -0.03, 0.0, 0.1)]
        assert all(0 <= p <= 1 for p in found)
        assert found == sorted(found, reverse=True)


def test_pooling_four_lifts_by_hand() -> None:
    """sd^2 = (1 - rho) sum(w sd)^2 each + rho (sum of w sd)^2, w = 1/4, sd = 0.04, rho = 0.2."""
    whole = pooled([(1.0, change(-0.02, 0.04))] * 4, 0.2)
    assert whole is not None
    assert whole.mean == pytest.approx(-0.02)
    assert whole.sd == pytest.approx((0.8 * 4 * 0.01**2 + 0.2 * 0.04**2) ** 0.5)
    assert pooled([], 0.2) is None


# ---------------------------------------------------------------------------------- ceilings


def test_recovered_weeks_raise_the_ceiling_and_others_lower_it() -> None:
    def believed(sore: float) -> float:
        block = small_block()
        said = [
            checkin(monday(week) + timedelta(days=4), "sore", sore, "chest") for week in (1, 2, 3)
        ]
        log = log_of(block, Truth(), sunday(3))
        case = case_of(block, log, said, CATALOGUE, POLICY, sunday(3))
        return week_case(case).ceilings["chest"].median

    assert believed(8) < 14 < believed(0)
