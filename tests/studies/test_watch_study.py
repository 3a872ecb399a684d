"""Slices of the watch study, and the simulation behind it checked against theory."""

import math

import numpy as np
import pytest

from blockwright.engine.change import one_sided_run_length
from blockwright.files.policy_files import default_policy
from studies.watch_study import (
    FALLS,
    LIFTS,
    LevelWorld,
    WatchScore,
    estimated_people,
    level_people,
    missed,
    pooled,
    single,
    watch_score,
)
from studies.worlds import CLEAN

POLICY = default_policy()
FIVE, EIGHT = FALLS.index(0.05), FALLS.index(0.08)


@pytest.fixture(scope="module")
def estimated() -> WatchScore:
    """One lift of 60 lifters through the real estimate."""
    made = estimated_people(CLEAN, POLICY, people=60, lifts=1, seed=5)
    return watch_score(made, single, POLICY, exposures=60)


def test_one_lift_through_the_estimate_meets_its_targets(estimated: WatchScore) -> None:
    """Targets: run 150, 5 % 0.30, 8 % 0.68; less two standard errors of this small slice."""
    assert estimated.run >= 150
    for which, target in ((FIVE, 0.30), (EIGHT, 0.68)):
        assert estimated.found[which] >= target - 2 * math.sqrt(target * (1 - target) / 60)


def test_four_lifts_pooled_find_five_per_cent_and_keep_quiet() -> None:
    world = LevelWorld(name="correlated as the policy assumes", correlation=0.2)
    made = level_people(world, people=80, seed=6)
    score = watch_score(made, pooled, POLICY)
    assert score.found[FIVE] >= 0.68 - 2 * math.sqrt(0.68 * 0.32 / 80)
    assert score.alarms_a_year <= 1.2 * POLICY.number("watch.false_alarms_a_year")


def test_realised_run_is_near_the_computed_one_where_theory_holds() -> None:
    """Levels that wander just as the reference expects, normal errors, no clipping to speak of,
    the spread known: deviations are then independent and standard normal."""
    policy = POLICY.overridden(
        {
            "watch.clip_sd": 10.0,
            "watch.realised_sd": 1.0,
            "watch.realised_sd_weight": 1000,
            "watch.limit": 2.0,
        },
        "coach",
    )
    made = level_people(LevelWorld(name="ideal", tail_freedom=1e6), people=120, seed=7)
    score = watch_score(made, single, policy, exposures=200)
    computed = one_sided_run_length(0.5, 2.0)
    alarms = 120 * LIFTS
    assert score.run == pytest.approx(computed, rel=4 / np.sqrt(alarms))


def test_a_fall_found_too_seldom_is_said_to_be_missed() -> None:
    one = WatchScore(run=463.0, alarms_a_year=0.1, found=(0.10, 0.29, 0.69))
    four = WatchScore(run=4200.0, alarms_a_year=0.0, found=(0.15, 0.80, 1.0))
    assert missed(one, four) == "5 % fall on one lift found 0.29 (asked 0.30)"
