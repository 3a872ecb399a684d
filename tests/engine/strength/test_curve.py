"""The repetitions curve against what it was fitted to, and its arithmetic."""

import numpy as np
import pytest

from blockwright.engine.strength.curve import count_variance, psi, psi_with_slope, reps_at
from blockwright.engine.strength.law import lift_prior, strength_law
from blockwright.engine.strength.mixture import mixture_quantiles, normal_cdf, tailed_cdf
from blockwright.files.policy_files import default_policy
from published.reps_at_load import NUZZO_2024_MEANS, handbook_share
from studies.lifters import trial_lift

LAW = strength_law(default_policy())


@pytest.mark.parametrize(("share", "reps"), [(0.9, 4.5), (0.8, 8.9), (0.7, 14.1), (0.6, 20.3)])
def test_reps_of_the_middle_lifter(share: float, reps: float) -> None:
    """Near Nuzzo et al. 2024, whose means are remembered within two repetitions."""
    found = float(reps_at(np.array(-np.log(share) / LAW.kappa), LAW.curve_power))
    assert found == pytest.approx(reps, abs=0.1)
    assert found == pytest.approx(NUZZO_2024_MEANS.value[round(100 * share)], abs=2)


def test_handbook_chart_within_one_repetition() -> None:
    """Baechle & Earle load chart (published/reps_at_load.py), 2 to 10 repetitions: rms 0.82."""
    reps = np.arange(2, 11)
    shares = np.array([handbook_share(int(m)) for m in reps])
    found = reps_at(-np.log(shares) / LAW.kappa, LAW.curve_power)
    assert np.sqrt(np.mean((found - reps) ** 2)) < 0.9


def test_inverse_and_slope() -> None:
    m = np.linspace(-3.0, 40.0, 87)
    assert reps_at(psi(m, 0.92), 0.92) == pytest.approx(m)
    far = m[np.abs(m - 1.0) > 0.3]
    steps = (psi(far + 1e-5, 0.92) - psi(far - 1e-5, 0.92)) / 2e-5
    assert psi_with_slope(far, 0.92)[1] == pytest.approx(steps, rel=1e-5)
    assert np.isfinite(psi_with_slope(np.array([1.0]), 0.92)).all()


def test_noise_grows_with_reserve_and_length() -> None:
    m, no = np.array([10.0, 10.0, 10.0, 25.0]), np.array([0.0, 0.0, 1.0, 0.0])
    variance = count_variance(m, m - [4, 1, 0, 4], np.array([4.0, 1.0, 0.0, 4.0]), no, LAW.noise)
    assert variance[2] < variance[1] < variance[0] < variance[3]


def test_groups_keep_the_published_order() -> None:
    """Hoeger et al. 1990 (from memory): leg press > bench > leg extension > leg curl."""
    lifts = (
        trial_lift(fatigue_group="leg_press"),
        trial_lift(),
        trial_lift(fatigue_group="single_joint", muscles={"quads": 1.0}),
        trial_lift(fatigue_group="single_joint", muscles={"hamstrings": 1.0}),
    )
    means = [lift_prior(lift, default_policy()).endurance_mean for lift in lifts]
    assert means == sorted(means)
    assert len(set(means)) == len(means)


def test_distribution_functions_agree_with_scipy() -> None:
    from scipy import stats

    z = np.linspace(-7.0, 7.0, 501)
    assert normal_cdf(z) == pytest.approx(stats.norm.cdf(z), abs=2e-7)
    stretch = stats.t.ppf(0.9, 8) / stats.norm.ppf(0.9)
    assert tailed_cdf(z, 8.0) == pytest.approx(stats.t.cdf(z * stretch, 8), abs=2e-5)


def test_mixture_quantiles_invert_the_mixture() -> None:
    weights, means, sds = np.array([0.3, 0.7]), np.array([0.0, 2.0]), np.array([1.0, 0.5])
    found = mixture_quantiles(weights, means, sds, (0.1, 0.5, 0.9))
    for probability, value in zip((0.1, 0.5, 0.9), found, strict=True):
        below = float(weights @ normal_cdf((value - means) / sds))
        assert below == pytest.approx(probability, abs=1e-4)
