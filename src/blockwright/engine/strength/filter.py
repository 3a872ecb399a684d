"""The filter: a mixture of Kalman filters over a lifter's endurance on one lift.

Each node fixes kappa (endurance) and carries a Gaussian over [x, d, f, b]: ln(1RM) in kg, the
day's effect, ln(phi), the RIR bias. A set observes ln(load) + kappa psi(m) = x + d - phi u with
m = reps + (1 + b) RIR; its likelihood carries the Jacobian kappa psi'(m), without which kappa
collapses. One implementation serves one lifter and thousands: the last axis is the series.

Shapes stand in `state.py`. Functions return new states and never write into their arguments.
"""

from dataclasses import replace

import numpy as np

from blockwright.engine.fatigue import dose
from blockwright.engine.strength.curve import count_variance, psi, psi_slope, reps_at
from blockwright.engine.strength.law import LB_PER_KG_LN, StrengthLaw
from blockwright.engine.strength.levels import remembered, shift_of
from blockwright.engine.strength.mixture import mixed, mixture_weights
from blockwright.engine.strength.moves import drifted, moved_variance
from blockwright.engine.strength.state import (
    B,
    Bools,
    D,
    F,
    FilterState,
    Floats,
    Outcome,
    Prediction,
    SetInput,
    X,
)

REFERENCE_REPS = 8.0
"""Sessions are compared at the load for this many repetitions to failure: in the middle of usual
sets, so that what is learnt of endurance hardly moves it (the 1RM itself would move)."""


MOST_EXPECTED_REPS = 30.0
"""No set tires as if it were longer; a flagged set that should have allowed more was done with
another load than written."""

FEW_SETS = 3
"""A level that rests on fewer sets gives way to two that agree, whatever the jump."""


def advanced(
    state: FilterState, gap_days: Floats, new_session: Bools, law: StrengthLaw
) -> FilterState:
    """The state `gap_days` later: drift, detraining, wider; a new session has a new day effect."""
    if not new_session.any():
        return state
    days = np.maximum(gap_days, 0.0)
    idle = np.maximum(days - law.drift_days, 0.0)
    worth = state.worth
    trained = np.where(new_session, np.minimum(days, law.drift_days), 0.0)
    change = state.drift * trained + state.drift_owed
    change = change - np.minimum(law.detraining_per_day * idle, law.detraining_cap)
    variance = worth * worth * state.process_variance * days
    variance = variance + np.where(days > law.long_gap_days, law.long_gap_sd**2, 0.0)
    learning = new_session & (state.exposures >= 1)
    learning &= state.exposures <= law.learning_exposures
    variance = variance + np.where(learning, law.learning_sd**2, 0.0)
    same = np.where(new_session, 0.0, 1.0)
    mean, cov = state.mean.copy(), state.cov.copy()
    mean[X] += np.where(new_session, change, 0.0)
    mean[D] *= same
    cov[D] *= same
    cov[:, D] *= same
    cov[D, D] += (1.0 - same) * (worth * law.day_sd) ** 2
    cov[X, X] += np.where(new_session, variance, 0.0)
    return replace(
        state,
        mean=mean,
        cov=cov,
        fast=state.fast * same,
        slow=state.slow * same,
        lean=state.lean * same,
        lean_sets=np.where(new_session, 0, state.lean_sets),
        off=state.off * same,
        drift_lag=state.drift_lag + trained,
        drift_owed=state.drift_owed * same,
        exposures=state.exposures + new_session,
    )


def rested(state: FilterState, rest_s: Floats, law: StrengthLaw) -> FilterState:
    """The state after a rest within the session."""
    return replace(
        state,
        fast=state.fast * np.exp(-rest_s / law.fatigue.fast_tau_s),
        slow=state.slow * np.exp(-rest_s / law.fatigue.slow_tau_s),
    )


def prediction(state: FilterState, fatigue: Floats) -> Prediction:
    """What the state expects of a set done with this much fatigue."""
    loss_slope = np.exp(state.mean[F]) * fatigue
    return _predicted(state, loss_slope, _with_capacity(state.cov, loss_slope))


def _with_capacity(cov: Floats, loss_slope: Floats) -> Floats:
    """Covariance of x, d, f, b with the capacity x + d - phi u: (4, nodes, series)."""
    toward: Floats = cov[X] + cov[D] - loss_slope * cov[F]
    return toward


def _predicted(state: FilterState, loss_slope: Floats, toward: Floats) -> Prediction:
    return Prediction(
        weight=mixture_weights(state.log_weight),
        kappa=state.kappa,
        capacity=state.mean[X] + state.mean[D] - loss_slope,
        capacity_variance=toward[X] + toward[D] - loss_slope * toward[F],
        capacity_bias_cov=toward[B],
        bias=state.mean[B],
        bias_variance=state.cov[B, B],
        noise_scale=state.noise_scale,
        known=state.started,
    )


def expected_reps(predicted: Prediction, ln_load: Floats, rir: Floats, power: float) -> Floats:
    """Expected repetitions, real-valued and not below zero, at this load and said RIR."""
    to_failure = reps_at((predicted.capacity - ln_load) / predicted.kappa, power)
    reps = mixed(predicted.weight, to_failure - (1.0 + predicted.bias) * rir)
    return np.asarray(np.maximum(reps, 0.0))


def observed(
    state: FilterState, one: SetInput, law: StrengthLaw
) -> tuple[FilterState, Prediction, Outcome]:
    """One set folded in. `state` must already be advanced and rested to the set's start."""
    written, shift = one, shift_of(state, one.ln_load)
    if shift is not None:
        one = replace(one, ln_load=one.ln_load - shift)
    loss_slope = np.exp(state.mean[F]) * (state.fast + state.slow)
    toward = _with_capacity(state.cov, loss_slope)
    predicted = _predicted(state, loss_slope, toward)
    said = 1.0 - one.to_failure
    rir = one.rir * said
    m = np.maximum(one.reps + (1.0 + predicted.bias) * rir, 0.0)
    slope = state.kappa * psi_slope(m, law.curve_power)
    seen = one.ln_load + state.kappa * psi(m, law.curve_power)
    noise = count_variance(m, one.reps, rir, one.to_failure, law.noise) + one.rir_extra_variance
    noise = noise * slope * slope * state.noise_scale
    error = seen - predicted.capacity
    bias_slope = -slope * rir
    gain_top = toward + bias_slope * state.cov[B]  # cov H'
    spread = predicted.capacity_variance + bias_slope * (toward[B] + gain_top[B]) + noise
    outcome = _judged(state, one, predicted, error, spread, noise, law)
    moved, state = moved_variance(state, predicted.weight, spread, outcome, law)
    kept = _updated(
        state, predicted.weight, error, gain_top, spread, noise, slope, moved, outcome, law
    )
    kept = _pending(kept, state, one, outcome)
    starting = outcome.used & (~state.started | outcome.restarted)
    if starting.any():
        # a changed level lies between the two sets that agree on it
        agreed = outcome.restarted & ~one.confirmed
        between = np.where(agreed, state.pending_jump - outcome.jump, 0.0) / 2.0
        seen = seen + np.nan_to_num(between)
        kept = _started(kept, state, seen, loss_slope, bias_slope, noise, starting)
    kept = _tired(kept, one, predicted, outcome, rir, law)
    if law.robust.on:
        kept, outcome = remembered(kept, state, written, outcome, shift, law)
    if shift is not None:
        predicted = replace(predicted, capacity=predicted.capacity + shift)
    return kept, predicted, _concluded(outcome, kept)


def _concluded(outcome: Outcome, kept: FilterState) -> Outcome:
    """The outcome with what is believed of the 1RM after the set."""
    weight = mixture_weights(kept.log_weight)
    mean = mixed(weight, kept.mean[X])
    variance = mixed(weight, kept.cov[X, X] + (kept.mean[X] - mean) ** 2)
    return replace(
        outcome,
        ln_one_rm=np.where(kept.started, mean, np.nan),
        ln_one_rm_sd=np.where(kept.started, np.sqrt(variance), np.nan),
    )


def _judged(
    state: FilterState,
    one: SetInput,
    predicted: Prediction,
    error: Floats,
    spread: Floats,
    noise: Floats,
    law: StrengthLaw,
) -> Outcome:
    """Used, flagged, or a changed level: by the mixture's standardised surprise."""
    weight = predicted.weight
    known = state.started & one.evidence
    z = np.where(known, mixed(weight, error / np.sqrt(spread)), np.nan)
    jump = mixed(weight, error)
    failed = one.evidence & (one.reps == 0.0)
    # a failed attempt only says that the load was too much: no news where that was expected
    empty = failed & ~(known & (z < 0.0))
    shift = state.kappa * psi(np.array(REFERENCE_REPS), law.curve_power)
    fresh = error + state.mean[X] + state.mean[D] - shift
    capacity = mixed(weight, fresh)
    # what endurance leaves open is common to sets of like length: only its share in the surprise
    # of this set tells one session from another
    open_variance = np.where(known, mixed(weight, (error - jump) ** 2), 0.0)
    surprising = np.zeros_like(known)
    restarted = np.zeros_like(known)
    if law.robust.on:
        surprising = known & (np.abs(z) > law.robust.flag_z) & ~one.confirmed & ~empty
        # the further the jump and the longer ago, the less exactly the two need to agree
        later = state.pending_exposure < state.exposures
        close = law.robust.agree_ln * (1.0 + np.abs(jump)) * np.where(later, 2.0, 1.0)
        agrees = np.abs(jump - state.pending_jump) < close
        unit_like = np.abs(np.abs(jump) - LB_PER_KG_LN) < law.robust.agree_ln
        young = state.sets_used < FEW_SETS
        waited = ~unit_like | young | later
        confirmed_jump = known & (np.abs(z) > law.robust.flag_z) & one.confirmed
        restarted = (surprising & agrees & waited) | confirmed_jump
    # what nobody lifts is no level to start from or to go to, however often it is written
    restarted &= ~one.beyond
    flagged = (surprising & ~restarted) | (one.evidence & one.beyond)
    used = one.evidence & ~flagged & ~empty
    variance = mixed(weight, noise) + open_variance
    seen = mixed(weight, fresh + shift)
    unknown = np.full_like(jump, np.nan)
    paired = np.zeros_like(known)
    return Outcome(
        used, flagged, restarted, paired, z, jump, capacity, variance, seen, unknown, unknown
    )


def _updated(
    state: FilterState,
    weight: Floats,
    error: Floats,
    gain_top: Floats,
    spread: Floats,
    noise: Floats,
    slope: Floats,
    moved: Floats | None,
    outcome: Outcome,
    law: StrengthLaw,
) -> FilterState:
    """Scalar Kalman updates at every node where the set is used as an ordinary one."""
    ordinary = outcome.used & state.started & ~outcome.restarted
    z2 = np.where(ordinary, outcome.z, 0.0) ** 2
    scale = state.noise_scale
    if law.robust.on:
        tail = law.robust.tail_freedom
        # a young level may itself be the odd one out: let later sets pull it in full
        doubt = np.where(state.sets_used < FEW_SETS, 0.0, (tail + z2) / (tail + 1.0) - 1.0)
        spread = spread + noise * doubt
        share = np.exp(law.robust.scale_gain * (np.minimum(z2, 9.0) - 1.0))
        scale = np.where(ordinary, np.clip(scale * share, *_scale_bounds(law)), scale)
    if moved is not None:
        spread = spread + moved
        gain_top = np.concatenate([gain_top[:1] + moved, gain_top[1:]])
    gain = gain_top / spread
    state = drifted(state, weight, spread, gain[X], outcome)
    counted = ordinary.astype(np.float64)
    score = np.log(slope) - 0.5 * np.log(spread) - 0.5 * error * error / spread
    if law.robust.on:  # one set that nobody expected says little of the curve
        score = score * np.minimum(law.robust.soft_z**2 / np.maximum(z2, 1.0), 1.0) ** 2
    log_weight = state.log_weight + counted * score
    taken_off = np.max(log_weight, axis=0)
    if not ordinary.all():
        gain = gain * counted
    cov = gain[:, None] * gain_top[None, :]
    np.subtract(state.cov, cov, out=cov)
    if moved is not None:
        cov[X, X] += moved * counted
    return replace(
        state,
        mean=state.mean + gain * error,
        cov=cov,
        log_weight=log_weight - taken_off,
        log_norm=state.log_norm + taken_off,
        noise_scale=scale,
        started=state.started | outcome.used,
        sets_used=state.sets_used + outcome.used,
    )


def _pending(
    kept: FilterState, before: FilterState, one: SetInput, outcome: Outcome
) -> FilterState:
    """The jump another set must agree with to change the level: a flagged set's; after a jump
    that rests on the word "confirmed" alone, the way back."""
    confirmed = outcome.restarted & one.confirmed
    possible = outcome.flagged & ~one.beyond
    jump = np.where(outcome.used, np.nan, before.pending_jump)
    jump = np.where(possible, outcome.jump, jump)
    waits = possible | confirmed
    return replace(
        kept,
        pending_jump=np.where(confirmed, -outcome.jump, jump),
        pending_exposure=np.where(waits, before.exposures, before.pending_exposure),
    )


def _scale_bounds(law: StrengthLaw) -> tuple[float, float]:
    return law.robust.scale_low, law.robust.scale_high


def _started(
    kept: FilterState,
    before: FilterState,
    seen: Floats,
    loss_slope: Floats,
    bias_slope: Floats,
    noise: Floats,
    starting: Bools,
) -> FilterState:
    """x set from this set alone, the rest as it was: the lifter chose the load, so the set says
    nothing of endurance, but x and endurance move together from node to node."""
    mean, cov = kept.mean.copy(), kept.cov.copy()
    rest = before.cov[1:, 1:]
    toward = np.stack([np.ones_like(noise), -loss_slope, bias_slope])  # of d, f, b on what was seen
    across = np.einsum("ijns,jns->ins", rest, toward)
    own = np.einsum("ins,ins->ns", across, toward) + noise
    level = seen - before.mean[D] + loss_slope
    mean[:, :, starting] = before.mean[:, :, starting]
    cov[:, :, :, starting] = before.cov[:, :, :, starting]
    mean[X][:, starting] = level[:, starting]
    cov[X, X][:, starting] = own[:, starting]
    cov[X, 1:][:, :, starting] = -across[:, :, starting]
    cov[1:, X][:, :, starting] = -across[:, :, starting]
    return replace(kept, mean=mean, cov=cov, drift_lag=np.where(starting, 0.0, kept.drift_lag))


def _tired(
    kept: FilterState,
    one: SetInput,
    predicted: Prediction,
    outcome: Outcome,
    rir: Floats,
    law: StrengthLaw,
) -> FilterState:
    """The fatigue the set leaves. A flagged set leaves what its *expected* repetitions would,
    where they are possible at all: else the load is what was mistyped, and the count stands."""
    reps = np.minimum(one.reps, MOST_EXPECTED_REPS)
    if outcome.flagged.any():
        expected = expected_reps(predicted, one.ln_load, rir, law.curve_power)
        possible = predicted.known & (expected >= 1.0) & (expected <= MOST_EXPECTED_REPS)
        reps = np.where(outcome.flagged & possible, expected, reps)
    bias = mixed(predicted.weight, predicted.bias)
    added = dose(reps, reps + (1.0 + bias) * rir, law.fatigue)
    fast_left = np.exp(-one.parts_s / law.fatigue.fast_tau_s)
    slow_left = np.exp(-one.parts_s / law.fatigue.slow_tau_s)
    return replace(
        kept,
        fast=(kept.fast + law.fatigue.fast_share * added) * fast_left + one.parts_fast,
        slow=(kept.slow + (1.0 - law.fatigue.fast_share) * added) * slow_left + one.parts_slow,
    )


def step(
    state: FilterState, one: SetInput, law: StrengthLaw
) -> tuple[FilterState, Prediction, Outcome]:
    """Advance, rest, observe: one set of each series, from the state after its set before."""
    ready = advanced(state, one.gap_days, one.new_session, law)
    ready = rested(ready, np.where(one.new_session, 0.0, one.rest_s), law)
    return observed(ready, one, law)
