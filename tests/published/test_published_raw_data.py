"""Printed figures against the raw data they were computed from."""

import math
from statistics import mean, stdev

import pytest

from published import reps_at_load
from studies.open_data import bench_reps_to_failure, one_rm_over_training


@pytest.mark.parametrize("share", [90, 80, 70])
def test_mitter_2022_raw_repetitions(share: int) -> None:
    men = bench_reps_to_failure()
    for printed, done in (
        (reps_at_load.MITTER_OWN_DAY, [man.reps_own_day[share] for man in men]),
        (reps_at_load.MITTER_ONE_VISIT, [man.reps_one_visit[share] for man in men]),
    ):
        assert mean(done) == pytest.approx(printed.value[share].mean, abs=0.005)
        assert stdev(done) == pytest.approx(printed.value[share].sd, abs=0.005)
    differences = [man.reps_own_day[share] - man.reps_one_visit[share] for man in men]
    printed_sd = reps_at_load.MITTER_DIFFERENCE_SD.value[share]
    assert stdev(differences) == pytest.approx(printed_sd, abs=0.005)


def test_mitter_2022_ranges_and_loads() -> None:
    men = bench_reps_to_failure()
    expected = {90: (2, 6), 80: (8, 12), 70: (14, 21)}
    for share, (low, high) in expected.items():
        done = [man.reps_own_day[share] for man in men]
        assert (min(done), max(done)) == (low, high), share
        for man in men:
            assert man.load_kg[share] == pytest.approx(share / 100 * man.one_rm_kg, abs=1.3)


def test_hammarstrom_2020_learning_jump_between_the_first_two_tests() -> None:
    """Pre to session 1, included participants: mean change and typical error of its logarithm."""
    loads = {
        (test.exercise, test.participant, test.leg, test.time): test.load_kg
        for test in one_rm_over_training()
        if test.load_kg is not None and test.included
    }
    for exercise, jump_pct, typical_error in (("legpress", 9.5, 4.8), ("legext", 8.8, 8.3)):
        ratios = [
            loads[exercise, who, leg, "session1"] / first
            for (lift, who, leg, time), first in loads.items()
            if lift == exercise and time == "pre" and (exercise, who, leg, "session1") in loads
        ]
        assert 100 * (mean(ratios) - 1) == pytest.approx(jump_pct, abs=0.05)
        logs = [100 * math.log(ratio) for ratio in ratios]
        assert stdev(logs) / math.sqrt(2) == pytest.approx(typical_error, abs=0.05)
