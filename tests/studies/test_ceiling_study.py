"""A slice of the ceiling study: the targets of the whole, on fewer lifters."""

import numpy as np
import pytest

from blockwright.files.policy_files import default_policy
from studies.ceiling_study import (
    TARGET_COVERAGE,
    TARGET_RMSE,
    WORLDS,
    CeilingScore,
    ceiling_score,
    prescribed,
    ramp,
)

POLICY = default_policy()


@pytest.fixture(scope="module")
def on_ramp() -> CeilingScore:
    return ceiling_score(WORLDS[0], ramp, lifters=400, rng=np.random.default_rng(11), policy=POLICY)


@pytest.mark.parametrize("weeks", sorted(TARGET_RMSE))
def test_ceiling_is_learnt_as_fast_as_aimed_at(on_ramp: CeilingScore, weeks: int) -> None:
    low, high = TARGET_COVERAGE
    assert on_ramp.rmse(weeks) <= TARGET_RMSE[weeks]
    assert low <= on_ramp.coverage(weeks) <= high


def test_prescribing_near_the_ceiling_learns_faster_and_seldom_asks_for_far_too_much(
    on_ramp: CeilingScore,
) -> None:
    near = ceiling_score(
        WORLDS[0], prescribed, lifters=400, rng=np.random.default_rng(11), policy=POLICY
    )
    assert near.rmse(12) < on_ramp.rmse(12)
    assert near.overshoot(1.25) < on_ramp.overshoot(1.25)


def test_guessed_recovery_teaches_less_but_stays_honest() -> None:
    guessed = ceiling_score(
        WORLDS[1], ramp, lifters=400, rng=np.random.default_rng(12), policy=POLICY
    )
    assert guessed.rmse(12) > 0.20
    assert TARGET_COVERAGE[0] <= guessed.coverage(12) <= TARGET_COVERAGE[1]
