"""Fatigue from set to set: the dose, the rest, and totals over rests."""

import numpy as np
import pytest

from blockwright.engine.fatigue import FatigueState, dose, fatigue_law
from blockwright.engine.strength.curve import psi, reps_at
from blockwright.files.policy_files import default_policy

POLICY = default_policy()


def test_ten_to_failure_is_one() -> None:
    assert dose(10.0, 10.0, fatigue_law(POLICY)) == pytest.approx(1.0)


def test_sets_far_from_failure_cost_little() -> None:
    law = fatigue_law(POLICY)
    assert dose(5.0, 10.0, law) < 0.35 * dose(10.0, 10.0, law)
    assert dose(0.0, 10.0, law) == 0.0


def test_numbers_and_arrays_agree() -> None:
    law = fatigue_law(POLICY)
    many = dose(np.array([3.0, 8.0, 20.0]), np.array([6.0, 8.0, 22.0]), law)
    alone = [dose(3.0, 6.0, law), dose(8.0, 8.0, law), dose(20.0, 22.0, law)]
    assert many == pytest.approx(alone)


def test_rest_takes_the_fast_part_first() -> None:
    tired = FatigueState().after_set(10, 10, POLICY)
    rested = tired.rested(180, POLICY)
    assert rested.fast == pytest.approx(tired.fast * np.exp(-2.0))
    assert rested.slow == pytest.approx(tired.slow * np.exp(-0.06))
    assert tired.rested(None, POLICY) == tired.rested(150, POLICY)
    assert tired.total == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("group", "minutes", "engine", "remembered"),
    [
        ("press", 1, 17.4, 17.1), ("press", 2, 21.7, 21.6), ("press", 5, 25.8, 25.7),
        ("squat", 1, 22.1, 22.5), ("squat", 2, 25.5, 25.5), ("squat", 5, 28.3, 28.8),
    ],
)  # fmt: skip
def test_totals_of_four_sets_by_rest(
    group: str, minutes: int, engine: float, remembered: float
) -> None:
    """Willardson & Burkett 2005, JSCR 19:23-26, four sets with an 8RM (from memory): within 0.5."""
    phi, kappa, power = POLICY.number(f"fatigue.phi.{group}"), 0.0335, 0.92
    state, total = FatigueState(), 0.0
    for _ in range(4):
        fresh = kappa * float(psi(np.array(8.0), power))
        m = float(reps_at(np.array((fresh - phi * state.total) / kappa), power))
        total += m
        state = state.after_set(m, m, POLICY).rested(60.0 * minutes, POLICY)
    assert total == pytest.approx(engine, abs=0.1)
    assert total == pytest.approx(remembered, abs=0.6)
