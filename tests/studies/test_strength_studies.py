"""Small slices of the strength studies; the whole of them is `make validate`."""

import numpy as np
import pytest

from blockwright.demo.laws import hyperbolic_curve
from blockwright.files.policy_files import default_policy
from studies.asking_study import asking_score
from studies.bench_study import bench_results
from studies.learning_study import learning_jump_pct, trend_readings
from studies.lifters import simulated
from studies.machine_study import machine_log, machine_scores, still_log, still_one_rms
from studies.strength_study import floor_rmse, world_score
from studies.trend_study import trend_score
from studies.worlds import WORLDS

POLICY = default_policy()
BY_NAME = {world.name: world for world in WORLDS}


def test_the_same_seed_gives_the_same_log() -> None:
    first, second = (
        simulated(WORLDS[-1], np.random.default_rng(6), lifters=2, exposures=4) for _ in range(2)
    )
    assert first == second
    assert len(first.sets) == len(first.slips) == len(first.true_reps)


@pytest.mark.parametrize("name", ["own law", "foreign in everything"])
def test_intervals_hold_and_simple_rules_are_beaten(name: str) -> None:
    """Design targets: 0.76-0.90 coverage; RMSE at most 0.88 of the best simple rule."""
    found = world_score(BY_NAME[name], POLICY, lifters=60, seed=12)
    assert 0.76 <= found.coverage80 <= 0.90
    assert found.ratio <= 0.88
    assert all(one.rmse_reps > one.known_rmse for one in found.after)


def test_single_sets_to_failure_on_machines() -> None:
    """Design target 0.94 of the best rule on real logs; simulated stand-ins, own and foreign."""
    rng = np.random.default_rng(21)
    sets = machine_log(hyperbolic_curve, 0.1, rng, lifters=60, sessions=14)
    result = dict(machine_scores(sets, POLICY))["all"]
    assert (result.rmse_reps or 9.9) / min(result.baselines.values()) <= 0.96
    assert 0.76 <= (result.coverage80 or 0.0) <= 0.90


def test_sets_to_failure_at_a_load_that_never_moves_do_not_raise_the_one_rm() -> None:
    """Once read 21-25 % too high, and held by 3 to 5 % of the intervals."""
    rng = np.random.default_rng(1)
    miss, held = still_one_rms(
        *still_log(hyperbolic_curve, 0.1, rng, lifters=10, sessions=12), POLICY
    )
    assert abs(miss) < 0.10
    assert held >= 0.6


def test_real_bench_sets_are_predicted_better_than_by_the_equations() -> None:
    """Mitter et al. 2022 raw data: 90 and 80 % given, 70 % predicted; prior from the others."""
    for pick in (lambda man: man.reps_own_day, lambda man: man.reps_one_visit):
        results = {result.method: result for result in bench_results(pick, POLICY)}
        ours = results["estimate, press prior from the other 13 men"]
        others = [r.rmse for name, r in results.items() if not name.startswith("estimate")]
        assert ours.rmse < min(others)
        assert sum(ours.covered) >= 9


def test_a_real_learning_jump_is_not_read_as_growth() -> None:
    """Hammarström et al. 2020 raw data: about 9 % from the first to the second test."""
    assert 7.0 < learning_jump_pct("legext") < 12.0
    for reading in trend_readings(POLICY):
        if reading.time != "week9":  # few legs, and tests four weeks apart
            assert reading.with_rule < 0.85 * reading.without_rule
            assert reading.with_rule < 1.1 * reading.growth
            assert reading.covered_with > 0.7


def test_trends_hold_what_strength_did_and_the_words_come_true() -> None:
    """Ranges of 80 % once held 0.95 of it: a quarter as much said, and falls heard too late."""
    found = trend_score(BY_NAME["foreign in everything"], POLICY, lifters=40, seed=3)
    assert 0.74 <= found.held80 <= 0.90
    assert found.falsely <= 0.02
    said, true = np.mean(found.words["sure"], axis=0)
    assert abs(said - true) < 0.05


def test_wrong_sets_are_asked_about_and_bad_ones_are_not() -> None:
    """Once 2.5 of 100 right sets were asked about."""
    found = asking_score(BY_NAME["foreign in everything"], POLICY, lifters=40, seed=3)
    assert found.asked < 1.0
    assert min(found.found.values()) > 0.8
    assert found.found["ten times the load"] == 1.0


def test_after_one_exposure_the_estimate_is_near_what_the_law_allows() -> None:
    shipped, told_law, state = floor_rmse(60, range(3))
    assert state < told_law
    assert shipped < 1.04 * told_law
