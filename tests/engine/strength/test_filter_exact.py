"""The filter against three things that know better: statsmodels, brute force, particles."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from blockwright.engine.strength.curve import count_variance, psi, reps_at
from blockwright.engine.strength.filter import step
from blockwright.engine.strength.law import LiftPrior, StrengthLaw, strength_law
from blockwright.engine.strength.state import XX, B, D, F, FilterState, SetInput, X, new_state
from blockwright.files.policy_files import default_policy
from studies.posterior_study import posterior_gaps

Floats = NDArray[np.float64]
LAW = strength_law(default_policy())
LAW = replace(LAW, offset=replace(LAW.offset, sd=0.0), wander_power=0.0, drift_sd=0.0)
"""One lift alone, its endurance spread as shipped, wandering in kilograms by a drift that is known:
what these tests know exactly."""


def set_input(
    *, load: float, reps: float, rir: float = 0.0, gap: float = 0.0, new: bool = False,
    rest: float = 150.0,
) -> SetInput:  # fmt: skip
    zero = np.zeros(1)
    return SetInput(
        gap_days=np.array([gap]),
        new_session=np.array([new]),
        rest_s=np.array([rest]),
        ln_load=np.log(np.array([load])),
        reps=np.array([reps]),
        rir=np.array([rir]),
        rir_extra_variance=zero,
        to_failure=np.array([1.0 if rir == 0 else 0.0]),
        evidence=np.array([True]),
        confirmed=np.array([False]),
        beyond=np.array([False]),
        parts_s=zero,
        parts_fast=zero,
        parts_slow=zero,
    )


def linear_law() -> StrengthLaw:
    """The special case without bends: one node, psi straight, noise free of repetitions."""
    return replace(
        LAW,
        nodes=1,
        curve_power=1.0,
        fatigue_sd=0.0,
        learning_sd=0.0,
        noise=replace(LAW.noise, reps_slope=0.0, rir_long_slope=0.0),
        robust=replace(LAW.robust, on=False),
    )


PRIOR = LiftPrior(
    endurance_mean=0.0, endurance_sd=0.0, phi=0.265, process_sd_per_sqrt_day=0.0065,
    noise_scale=1.0,
)  # fmt: skip


def linear_log() -> list[SetInput]:
    rng = np.random.default_rng(4)
    log: list[SetInput] = []
    for session in range(25):
        gap = float(rng.choice([2, 4, 7, 25])) if session else 0.0
        for number in range(int(rng.integers(1, 5))):
            log.append(
                set_input(
                    load=float(rng.uniform(60, 100)), reps=float(rng.integers(3, 14)),
                    rir=float(rng.integers(0, 4)), gap=gap if number == 0 else 0.0,
                    new=number == 0, rest=float(rng.uniform(60, 240)),
                )
            )  # fmt: skip
    return log


def test_equals_statsmodels_on_the_linear_case() -> None:
    """Means and covariances of all four states, to 1e-8, over uneven days and gaps."""
    law, log = linear_law(), linear_log()
    states: list[FilterState] = []
    tired: list[float] = []
    state = new_state([PRIOR], law)
    for one in log:
        before = state
        state, _, _ = step(state, one, law)
        fatigue = 0.0
        if not one.new_session[0]:
            fatigue = float(
                before.fast[0] * np.exp(-one.rest_s[0] / law.fatigue.fast_tau_s)
                + before.slow[0] * np.exp(-one.rest_s[0] / law.fatigue.slow_tau_s)
            )
        tired.append(fatigue)
        states.append(state)
    result = statsmodels_filter(law, log[1:], tired[1:], states[0])
    for number, mine in enumerate(states[1:]):
        mean, cov = result.filtered_state[:, number], result.filtered_state_cov[:, :, number]
        assert mine.mean[[X, D, B], 0, 0] == pytest.approx(mean[[X, D, B]], abs=1e-8)
        assert mine.whole_cov[:, :, 0, 0] == pytest.approx(cov, abs=1e-8)
        assert mine.mean[F, 0, 0] == pytest.approx(np.log(PRIOR.phi))


def statsmodels_filter(
    law: StrengthLaw, log: list[SetInput], tired: list[float], start: FilterState
) -> object:
    """The same model written as textbook matrices."""
    count, kappa, phi = len(log), law.kappa, PRIOR.phi
    seen, design = np.zeros((1, count)), np.zeros((1, 4, count))
    noise = np.zeros((1, 1, count))
    for number, one in enumerate(log):
        reps, rir = float(one.reps[0]), float(one.rir[0])
        failure = rir == 0
        design[0, :, number] = [1.0, 1.0, 0.0, -kappa * rir]
        seen[0, number] = one.ln_load[0] + kappa * (reps + rir - 1.0) + phi * tired[number]
        said = 0.0 if failure else (law.noise.rir + law.noise.rir_slope * rir) ** 2
        rounding = (1.0 if failure else 2.0) / 12.0
        noise[0, 0, number] = kappa**2 * (law.noise.reps**2 + said + rounding)
    # A second's import, which every process that only collects this file would pay.
    from statsmodels.tsa.statespace.kalman_filter import KalmanFilter

    move, shift, spread = textbook_moves(law, log)
    model = KalmanFilter(k_endog=1, k_states=4)
    model.bind(seen)
    model["design"], model["obs_cov"] = design, noise
    model["transition"], model["state_intercept"] = move, shift
    model["selection"], model["state_cov"] = np.eye(4), spread
    # statsmodels moves after each observation: the first move happens before it
    mean = move[:, :, -1] @ start.mean[:, 0, 0] + shift[:, -1]
    cov = move[:, :, -1] @ start.whole_cov[:, :, 0, 0] @ move[:, :, -1].T + spread[:, :, -1]
    model.initialize_known(mean, cov)
    return model.filter()


def textbook_moves(law: StrengthLaw, log: list[SetInput]) -> tuple[Floats, Floats, Floats]:
    """Transition, intercept and noise of the move after each set (the last entry: before all)."""
    count = len(log)
    move = np.repeat(np.eye(4)[:, :, None], count, axis=2)
    shift, spread = np.zeros((4, count)), np.zeros((4, 4, count))
    for number, one in enumerate(log):
        at = (number - 1) % count
        if one.new_session[0]:
            gap = float(one.gap_days[0])
            move[D, D, at] = 0.0
            spread[D, D, at] = law.day_sd**2
            spread[X, X, at] = PRIOR.process_sd_per_sqrt_day**2 * gap
            idle = max(gap - law.drift_days, 0.0)
            shift[X, at] = law.drift_per_day * min(gap, law.drift_days)
            shift[X, at] -= min(law.detraining_per_day * idle, law.detraining_cap)
    return move, shift, spread


@pytest.mark.parametrize(
    ("load", "second_load", "first", "second"),
    [(80.0, 80.0, 8, 9), (80.0, 100.0, 10, 3), (60.0, 90.0, 15, 4), (100.0, 70.0, 3, 12)],
)
def test_equals_a_brute_force_posterior(
    load: float, second_load: float, first: int, second: int
) -> None:
    """Two sessions of one set to failure: every value of 1RM, endurance and day on a grid."""
    law = replace(LAW, learning_sd=0.0, robust=replace(LAW.robust, on=False))
    prior = LiftPrior(
        endurance_mean=-0.01, endurance_sd=0.235, phi=0.265, process_sd_per_sqrt_day=0.0065,
        noise_scale=1.0,
    )  # fmt: skip
    state = new_state([prior], law)
    state, _, _ = step(state, set_input(load=load, reps=first, new=True), law)
    state, _, _ = step(state, set_input(load=second_load, reps=second, gap=7.0, new=True), law)
    weight = np.exp(state.log_weight[:, 0])
    weight /= weight.sum()
    mean = weight @ state.mean[X, :, 0]
    sd = np.sqrt(weight @ (state.cov[XX, :, 0] + (state.mean[X, :, 0] - mean) ** 2))
    exact_mean, exact_sd = brute_force(law, prior, load, second_load, first, second)
    assert abs(mean - exact_mean) < 0.20 * exact_sd
    assert sd / exact_sd == pytest.approx(1.0, abs=0.06)


def brute_force(
    law: StrengthLaw, prior: LiftPrior, load: float, second_load: float, first: int, second: int
) -> tuple[float, float]:
    """Mean and SD of ln(1RM) in the second session, by summing over a fine grid."""
    a = np.linspace(-4, 4, 81) * prior.endurance_sd + prior.endurance_mean
    kappa = law.kappa * np.exp(a)[None, :, None]
    x = np.linspace(np.log(load) - 0.2, np.log(load) + 1.6, 361)[:, None, None]
    day = np.linspace(-4, 4, 41)[None, None, :] * law.day_sd

    def ln_likelihood(ln_today: Floats, ln_load: float, reps: int) -> Floats:
        m = reps_at((ln_today - ln_load) / kappa, law.curve_power)
        one = np.ones(())
        variance = count_variance(m, np.full((), float(reps)), 0.0 * one, one, law.noise)
        return -0.5 * (reps - m) ** 2 / variance - 0.5 * np.log(variance)

    # session one: flat in the repetitions at the chosen load, so 1 / (d x / d m) beside x
    today = x + day
    m_first = reps_at((today - np.log(load)) / kappa, law.curve_power)
    slope = np.abs(psi(m_first + 1e-4, law.curve_power) - psi(m_first - 1e-4, law.curve_power))
    ln_first = ln_likelihood(today, np.log(load), first) - np.log(kappa * slope)
    ln_first = ln_first - 0.5 * (day / law.day_sd) ** 2
    ln_first = (
        ln_first - 0.5 * ((a[None, :, None] - prior.endurance_mean) / prior.endurance_sd) ** 2
    )
    joint = np.exp(ln_first - ln_first.max()).sum(axis=2)  # over the first day's effect
    drift, spread = 7.0 * law.drift_per_day, prior.process_sd_per_sqrt_day * np.sqrt(7.0)
    step_x = x[:, 0, 0][:, None] - x[:, 0, 0][None, :]
    moved = np.exp(-0.5 * ((step_x - drift) / spread) ** 2) @ joint
    like = np.exp(ln_likelihood(today, np.log(second_load), second))
    like = (like * np.exp(-0.5 * (day / law.day_sd) ** 2)).sum(axis=2)
    posterior = (moved * like).sum(axis=1)
    posterior /= posterior.sum()
    mean = float(posterior @ x[:, 0, 0])
    return mean, float(np.sqrt(posterior @ (x[:, 0, 0] - mean) ** 2))


def test_near_the_exact_posterior() -> None:
    """studies/data/posterior_reference.json (400,000 particles), the targets of the design."""
    gaps = posterior_gaps(default_policy())
    errors = np.array([abs(gap.error_sd) for gap in gaps])
    assert len(gaps) == 40
    assert errors.mean() <= 0.20
    assert np.quantile(errors, 0.95) <= 0.5
    assert 0.95 <= np.mean([gap.sd_ratio for gap in gaps]) <= 1.05


def test_the_jacobian_keeps_endurance_from_collapsing() -> None:
    """Without the density's change of scale kappa shrinks and 1RM reads 11-13 % low."""
    law = replace(LAW, robust=replace(LAW.robust, on=False))
    prior = replace(PRIOR, endurance_sd=0.235)
    rng = np.random.default_rng(8)
    state = new_state([prior], law)
    for session in range(30):
        load = float(rng.choice([60.0, 70.0, 80.0]))
        m = reps_at(np.array(np.log(100.0 / load) / law.kappa), law.curve_power)
        reps = float(np.round(m + rng.normal(0.0, 0.8)))
        one = set_input(load=load, reps=reps, gap=0.5 if session else 0.0, new=True)
        state, _, _ = step(state, one, law)
    weight = np.exp(state.log_weight[:, 0])
    found = np.exp((weight / weight.sum()) @ state.mean[X, :, 0])
    assert found == pytest.approx(100.0, rel=0.06)
