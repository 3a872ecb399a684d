"""The pieces of evidence one by one: session load, wellness, soreness, levels, warning words."""

from collections.abc import Sequence
from datetime import date, timedelta

import pytest
from small_block import CATALOGUE, START, Truth, checkin, log_of, monday, small_block, sunday

from blockwright.engine.review import review, week_case
from blockwright.engine.review.read_weeks import read_weeks
from blockwright.engine.review.recovery import history_of, met_a_session
from blockwright.engine.review.week_facts import says_bad_day
from blockwright.engine.review.week_state import Seen, WeekFacts, WeekState
from blockwright.engine.review.wellness import (
    bodyweight_trend,
    hooper_totals,
    load_of_week,
    poor_week,
    session_load,
)
from blockwright.engine.training import MUSCLES
from blockwright.engine.volume import ceiling_prior
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


def test_a_weeks_session_load_stands_behind_the_face_of_its_letter() -> None:
    block = small_block()
    said = [checkin(monday(2), "session_rpe", 7), checkin(monday(2), "session_minutes", 60)]
    log = log_of(block, Truth(), sunday(2))
    for checkins in ([], said):
        found = review(case_of(block, log, checkins, CATALOGUE, POLICY), sunday(2))
        loads = [one.facts for one in found.notes if one.code == "session_load"]
        assert [one["total_au"] for one in loads] == ([420] if checkins else [])
        assert all(one["monotony"] != one["monotony_sample_sd"] for one in loads)


def test_a_total_of_wellness_needs_all_four_answers() -> None:
    items = ("sleep", "fatigue", "stress", "soreness")
    said = [checkin(START, item, 3) for item in items]
    assert hooper_totals(said) == {START: 12.0}
    assert not hooper_totals(said[1:])


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
    assert met_a_session(answers, days(0, 3), 5.0) == [(days(3)[0], 2.0)]


def test_an_answer_the_day_after_the_last_session_is_too_early_to_tell() -> None:
    assert met_a_session({days(1)[0]: 8.0}, days(0), 5.0) == []
    assert met_a_session({days(2)[0]: 8.0}, days(0), 5.0) == [(days(2)[0], 8.0)]
    assert met_a_session({days(1)[0]: 3.0}, days(0), 5.0) == [(days(1)[0], 3.0)]


def test_the_answer_on_monday_morning_is_about_fridays_work() -> None:
    log, next_monday = log_of(small_block(), Truth(), sunday(1)), monday(2)
    said = [checkin(next_monday, "sore", 3, "chest")]
    here = history_of(log, said, CATALOGUE, POLICY, monday=START, through=next_monday)
    assert here[START]["chest"].sore == 3


# ------------------------------------------------------------------------- levels, recovery


def weeks(*third: float, sore: bool | None = None, days_of: int = 1) -> WeekState:
    """The third week of a lifter whose two lifts stood still for two: each lift's ln capacity in
    it, the first lift's first, on as many days."""

    def week(number: int, capacities: Sequence[float], said: bool | None) -> WeekFacts:
        seen = tuple(
            Seen(lift=lift, day=monday(number) + timedelta(days=2 * day), ln_capacity=4 + capacity,
                 variance=0.015**2, shares={muscle: 1.0}, new_zone=False)
            for day in range(days_of)
            for (lift, muscle), capacity in zip(
                (("press", "chest"), ("row", "upper_back")), capacities, strict=True)
        )  # fmt: skip
        sets = {"chest": 16.0, "upper_back": 16.0}
        said_sore = {} if said is None else {"chest": said}
        return WeekFacts(start=monday(number), seen=seen, sets=sets, noted={}, worse=None,
                         sore=said_sore, eased=None)  # fmt: skip

    ceilings = {m: ceiling_prior(m, "intermediate", "maintenance", POLICY) for m in MUSCLES}
    facts = [week(1, (0, 0), None), week(2, (0, 0), None), week(3, third, sore)]
    return read_weeks(facts, ceilings, POLICY, through=sunday(3)).states[-1]


def test_a_missing_answer_is_neither_yes_nor_no() -> None:
    gone, missing, there = (
        weeks(-0.03, 0.0, sore=s).recovered["chest"] for s in (False, None, True)
    )
    assert there < missing < gone


def test_one_noisy_measurement_does_not_make_a_fall() -> None:
    once, often = weeks(-0.03, 0.0), weeks(-0.08, 0.0, days_of=3)
    assert once.kept["press"] > often.kept["press"]
    assert once.recovered["chest"] > 0.5 > often.kept["press"]
    assert min(once.kept["row"], often.kept["row"]) > 0.8, "the other lift held"


def test_a_muscle_is_judged_by_its_own_lifts() -> None:
    found = weeks(-0.06, 0.01, days_of=2)
    assert found.recovered["chest"] < 0.5 < found.recovered["upper_back"]


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

    assert believed(8) + 0.5 < believed(0)


def test_a_note_of_little_sleep_speaks_of_a_bad_day() -> None:
    said = ("exams, slept 4 hours", "only slept 5h", "slept badly")
    assert all(map(says_bad_day, said))
    assert not any(map(says_bad_day, ("slept 8 hours", "flew up")))


def test_who_has_no_usual_yet_slept_badly_where_most_answers_are_very_poor() -> None:
    week = date(2026, 3, 9), date(2026, 3, 15)
    answers = [(2, 2), (9, 6), (11, 7), (13, 6)]
    said = [checkin(date(2026, 3, day), "sleep", value) for day, value in answers]
    assert poor_week(said, "sleep", *week, POLICY)
    assert not poor_week(said[:2], "sleep", *week, POLICY), "one answer makes no week"


@pytest.mark.parametrize(
    ("before", "week", "poor"),
    [
        ([], [6, 6], True),
        ([], [6], False),  # one answer makes no week
        ([], [5, 5], False),  # bad, not very poor
        ([], [6, 6, 1], True),
        ([], [6, 6, 1, 1], False),  # half is not most
        ([1, 1, 1, 1], [5, 5], False),  # four answers are no usual
        ([1, 1, 1, 1, 1], [5, 5], True),
        ([1, 1, 1, 1, 1], [4, 4], True),
        ([1, 1, 1, 1, 1], [3, 3], False),  # better than the middle is no complaint
        ([5, 5, 5, 5, 5], [5, 5], False),  # as ever
        ([5, 5, 5, 5, 5], [7, 7], True),
        ([2, 6, 2, 6, 2], [5, 5], False),  # within what is usual
        ([2, 6, 2, 6, 2], [6, 6], True),
    ],
)
def test_a_week_was_slept_badly_by_most_of_its_answers(
    before: list[int], week: list[int], poor: bool
) -> None:
    monday_, sunday_ = date(2026, 3, 9), date(2026, 3, 15)
    said = [
        checkin(monday_ - timedelta(days=n), "sleep", value) for n, value in enumerate(before, 1)
    ]
    said += [checkin(monday_ + timedelta(days=n), "sleep", value) for n, value in enumerate(week)]
    others = [checkin(sunday_ + timedelta(days=1), "sleep", 7)] * 9
    others += [checkin(monday_, "fatigue", 7)] * 9
    assert poor_week([*said, *others], "sleep", monday_, sunday_, POLICY) == poor


@pytest.mark.parametrize(
    ("days_back", "told"),
    [
        ((0, 4, 8, 12), True),
        ((0, 8, 12), False),  # three weigh-ins
        ((0, 2, 4, 7), True),  # a third of the window
        ((0, 2, 4, 6), False),
        ((0, 4, 8, 20), True),
        ((0, 4, 8, 21), False),  # the fourth is out of the window
        ((-1, 0, 4, 8), False),  # the first is yet to come
    ],
)
def test_a_trend_of_bodyweight_needs_weigh_ins_over_days(
    days_back: tuple[int, ...], told: bool
) -> None:
    through = START + timedelta(days=40)
    said = [checkin(through - timedelta(days=n), "bodyweight", 80.0 + n) for n in days_back]
    trend = bodyweight_trend(said, through, POLICY)
    assert (trend is not None) == told
    if trend is not None:
        assert trend.weigh_ins == 4
        assert trend.pct_per_week < 0
