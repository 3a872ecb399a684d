"""The plate solver against the exhaustive search, and the cases a lifter knows by heart."""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rack_brute_force import best_counts, exact_kg, gym_with, loadings, mass, rack_of, some_gym

from blockwright.engine.gym import Gym
from blockwright.engine.units import Unit


@pytest.mark.parametrize("units", [("kg",), ("lb",), ("kg", "lb")])
@settings(deadline=None, derandomize=True, max_examples=120)
@given(data=st.data())
def test_solver_equals_exhaustive_search(units: tuple[Unit, ...], data: st.DataObject) -> None:
    gym = data.draw(some_gym(*units))
    asked = data.draw(st.floats(0, 320).map(lambda kg: round(kg, 2)))
    everything = list(loadings(gym))
    totals = sorted({total for total, _ in everything})
    load = data.draw(st.sampled_from([asked, *(float(total) for total in totals)]))
    rack, near = rack_of(gym), Fraction(1, 10**6)
    expected = {
        rack.at_most: max((t for t in totals if t <= Fraction(load) + near), default=None),
        rack.at_least: min((t for t in totals if t >= Fraction(load) - near), default=None),
        rack.next_above: min((t for t in totals if t > Fraction(load) + near), default=None),
        rack.next_below: max((t for t in totals if t < Fraction(load) - near), default=None),
    }
    for ask, right in expected.items():
        found = ask(load)
        if right is None:
            assert found is None
            continue
        assert found is not None
        assert found.load_kg == float(right)
        best = best_counts(gym, everything, right)
        assert found.plates_per_side == best
        assert list(found.plates_per_side) == list(best)  # heavy inside


@settings(deadline=None, derandomize=True, max_examples=60)
@given(gym=some_gym("kg", "lb"))
def test_every_load_is_walked_once(gym: Gym) -> None:
    walked = [setting.load_kg for setting in rack_of(gym).between(0, 600)]
    assert walked == sorted({float(total) for total, _ in loadings(gym)})


def test_forty_five_pounds_is_exact() -> None:
    """International yard and pound agreement 1959: 45 lb = 20.41165665 kg."""
    rack = rack_of(gym_with([(45, "lb", 1)], mass(45, "lb")))
    assert rack.least.load_kg == 20.41165665
    top = rack.at_most(500)
    assert top is not None
    assert top.load_kg == float(135 * exact_kg(mass(1, "lb")))


@pytest.mark.parametrize(
    ("load_kg", "below", "above"),
    [
        (100.0, 100.0, 100.0),
        (101.0, 100.0, 102.5),
        (19.9, None, 20.0),
        (20.0, 20.0, 20.0),
        (22.5 + 5e-3, 22.5, 22.5),
        (22.5 - 5e-3, 22.5, 22.5),
        (22.5 + 2e-2, 22.5, 25.0),
    ],
)
def test_nearest_loads_on_a_standard_bar(
    load_kg: float, below: float | None, above: float | None
) -> None:
    rack = rack_of(Gym(kit=frozenset({"bar"}), unit="kg"))
    low, high = rack.at_most(load_kg), rack.at_least(load_kg)
    assert (low and low.load_kg, high and high.load_kg) == (below, above)


def test_nothing_above_the_last_plate() -> None:
    rack = rack_of(gym_with([(20, "kg", 1)]))
    assert rack.at_least(60.1) is None
    assert rack.next_above(60) is None
    top = rack.at_most(1e5)
    assert top is not None
    assert top.load_kg == 60
    assert top.says == "the bar, 20 kg each side"


def test_fewest_plates_beats_greed() -> None:
    """30 a side: two fifteens, where taking the 25 first would need two 2.5 as well."""
    rack = rack_of(gym_with([(25, "kg", 1), (15, "kg", 2), (2.5, "kg", 2)]))
    found = rack.at_most(80)
    assert found is not None
    assert found.plates_per_side == {"15 kg": 2}


def test_a_plate_that_is_not_there_is_not_used() -> None:
    rack = rack_of(gym_with([(20, "kg", 0), (10, "kg", 1)]))
    found = rack.at_most(100)
    assert found is not None
    assert found.load_kg == 40


@pytest.mark.parametrize("load_kg", [math.nan, math.inf, -math.inf])
def test_no_number_is_a_programming_error(load_kg: float) -> None:
    with pytest.raises(ValueError, match="not a load"):
        rack_of(gym_with([(20, "kg", 1)])).at_most(load_kg)


def test_thirty_odd_kinds_of_both_units_agree_with_their_own_sum() -> None:
    plates: list[tuple[float, Unit, int]] = [
        (round(0.37 + 0.61 * i, 2), "kg" if i % 2 else "lb", 1 + i % 4) for i in range(30)
    ]
    gym = gym_with(plates)
    masses = {pair.mass.label: exact_kg(pair.mass) for pair in gym.plates}
    pairs = {pair.mass.label: pair.pairs for pair in gym.plates}
    rack = rack_of(gym)
    found = rack.at_most(142.7)
    assert found is not None
    assert found.plates_per_side is not None
    on_a_side = sum(masses[label] * n for label, n in found.plates_per_side.items())
    assert float(20 + 2 * on_a_side) == found.load_kg
    assert 142.69 < found.load_kg <= 142.7 + 0.006
    assert all(n <= pairs[label] for label, n in found.plates_per_side.items())
