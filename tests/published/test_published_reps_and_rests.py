"""Repetitions at a share of 1RM, and from set to set: tables against themselves and data."""

import math
from itertools import pairwise
from statistics import mean, stdev

import pytest

from published import reps_at_load, rests
from studies.open_data import bench_reps_to_failure, one_rm_over_training


def test_nsca_load_chart_both_ways() -> None:
    percents = list(reps_at_load.HANDBOOK_TABLE.value.values())
    assert all(one > other for one, other in pairwise(percents))
    for reps in range(1, 11):
        assert reps_at_load.handbook_reps(reps_at_load.handbook_share(reps)) == reps
    assert reps_at_load.handbook_share(5) == 0.87
    assert reps_at_load.handbook_reps(0.88) == 4
    for share in (0.7, 1.01):
        with pytest.raises(ValueError, match="handbook"):
            reps_at_load.handbook_reps(share)
    with pytest.raises(ValueError, match="handbook"):
        reps_at_load.handbook_share(11)


def test_nsca_table_17_7_tail_falls_in_both_variants() -> None:
    tail = reps_at_load.HANDBOOK_TABLE_TAIL
    assert tail.source.quoted == "from memory"
    assert tail.value[12] == (67, 70)
    for variant in tail.value[12]:
        assert reps_at_load.HANDBOOK_TABLE.value[10] > tail.value[11][0] >= variant
        assert variant > tail.value[15][0]


def test_nsca_testing_chapter_lower_body_steps_are_larger() -> None:
    steps = reps_at_load.ONE_RM_PROTOCOL.value
    assert steps.add_lower_pct[1] > steps.add_upper_pct[1]
    assert steps.after_miss_upper_pct[1] < steps.add_upper_pct[1]
    assert steps.ideal_most_attempts == 5
    assert [high for _, high, _ in steps.warmup] == [10, 5, 3]


def test_nuzzo_2024_means_fall_and_agree_with_measured_bench_within_two() -> None:
    means = reps_at_load.NUZZO_2024_MEANS.value
    assert means[60] > means[70] > means[80] > means[90]
    for share, spread in reps_at_load.MITTER_OWN_DAY.value.items():
        assert abs(means[share] - spread.mean) <= 2.3  # +/-2 is all that is remembered of it


def test_nuzzo_2024_evidence_base() -> None:
    base = reps_at_load.NUZZO_2024_DESIGN.value
    assert (base.tests, base.people, base.groups, base.studies) == (952, 7289, 452, 269)


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


def test_mitter_2022_retest_noise_grows_as_load_falls() -> None:
    retest = reps_at_load.MITTER_RETEST.value
    assert retest[70].error_reps > retest[90].error_reps
    assert retest[70].icc > retest[90].icc


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


def test_cooke_2019_squat_at_70() -> None:
    assert (reps_at_load.COOKE_2019.value.mean, reps_at_load.COOKE_2019.value.sd) == (14, 4)


def test_shimano_2006_squat_60_seen_agrees_with_the_remembered_table() -> None:
    seen, remembered = reps_at_load.SHIMANO_2006_SQUAT_60, reps_at_load.SHIMANO_2006
    assert (seen.source.quoted, remembered.source.quoted) == ("seen", "from memory")
    assert seen.value.mean == remembered.value["squat"][60][0]
    for rows in remembered.value.values():
        assert rows[60] > rows[80] > rows[90]


def test_hoeger_1990_order_of_lifts() -> None:
    """Leg press first and leg curl last at every load; fewer repetitions as load rises."""
    for rows in reps_at_load.HOEGER_1990.value.values():
        assert len(rows) == 7
        for at in (1, 2):
            order = {lift: row[at] or 0.0 for lift, row in rows.items()}
            assert order["leg press"] == max(order.values())
            assert order["leg curl"] == min(order.values())
        for row in rows.values():
            known = [reps for reps in row if reps is not None]
            assert known == sorted(known, reverse=True)


def test_ferrari_2017_and_mayhew_2008_figures() -> None:
    assert sum(reps_at_load.FERRARI_2017.value.values()) == 30
    changed = reps_at_load.MAYHEW_2008.value["change of repetitions at the same share"]
    assert abs(changed.mean) < changed.sd  # no change of the mean; people differ


# ------------------------------------------------------------------------------------- rests


def test_ratamess_2007_longer_rests_lose_less() -> None:
    losses = rests.RATAMESS_2007.value
    assert losses[0.5][1] > losses[2][1] > losses[3][1]


def test_richmond_2004_second_set_ratios() -> None:
    work = {minutes: spread.mean for minutes, spread in rests.RICHMOND_2004.value.items()}
    ratios = [work[minutes] / work[5] for minutes in (1, 3, 5)]
    assert ratios == pytest.approx([0.81, 0.87, 1.00], abs=0.005)


def test_willardson_2005_ratios_to_five_minutes() -> None:
    squat = rests.WILLARDSON_2005.value["squat"]
    bench = rests.WILLARDSON_2005.value["bench press"]
    assert [squat[n] / squat[5] for n in (1, 2)] == pytest.approx([0.78, 0.89], abs=0.006)
    assert [bench[n] / bench[5] for n in (1, 2)] == pytest.approx([0.67, 0.84], abs=0.006)


def test_willardson_2006_load_does_not_matter() -> None:
    p = rests.WILLARDSON_2006.value
    assert p["3 min against 1 and 2 min, p below"] < 0.05 < p["50 % against 80 % of 1RM, p"]


def test_speretta_2012_ratio() -> None:
    totals = rests.SPERETTA_2012.value
    assert totals[1].mean / totals[2].mean == pytest.approx(0.80, abs=0.005)


def test_silva_2014_three_sets_at_70_are_about_27() -> None:
    assert rests.SILVA_2014.value[70].mean == pytest.approx(27, abs=0.5)


def test_mckusick_2015_decay_slows() -> None:
    one, two, three = (spread.mean for spread in rests.MCKUSICK_2015.value)
    assert (two / one, three / two) == pytest.approx((0.84, 0.91), abs=0.005)


def test_orders_of_senna_2011_hernandez_2021_rahimi_2005_kraemer_1997() -> None:
    assert rests.SENNA_2011.value[1] < rests.SENNA_2011.value[3] == rests.SENNA_2011.value[5]
    assert [m for m, held in rests.HERNANDEZ_2021.value.items() if held] == [8]
    assert list(rests.RAHIMI_2005.value) == sorted(rests.RAHIMI_2005.value, reverse=True)
    assert sum(rests.KRAEMER_1997.value[1]) < sum(rests.KRAEMER_1997.value[3]) == 30


def test_singer_2024_no_clear_effect_of_rest_on_growth() -> None:
    for name in ("arm, longer minus shorter", "thigh, longer minus shorter"):
        effect = rests.SINGER_2024.value[name]
        assert effect.low < 0 < effect.estimate < effect.high
