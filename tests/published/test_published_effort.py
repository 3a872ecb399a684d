"""The RIR scale and how well it is called."""

import pytest

from published import effort


def test_zourdos_2016_rpe_is_ten_minus_rir() -> None:
    for rpe, rir in effort.ZOURDOS_SCALE.value.items():
        assert 10 - rpe == rir


def test_zourdos_2016_fig_1_names_ten_minus_rpe() -> None:
    for rpe, (low, high) in effort.ZOURDOS_SCALE_FULL.value.items():
        assert low <= 10 - rpe <= high
        if rpe >= 7:
            assert 10 - rpe == (low + high) / 2


def test_halperin_2022_called_one_too_few_and_worse_in_long_sets() -> None:
    value = effort.HALPERIN_2022.value
    bias = value["repetitions called too few"]
    assert 0 < bias.low < bias.estimate == 0.95 < bias.high
    short = value["more error a repetition, sets to 12"]
    assert short.high < value["more error a repetition, sets over 12"].low


def test_hackett_2017_error_grows_with_rir() -> None:
    near, far = effort.HACKETT_2017.value.values()
    assert (near, far) == (1.0, 2.0)


def test_hackett_2018_error_shrinks_by_the_third_set() -> None:
    assert all(first > third for first, third in effort.HACKETT_2018.value.values())


def test_refalo_2024_trained_lifters_near_failure() -> None:
    called = effort.REFALO_2024.value["called minus true"]
    assert (called.mean, called.sd) == (-0.17, 1.00)


def test_zourdos_2021_spread_by_rpe() -> None:
    spreads = [effort.ZOURDOS_2021.value[rpe].sd for rpe in (9, 7, 5)]
    assert spreads == pytest.approx([1.7, 2.5, 2.9], abs=0.05)


def test_emanuel_2022_coaches_get_better_late_in_the_set() -> None:
    errors = effort.COACHES_2022.value
    assert errors[33] > errors[66] > errors[90] == 1.2


def test_steele_2017_untrained_error_is_about_three() -> None:
    low, high = effort.STEELE_2017.value
    assert (low + high) / 2 == pytest.approx(3, abs=0.05)


def test_fau_thesis_four_rir_is_called_worse_than_one() -> None:
    assert all(four > one for four, one in effort.FOUR_AGAINST_ONE_RIR.value.values())


def test_helms_2018_kg_a_week() -> None:
    gains = [each.mean / 8 for pair in effort.HELMS_2018.value.values() for each in pair]
    assert (min(gains), max(gains)) == pytest.approx((1.2, 2.1), abs=0.05)


def test_helms_2018_load_by_rpe() -> None:
    """RPE 9 in place of 8: the next set is about 4 % lighter; half a point, 2 %."""
    assert effort.next_load_by_rpe(100, 8, 9) == pytest.approx(96)
    assert effort.next_load_by_rpe(100, 8, 8.5) == pytest.approx(98)
    assert effort.next_load_by_rpe(100, 8, 7) == pytest.approx(104)
