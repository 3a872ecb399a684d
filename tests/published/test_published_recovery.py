"""Deload habits, session load, wellness scores and test noise."""

import math

import pytest

from published import recovery
from published.recovery import monotony, session_load_au, strain_au

WEEKS = [
    ((300, 0, 300, 0, 300, 0, 0), (0.802, 721.6), (0.866, 779.4)),
    ((420, 300, 420, 300, 420, 180, 0), (1.861, 3797.1), (2.01, 4101.3)),
    ((400, 0, 350, 0, 450, 200, 0), (0.99, 1385.6), (1.069, 1496.7)),
]


@pytest.mark.parametrize(("loads", "sample", "population"), WEEKS)
def test_foster_1998_worked_weeks(
    loads: tuple[int, ...], sample: tuple[float, float], population: tuple[float, float]
) -> None:
    """Invented loads, computed from the definition under both SD conventions."""
    assert monotony(loads, "sample") == pytest.approx(sample[0], abs=0.001)
    assert strain_au(loads, "sample") == pytest.approx(sample[1], abs=0.1)
    assert monotony(loads, "population") == pytest.approx(population[0], abs=0.001)
    assert strain_au(loads, "population") == pytest.approx(population[1], abs=0.1)


@pytest.mark.parametrize(("loads", "sample", "population"), WEEKS)
def test_foster_1998_the_two_sds_differ_by_root_seven_sixths(
    loads: tuple[int, ...], sample: tuple[float, float], population: tuple[float, float]
) -> None:
    one, other = monotony(loads, "population"), monotony(loads, "sample")
    assert one is not None
    assert other is not None
    assert one / other == pytest.approx(math.sqrt(7 / 6))


def test_foster_1998_flag_is_straddled_by_the_conventions() -> None:
    loads, flag = WEEKS[1][0], recovery.MONOTONY_FLAG.value
    one, other = monotony(loads, "sample"), monotony(loads, "population")
    assert one is not None
    assert other is not None
    assert one < flag < other


def test_foster_2001_load_and_guards() -> None:
    assert session_load_au(7, 60) == 420
    assert monotony([100] * 7, "sample") is None
    assert strain_au([100] * 7, "population") is None
    with pytest.raises(ValueError, match="seven days"):
        monotony([100] * 6, "sample")
    for rpe, minutes in ((11, 60), (-1, 60), (5, -1), (float("nan"), 60)):
        with pytest.raises(ValueError, match="session RPE"):
            session_load_au(rpe, minutes)


def test_day_2004_and_kraft_2014_session_rpe() -> None:
    assert recovery.DAY_2004.value == 0.88
    heavy, light = recovery.KRAFT_2014.value[80], recovery.KRAFT_2014.value[60]
    assert heavy.mean > light.mean


def test_hooper_1995_sum_runs_from_4_to_28_and_higher_is_worse() -> None:
    hooper = recovery.HOOPER.value
    assert (hooper.total([1] * 4), hooper.total([7] * 4)) == (4, 28)
    assert hooper.higher_is == "worse"
    for answers in ([1] * 3, [0, 1, 1, 1], [1, 1, 1, 8]):
        with pytest.raises(ValueError, match="answers"):
            hooper.total(answers)


def test_mclean_2010_runs_from_5_to_25_the_other_way() -> None:
    mclean = recovery.MCLEAN_2010.value
    assert (mclean.total([1] * 5), mclean.total([5] * 5)) == (5, 25)
    assert mclean.higher_is != recovery.HOOPER.value.higher_is


def test_grgic_2020_detectable_change_from_the_median_cv() -> None:
    cv = recovery.GRGIC_2020.value["CV, median %"]
    assert recovery.minimal_detectable_change_pct(cv) == pytest.approx(11.6, abs=0.05)


def test_gschneidner_2025_noise_of_differences_follows_from_its_parts() -> None:
    """Var(difference) = 2 observation^2 + process^2: within a robust SD's reach."""
    for noise in recovery.STRENGTH_NOISE.value.values():
        implied = math.sqrt(2 * noise.observation_sd**2 + noise.process_sd**2)
        assert implied == pytest.approx(noise.difference_sd, rel=0.35)


def test_rogerson_2024_and_bell_2022_deload_habits_overlap() -> None:
    days, weeks = recovery.BELL_2022.value.values()
    survey = recovery.ROGERSON_2024.value
    assert days[0] <= survey["days"].mean <= days[1]
    assert weeks[0] <= survey["every weeks"].mean <= weeks[1]
    low, high = (survey["every weeks"].mean + sign * survey["every weeks"].sd for sign in (-1, 1))
    assert (round(low), round(high)) == (3, 8)


def test_bell_2023_a_deload_lowers_volume_and_effort() -> None:
    assert {"volume", "closeness to failure"} <= set(recovery.BELL_2023.value)


def test_coleman_2024_a_week_off_gives_nothing() -> None:
    assert recovery.COLEMAN_2024.value["size"] == "same"


IMPULSES = [
    ("classic", {0: -100.0, 7: -39.82, 14: -5.38, 21: 13.39, 28: 22.75, 42: 27.16, 60: 22.7}),
    ("short", {0: -100.0, 7: 11.07, 14: 44.59, 21: 50.7, 28: 47.68}),
]


@pytest.mark.parametrize(("name", "by_day"), IMPULSES)
def test_morton_1990_response_to_one_impulse(name: str, by_day: dict[int, float]) -> None:
    model = recovery.IMPULSE_RESPONSES.value[name]
    for day, expected in by_day.items():
        assert model.response_au(100, day) == pytest.approx(expected, abs=0.01)


@pytest.mark.parametrize(
    ("name", "zero", "peak"), [("classic", 15.6, 40.31), ("short", 5.82, 20.87)]
)
def test_busso_1994_zero_and_peak_days(name: str, zero: float, peak: float) -> None:
    model = recovery.IMPULSE_RESPONSES.value[name]
    assert (model.zero_day, model.peak_day) == pytest.approx((zero, peak), abs=0.01)
    assert model.response_au(100, model.zero_day) == pytest.approx(0, abs=1e-9)
