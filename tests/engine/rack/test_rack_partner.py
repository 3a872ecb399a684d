"""Two lifters on one bar: never more moves than any other pair of loadings would need."""

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st
from rack_brute_force import exact_kg, fewest_moves, gym_with, loadings, rack_of, some_gym

from blockwright.engine.gym import Gym
from blockwright.engine.rack import partner_moves


def total(gym: Gym, *parts: dict[str, int]) -> Fraction:
    masses = {pair.mass.label: exact_kg(pair.mass) for pair in gym.plates}
    return sum((masses[label] * n for part in parts for label, n in part.items()), Fraction(0))


@settings(deadline=None, derandomize=True, max_examples=150)
@given(data=st.data())
def test_moves_equal_the_exhaustive_fewest(data: st.DataObject) -> None:
    gym = data.draw(some_gym("kg", "lb"))
    everything = list(loadings(gym))
    totals = sorted({load for load, _ in everything})
    first, second = data.draw(st.sampled_from(totals)), data.draw(st.sampled_from(totals))
    found = partner_moves(rack_of(gym), float(first), float(second))
    assert found is not None
    assert found.moves_per_side == fewest_moves(everything, first, second)
    bar = exact_kg(gym.bars[0].mass)
    shared, one, other = dict(found.shared), dict(found.first_only), dict(found.second_only)
    assert bar + 2 * total(gym, shared, one) == first
    assert bar + 2 * total(gym, shared, other) == second
    pairs = {pair.mass.label: pair.pairs for pair in gym.plates}
    for label, most in pairs.items():
        both = shared.get(label, 0)
        assert both + max(one.get(label, 0), other.get(label, 0)) <= most
    assert found.first.load_kg == float(first)
    assert found.second.load_kg == float(second)


def test_free_order_saves_a_move_over_heavy_inside() -> None:
    """Six with each load set heaviest inside, as one lifter alone would."""
    gym = gym_with([(20, "kg", 3), (15, "kg", 2), (10, "kg", 2), (2.5, "kg", 2), (1.25, "kg", 1)])
    rack = rack_of(gym)
    found = partner_moves(rack, 140, 47.5)
    assert found is not None
    assert found.moves_per_side == 5
    assert found.shared == {"10 kg": 1}


def test_the_same_load_moves_nothing() -> None:
    found = partner_moves(rack_of(gym_with([(20, "kg", 2)])), 60, 60)
    assert found is not None
    assert found.moves_per_side == 0


def test_a_load_that_cannot_be_made_has_no_answer() -> None:
    rack = rack_of(gym_with([(20, "kg", 2)]))
    assert partner_moves(rack, 60, 61) is None
