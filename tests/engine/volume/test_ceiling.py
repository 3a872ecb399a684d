"""The ceiling belief against brute-force Bayes, and the properties a coach relies on."""

import math
from datetime import date, timedelta
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blockwright.engine.training import MUSCLES
from blockwright.engine.volume import (
    CeilingBelief,
    WeekRecovery,
    ceiling_prior,
    floor_sets,
)
from blockwright.files.policy_files import default_policy

POLICY = default_policy()
PRIOR = ceiling_prior("quads", "intermediate", "maintenance", POLICY)
MONDAY = date(2027, 1, 4)

weekly = st.floats(1.0, 40.0)
probability = st.floats(0.0, 1.0)
histories = st.lists(st.tuples(weekly, probability), max_size=8)
quick = settings(deadline=None, derandomize=True, max_examples=40)


def after(history: list[tuple[float, float]], belief: CeilingBelief = PRIOR) -> CeilingBelief:
    for sets, p_recovered in history:
        belief = belief.updated(sets, p_recovered, POLICY)
    return belief


def brute_force(history: list[tuple[float, float]]) -> tuple[float, float]:
    """Mean and SD of ln C by direct summation on a grid of its own, fifty times finer."""
    normal = NormalDist()
    ln_c = [math.log(3) + i * math.log(20) / 6000 for i in range(6001)]
    mass = []
    for value in ln_c:
        weight = math.exp(-((value - math.log(16)) ** 2) / (2 * 0.45**2))
        for sets, p in history:
            failed = 0.03 + 0.94 * normal.cdf((math.log(sets) - value) / 0.30)
            weight *= p * (1 - failed) + (1 - p) * failed
        mass.append(weight)
    total = math.fsum(mass)
    mean = math.fsum(m * v for m, v in zip(mass, ln_c, strict=True)) / total
    var = math.fsum(m * (v - mean) ** 2 for m, v in zip(mass, ln_c, strict=True)) / total
    return mean, math.sqrt(var)


@pytest.mark.parametrize(
    "history",
    [
        [],
        [(10, 1.0)],
        [(10, 1.0), (14, 1.0), (18, 0.0)],
        [(8, 0.9), (10, 0.7), (12, 0.55), (14, 0.2), (12, 0.8)],
        [(20, 0.0)] * 6,
    ],
)
def test_posterior_equals_brute_force_bayes(history: list[tuple[float, float]]) -> None:
    mean, sd = brute_force(history)
    belief = after(history)
    assert belief.ln_mean == pytest.approx(mean, abs=0.002)
    assert belief.ln_sd == pytest.approx(sd, abs=0.002)


def test_prior_is_the_stated_one() -> None:
    assert PRIOR.median == pytest.approx(16, rel=0.005)
    assert PRIOR.ln_sd == pytest.approx(0.45, abs=0.01)
    assert PRIOR.at_least == pytest.approx(16 * math.exp(-1.2816 * 0.45), rel=0.02)


def test_every_muscle_has_a_prior_and_food_and_years_move_it() -> None:
    for muscle in MUSCLES:
        fed = ceiling_prior(muscle, "advanced", "surplus", POLICY)
        starved = ceiling_prior(muscle, "novice", "deficit", POLICY)
        assert starved.median < fed.median


@quick
@given(histories, weekly)
def test_a_week_not_recovered_from_lowers_and_one_recovered_from_raises(
    history: list[tuple[float, float]], sets: float
) -> None:
    belief = after(history)
    assert belief.updated(sets, 0.0, POLICY).ln_mean <= belief.ln_mean + 1e-12
    assert belief.updated(sets, 1.0, POLICY).ln_mean >= belief.ln_mean - 1e-12


@quick
@given(histories, weekly, probability, probability)
def test_the_surer_the_recovery_the_higher_the_ceiling(
    history: list[tuple[float, float]], sets: float, one: float, other: float
) -> None:
    belief = after(history)
    less, more = sorted((one, other))
    assert (
        belief.updated(sets, less, POLICY).ln_mean
        <= belief.updated(sets, more, POLICY).ln_mean + 1e-12
    )


@quick
@given(histories)
def test_order_of_weeks_does_not_matter(history: list[tuple[float, float]]) -> None:
    assert np.allclose(after(history).weights, after(history[::-1]).weights, atol=1e-12)


@quick
@given(histories, weekly)
def test_an_even_chance_and_an_empty_week_say_nothing(
    history: list[tuple[float, float]], sets: float
) -> None:
    belief = after(history)
    assert np.allclose(belief.updated(sets, 0.5, POLICY).weights, belief.weights, atol=1e-12)
    assert belief.updated(0.0, 0.0, POLICY) is belief


@quick
@given(histories, st.floats(0.02, 0.98), st.floats(0.02, 0.98))
def test_quantiles_are_ordered_and_inverse_to_p_overshoots(
    history: list[tuple[float, float]], one: float, other: float
) -> None:
    belief = after(history)
    low, high = sorted((one, other))
    assert belief.quantile(low) <= belief.quantile(high)
    assert belief.p_overshoots(belief.quantile(low)) == pytest.approx(low, abs=0.001)


def test_at_least_until_a_failure_is_seen() -> None:
    climbing = after([(10, 0.9), (12, 0.8), (14, 0.7)])
    assert climbing.at_least is not None
    assert climbing.at_least > PRIOR.quantile(0.1)
    failed = climbing.updated(18, 0.2, POLICY)
    assert failed.at_least is None
    assert failed.failure_seen
    assert failed.updated(14, 0.9, POLICY).at_least is None


def test_prescription_stands_a_quarter_sd_under_the_middle() -> None:
    belief = after([(12, 1.0), (18, 0.0)])
    expected = math.exp(belief.ln_mean - 0.25 * belief.ln_sd)
    assert belief.prescribed_sets(POLICY) == pytest.approx(expected, rel=1e-12)
    assert belief.prescribed_sets(POLICY) < belief.median


@quick
@given(histories, st.floats(1.0, 50.0), st.floats(1.0, 3.0))
def test_more_sets_are_never_likelier_to_be_recovered_from(
    history: list[tuple[float, float]], sets: float, times: float
) -> None:
    belief = after(history)
    assert belief.p_recovered(sets * times, POLICY) <= belief.p_recovered(sets, POLICY) + 1e-12
    assert belief.p_recovered(0.0, POLICY) == 1.0


def test_time_away_widens_towards_the_prior_and_never_past_it() -> None:
    learnt = after([(12, 1.0), (16, 1.0), (20, 1.0), (24, 0.0)] * 3)
    spans = [learnt.widened(days, POLICY) for days in (0, 30, 90, 365, 1000, 8000)]
    sds = [belief.ln_sd for belief in spans]
    means = [belief.ln_mean for belief in spans]
    assert sds == sorted(sds)
    assert means == sorted(means, reverse=True)
    assert sds[-1] == pytest.approx(PRIOR.ln_sd, abs=0.01)
    assert means[-1] == pytest.approx(PRIOR.ln_mean, abs=0.02)


def test_widening_equals_the_stationary_process_it_claims_to_be() -> None:
    """Mean and variance of an Ornstein-Uhlenbeck step, in closed form."""
    learnt = after([(12, 1.0), (16, 0.0)] * 3)
    kept = math.exp(-200 / 720)
    wide = learnt.widened(200, POLICY)
    mean = PRIOR.prior_ln_mean + kept * (learnt.ln_mean - PRIOR.prior_ln_mean)
    var = kept**2 * learnt.ln_sd**2 + 0.45**2 * (1 - kept**2)
    assert wide.ln_mean == pytest.approx(mean, abs=0.01)
    assert wide.ln_sd == pytest.approx(math.sqrt(var), abs=0.01)


def test_replay_carries_over_blocks_and_forgets_only_long_gaps() -> None:
    carried = PRIOR
    for number, sets, p in ((0, 10, 0.9), (1, 12, 0.9), (2, 15, 0.3)):
        day = MONDAY + timedelta(weeks=number)
        carried = carried.after(WeekRecovery(day=day, sets=sets, p_recovered=p), POLICY)
    plain = after([(10, 0.9), (12, 0.9), (15, 0.3)])
    soon, later = (carried.on(MONDAY + timedelta(weeks=weeks), POLICY) for weeks in (3, 30))
    assert np.array_equal(soon.weights, plain.weights)
    assert later.ln_sd > soon.ln_sd
    assert later.failure_seen


def test_nonsense_is_refused() -> None:
    with pytest.raises(ValueError, match="probability"):
        PRIOR.updated(10, 1.2, POLICY)
    with pytest.raises(ValueError, match="quantile"):
        PRIOR.quantile(1.0)


def test_floor_is_the_published_four_sets() -> None:
    """Pelland et al. 2025 (from memory): about 4 fractional sets for detectable growth."""
    assert floor_sets(POLICY) == 4
