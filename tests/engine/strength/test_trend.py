"""Session capacities and the trend: learning is not growth, growth is seen, noise is not."""

from dataclasses import replace
from math import log

import pytest
from helpers_strength import POLICY, PRESS, beliefs, one, random_log, steady

from blockwright.engine.strength import strength_law
from blockwright.engine.strength.sessions import session_capacities


def test_capacities_do_not_look_ahead() -> None:
    sets = random_log(2, lifters=1, exposures=6)
    whole = beliefs(sets)
    who, lift = whole.series[0]
    days = sorted({s.moment.day for s in sets if s.lift == lift})
    cut = beliefs(sets, through=days[3])
    # the last bits depend on how many series stand side by side, nothing else does
    for ours, theirs in zip(
        whole.session_capacities(lift, who)[:4], cut.session_capacities(lift, who), strict=True
    ):
        assert ours.day == theirs.day
        assert ours.ln_capacity == pytest.approx(theirs.ln_capacity, abs=1e-12)
        assert ours.variance == pytest.approx(theirs.variance, abs=1e-12)


def test_capacity_is_the_fresh_load_for_eight() -> None:
    """One set of eight to failure at 100 kg speaks for ln 100."""
    sets = [one(0, 8, 100.0, rir_low=0.0, rir_high=0.0)]
    (session,) = beliefs(sets).session_capacities(PRESS.name)
    assert session.ln_capacity == pytest.approx(log(100.0), abs=1e-9)
    assert 0 < session.variance < 0.03**2


def test_more_sets_make_a_session_surer() -> None:
    one_set = beliefs(steady(sets=1)).session_capacities(PRESS.name)[-1]
    four = beliefs(steady(sets=4)).session_capacities(PRESS.name)[-1]
    assert four.variance < 0.5 * one_set.variance


@pytest.mark.parametrize(("method", "sessions"), [("try", 1), ("warmup", 1), ("straight", 2)])
def test_work_sets_counted_anew_after_tries_are_of_their_session(
    method: str, sessions: int
) -> None:
    """As the paper numbers them: read as two sessions, a watch sounded in the first week."""
    before = [one(0, 8, 20.0 * n, set_number=n, method=method, row=n) for n in (1, 2, 3)]
    work = [one(0, 8, 60.0, set_number=n, row=3 + n) for n in (1, 2)]
    assert len(beliefs([*before, *work]).session_capacities(PRESS.name)) == sessions


def test_growth_is_seen_and_level_is_not_called_growth() -> None:
    rising = [
        replace(done, loads_kg=(80.0 * 1.01 ** (number // 3),))
        for number, done in enumerate(steady(sessions=14))
    ]
    trend = beliefs(rising).trend_pct_per_week(PRESS.name)
    assert trend.low80 > 0
    assert trend.low80 < 100 * log(1.01) * 7 / 4 < trend.high80
    flat = beliefs(steady(sessions=14)).trend_pct_per_week(PRESS.name)
    assert flat.low80 < 0 < flat.high80


def test_two_per_cent_a_week_reads_as_nearly_that() -> None:
    """Two sessions a week over eight, the load raised with the strength."""
    rising = [
        replace(done, loads_kg=(80.0 * 1.02 ** (3.5 * (number // 3) / 7),))
        for number, done in enumerate(steady(sessions=16, every=4))
    ]
    growth = 100 * log(1.02) * 3.5 / 4
    assert beliefs(rising).trend_pct_per_week(PRESS.name).median > 0.88 * growth


def test_a_slow_fall_is_heard_within_a_month() -> None:
    """1 % a week from the fifteenth session on, two sessions a week; before it nothing is said."""
    falling = [
        replace(done, loads_kg=(80.0 * 0.99 ** (max(number // 3 - 14, 0) * 4 / 7),))
        for number, done in enumerate(steady(sessions=23))
    ]
    assert beliefs(falling[: 3 * 15]).trend_pct_per_week(PRESS.name).high80 > 0
    assert beliefs(falling).trend_pct_per_week(PRESS.name).high80 < 0


def test_what_is_learnt_of_tiring_is_no_fall() -> None:
    """Somebody whose later sets hold tires less than is assumed at first: on its day the first
    session looks stronger than the last, read again it does not."""
    tireless = [
        one(4 * session, 8, set_number=number, rest_s=90.0)
        for session in range(14) for number in (1, 2, 3, 4)
    ]  # fmt: skip
    found = beliefs(tireless)
    as_known = found.session_capacities(PRESS.name)
    again = session_capacities(found.replayed, 0, reread=True)
    seeming = as_known[-1].ln_capacity - as_known[0].ln_capacity
    assert seeming < -0.02
    assert abs(again[-1].ln_capacity - again[0].ln_capacity) < 0.25 * abs(seeming)


def test_a_learning_jump_is_not_growth() -> None:
    """+9 % at the first retest, then level (Hammarström et al. 2020 shows such jumps in beginners):
    no more than a beginner's usual gain."""
    sets = [
        one(7 * week, 8, 80.0 * (1.0 if week == 0 else 1.09), rir_low=0.0, rir_high=0.0)
        for week in range(6)
    ]
    found = beliefs(sets, experience="novice")
    usual = 700 * strength_law(POLICY, "novice").drift_per_day
    ruled = found.trend_pct_per_week(PRESS.name)
    plain = found.trend_pct_per_week(PRESS.name, learning_rule=False)
    assert ruled.median < 0.75 * usual
    assert plain.median > 1.5 * ruled.median


def test_first_exposures_say_something_of_growth() -> None:
    """Four weekly sessions at 2 % more each: half of them are first exposures, and not left out."""
    sets = [one(7 * week, 8, 80.0 * 1.02**week, rir_low=0.0, rir_high=0.0) for week in range(4)]
    usual = 700 * strength_law(POLICY).drift_per_day
    assert beliefs(sets).trend_pct_per_week(PRESS.name).median > 1.4 * usual
