"""What is strength, what the curve: held repetitions, a fall, an odd set, a lifter's own gain."""

from itertools import pairwise

import pytest
from helpers_strength import PRESS, beliefs, one

from blockwright.engine.training import SetDone


def log(weeks: list[int], load: float = 80.0, rir: float = 2.0, drop: int = 1) -> list[SetDone]:
    """Three sets twice a week on one load, each `drop` repetitions shorter than the last; `weeks`
    are the first sets' repetitions."""
    return [
        one(
            4 * day, reps - drop * number, load, set_number=number + 1, row=3 * day + number + 2,
            rir_low=rir, rir_high=rir, rest_s=150.0 if number else None,
        )
        for day, reps in enumerate(weeks)
        for number in range(3)
    ]  # fmt: skip


def one_rms(sets: list[SetDone]) -> list[float]:
    return [point.one_rm_kg.median for point in beliefs(sets).history(PRESS.name)]


@pytest.mark.parametrize(("reps", "drop"), [(6, 1), (9, 1), (12, 1), (5, 0), (12, 0)])
def test_the_same_sets_week_after_week_are_no_other_one_rm(reps: int, drop: int) -> None:
    found = one_rms(log([reps] * 16, drop=drop))
    assert min(found) / found[0] > 0.97
    assert max(found) / found[0] < 1.02


@pytest.mark.parametrize("reps", [6, 10, 12])
def test_sets_to_failure_on_one_load_are_worth_less_than_with_one_left(reps: int) -> None:
    """Who always ends a set with none left is no stronger than who had one more in him."""
    failed, stopped = (one_rms(log([reps] * 16, rir=rir)) for rir in (0.0, 1.0))
    assert max(failed) / failed[0] < 1.02
    assert failed[-1] < stopped[-1]


@pytest.mark.parametrize(("before", "after"), [(12, 10), (6, 5), (9, 7)])
def test_a_fall_in_repetitions_on_one_load_is_a_fall_and_stays_one(before: int, after: int) -> None:
    found = one_rms(log([before] * 8 + [after] * 6))
    level, fallen = found[7], found[8:]
    assert fallen[-1] < 0.98 * level
    assert all(later < earlier * 1.003 for earlier, later in pairwise(fallen))


def test_fewer_repetitions_than_expected_on_a_lighter_load_are_the_curve() -> None:
    """Eight weeks at 100 kg, then 80 kg: fewer repetitions there, as many as ever at 100 after."""
    heavy, light = log([5] * 6, 100.0), log([8] * 2)
    more = [
        one(
            4 * (6 + place // 3), done.first_reps, done.load_kg, set_number=done.set_number,
            rest_s=done.rest_s, row=20 + place,
        )
        for place, done in enumerate([*light, *log([5], 100.0)])
    ]  # fmt: skip
    before, after = beliefs(heavy).own(PRESS.name), beliefs([*heavy, *more]).own(PRESS.name)
    assert before is not None
    assert after is not None
    assert after.forecast(80.0, 2).median < before.forecast(80.0, 2).median - 1.5
    assert after.load_kg_for(5, 2) > 0.97 * before.load_kg_for(5, 2)


def test_one_odd_set_bends_no_curve() -> None:
    """100 kg typed for 80, just not far enough out to be left out."""
    plain = log([9] * 8)
    odd = list(plain)
    odd[6] = one(8, 9, 100.0, set_number=1, row=odd[6].row)
    assert one_rms(odd)[-1] < 1.15 * one_rms(plain)[-1]


@pytest.mark.parametrize(("weekly", "least", "most"), [(1.02, 9.3, 10.5), (1.0, 9.5, 10.33)])
def test_a_lifters_own_gain_is_learnt(weekly: float, least: float, most: float) -> None:
    """Ten to failure every week, at loads that rise fast or not at all: ten are expected, neither
    a step behind nor a gain that never comes."""
    sets = [
        one(7 * week, 10, 60.0 * weekly**week, rir_low=0.0, rir_high=0.0, row=week + 2)
        for week in range(20)
    ]
    found = beliefs(sets[:-1]).own(PRESS.name)
    assert found is not None
    last = sets[-1]
    assert least < found.forecast(last.load_kg, 0, on=last.moment.day).median < most
