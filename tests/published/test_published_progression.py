"""Rules that raise a load fire exactly where they were printed to fire."""

import pytest

from published import progression
from published.progression import acsm_step_fits, load_step, two_for_two


@pytest.mark.parametrize(
    ("load", "raised", "over", "fits"),
    [
        (100, 102, 1, True),
        (100, 110, 2, True),
        (100, 105, 0, False),
        (100, 101, 2, False),
        (100, 112.5, 2, False),
    ],
)
def test_acsm_2009_two_to_ten_per_cent_at_one_or_two_over(
    load: float, raised: float, over: int, fits: bool
) -> None:
    assert acsm_step_fits(load, raised, over) is fits


def test_acsm_2009_ranges() -> None:
    stand = progression.ACSM_2009.value
    assert stand.novice_rm == (8, 12)
    assert dict(stand.days_a_week)["advanced"] == (4, 5)
    with pytest.raises(ValueError, match="above zero"):
        acsm_step_fits(0, 5, 2)


def test_acsm_2009_hypertrophy_ranges_widen_with_training() -> None:
    novice = progression.ACSM_2009_HYPERTROPHY.value["novice and intermediate"]
    advanced = progression.ACSM_2009_HYPERTROPHY.value["advanced"]
    assert novice == ((70, 85), (1, 3), (8, 12))
    assert advanced == ((70, 100), (3, 6), (1, 12))


def test_acsm_2026_ten_sets_twice_a_week() -> None:
    assert progression.ACSM_2026.value["growth, weekly sets a muscle about"] == 10
    assert progression.ACSM_2026.value["strength, times a week at least"] == 2


@pytest.mark.parametrize(
    ("last_sets", "fires"),
    [
        ([12], False),
        ([12, 12], True),
        ([12, 11], False),
        ([11, 12], False),
        ([10, 12, 13], True),
        ([12, 12, 11], False),
        ([], False),
    ],
)
def test_baechle_earle_two_for_two(last_sets: list[int], fires: bool) -> None:
    """Target 10: two over it in the last set, in two sessions in a row, and not before."""
    assert two_for_two(last_sets, 10) is fires


def test_nsca_load_increase_table() -> None:
    assert load_step("less trained", "upper").kg == (1, 2)
    assert load_step("less trained", "lower").lb == (5, 10)
    assert load_step("more trained", "upper").or_more
    assert load_step("more trained", "lower").kg == (4, 7)
    for step in progression.LOAD_STEPS.value.values():
        assert step.kg[0] == pytest.approx(step.lb[0] * 0.4536, abs=0.6)  # printed rounded


def test_plotkin_2022_both_rules_gain_about_twenty() -> None:
    for before, after in progression.PLOTKIN_2022.value.values():
        assert after - before == pytest.approx(20, abs=2)
    difference = progression.PLOTKIN_2022_DIFFERENCE.value
    assert difference.low < 0 < difference.high


def test_bickel_2011_maintenance_doses() -> None:
    assert sorted(progression.BICKEL_2011.value.values()) == [1 / 9, 1 / 3]


def test_nascimento_2017_sessions_to_learn_a_test() -> None:
    assert progression.NASCIMENTO_2017.value == {"bench press": 2, "curl": 2, "squat": 3}
