"""Dose findings: counting, slopes, contrasts, and the trial that disagrees."""

import math

import pytest

from blockwright.engine.published import volume
from published import doses, methods


def test_pelland_2025_counting_rule() -> None:
    assert doses.fractional_sets(direct=0, indirect=3) == 1.5  # three rows for the biceps
    assert doses.fractional_sets(direct=4, indirect=2) == 5


def test_pelland_2026_contrast_by_square_root() -> None:
    nine, thirty_six = doses.implied_growth_smd(9), doses.implied_growth_smd(36)
    assert thirty_six - nine == pytest.approx(0.294)
    assert doses.implied_growth_smd(1) == pytest.approx(0.098)
    gains = [doses.implied_growth_smd(n + 1) - doses.implied_growth_smd(n) for n in range(30)]
    assert gains == sorted(gains, reverse=True)
    with pytest.raises(ValueError, match="negative"):
        doses.implied_growth_smd(-1)


def test_pelland_2025_slopes_and_smallest_dose() -> None:
    assert all(0.99 < p <= 1 for p in volume.PELLAND_SLOPES.value.values())
    assert volume.PELLAND_THRESHOLDS.source.quoted == "from memory"
    assert volume.PELLAND_THRESHOLDS.value["growth"] > volume.PELLAND_THRESHOLDS.value["strength"]


def test_remmert_2025_and_limits_agree_on_eleven_a_session() -> None:
    assert doses.REMMERT_2025.value["growth, fractional"] == 11
    assert doses.DETECTABLE_LIMITS.value == {"sets a session": 11, "sets a week": 31}


def test_steele_2026_trial_is_equivalent_within_a_tenth() -> None:
    """The counter-example: its interval lies inside +/-0.1 and below the implied contrast."""
    trial = volume.STEELE_2026_TRIAL.value["36 minus 9 sets"]
    assert -0.1 < trial.low < 0 < trial.high < 0.1
    assert trial.high < doses.PELLAND_CONTRAST.value.low


def test_schoenfeld_2017_slope_and_groups() -> None:
    value = doses.SCHOENFELD_2017.value
    assert (value["ES per weekly set"], value["% per weekly set"]) == (0.023, 0.37)
    groups = list(doses.SCHOENFELD_2017_GROUPS.value.values())
    assert groups == sorted(groups)
    assert groups[-1] / groups[0] > 1.5


def test_baz_valle_2022_range() -> None:
    assert doses.BAZ_VALLE_2022.value == (12, 20)


def test_steele_2023_growth_is_log_of_weeks() -> None:
    """First year 30-50 %: 0.076 to 0.126 a unit of ln(week); six years 50-60 %."""
    low, high = (
        share / 100 / math.log(53) for share in doses.STEELE_2023_YEARS.value["first year"]
    )
    assert (low, high) == pytest.approx((0.076, 0.126), abs=0.0005)
    six_years = doses.STEELE_2023_YEARS.value["six years"]
    assert six_years[0] >= doses.STEELE_2023_YEARS.value["first year"][0]


def test_latella_2020_slower_than_a_per_cent_a_month() -> None:
    """0.15 kg a day of a three-lift total: under 1 % a month for a total of 500 kg."""
    assert 30 * doses.LATELLA_2020.value["men"].mean / 500 < 0.01


def test_steele_2023_untrained_effect_and_gschneidner_2025_trained() -> None:
    trained = doses.SINGLE_SET_TRIAL_2025.value
    sizes = [trained["arm size"].estimate, trained["thigh size"].estimate]
    assert doses.UNTRAINED_EFFECT.value.estimate / max(sizes) == pytest.approx(6.7, abs=0.1)
    for effect in trained.values():
        assert 0 < effect.low < effect.estimate < effect.high


def test_steele_2023_arm_changes() -> None:
    for spread in doses.ARM_CHANGES.value.values():
        assert spread.low < spread.median < spread.high
    assert doses.ARM_CHANGES.value["strength"].median == 21.0
    assert doses.ARM_CHANGES.value["growth"].median == 6.0


def test_schoenfeld_2019_weekly_sets_multiply() -> None:
    one = doses.SCHOENFELD_2019.value[1]
    for sets, weekly in doses.SCHOENFELD_2019.value.items():
        assert weekly == (sets * one[0], sets * one[1])


def test_robinson_2024_and_refalo_2023_closeness_to_failure() -> None:
    assert doses.ROBINSON_2024.value == {"strength": False, "growth": True}
    momentary = doses.REFALO_2023.value["momentary failure"]
    assert momentary.low < 0 < momentary.estimate


def test_schoenfeld_2016_twice_a_week_over_once() -> None:
    twice, once = doses.SCHOENFELD_2016.value.values()
    assert (twice.mean, once.mean) == (0.49, 0.30)


# ----------------------------------------------------------------------------------- methods


def test_iversen_2021_and_superset_trial_save_time() -> None:
    assert methods.IVERSEN_2021.value["share of the time"] == 0.5
    assert 1 - methods.SUPERSET_TRIAL.value / 100 == pytest.approx(0.64)


def test_sodal_2023_drop_sets() -> None:
    value = methods.SODAL_2023.value
    assert value["drop sets"] > value["straight sets"]
    # The printed difference (0.155) is its own estimate, near the difference of the two means.
    assert value["difference"] == pytest.approx(
        value["drop sets"] - value["straight sets"], abs=0.05
    )
    usual = methods.DROP_PROTOCOLS.value
    assert usual["drop, smallest %"] < usual["drop, usual %"] == 20 < usual["drop, largest %"]


def test_coleman_2022_drop_sets_no_benefit() -> None:
    for effect in methods.COLEMAN_2022.value.values():
        assert effect.low < 0 < effect.high


def test_prestes_2019_rest_pause() -> None:
    rest_pause, straight = methods.PRESTES_2019.value["leg press endurance"]
    assert (rest_pause.mean, straight.mean) == (27, 8)


def test_korak_2017_ratio() -> None:
    with_pauses, without = methods.KORAK_2017.value
    assert with_pauses / without == pytest.approx(1.48, abs=0.005)
