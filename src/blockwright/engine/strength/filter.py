"""The filter: a mixture of Kalman filters over a lifter's endurance on one lift.

Each node fixes kappa (endurance) and carries a Gaussian over [x, d, f, b]: ln(1RM) in kg, the
day's effect, ln(phi), the RIR bias. A set observes ln(load) + kappa psi(m) = x + d - phi u with
m = reps + (1 + b) RIR; its likelihood carries the Jacobian kappa psi'(m), without which kappa
collapses. One implementation serves one lifter and thousands: the last axis is the series.

Shapes stand in `state.py`. Functions return new states and never write into their arguments."""

from functools import cache

import numpy as np

from blockwright.engine.fatigue import dose
from .curve import count_variance, psi, psi_with_slope, reps_at
from .law import LB_PER_KG_LN, StrengthLaw
from .levels import recalled, remembered, shift_of
from .mixture import mixed, mixture_weights
from .moves import drifted, moved_variance
from .state import (
    BB,
    DD,
    ROWS,
    XX,
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

SAME_LOAD_LN = 1e-3  # Loads nearer than this in ln are one: pounds were rounded to kilograms

FEW_SETS = 3  # A level that rests on fewer sets gives way to two that agree, whatever the jump


def advanced(
    state: FilterState, gap_days: Floats, new_session: Bools, law: StrengthLaw
) -> FilterState:
    """The state `gap_days` later: drift, detraining, wider; a new session has a new day effect."""
    if not new_session.any():
        return state
    days = np.maximum(gap_days, 0.0)
    idle = np.maximum(days - law.drift_days, 0.0)
    trained = np.where(new_session, np.minimum(days, law.drift_days), 0.0)
    change = state.drift * trained + state.drift_owed
    change = change - np.minimum(law.detraining_per_day * idle, law.detraining_cap)
    unsure = np.where(days > law.long_gap_days, law.long_gap_sd**2, 0.0)
    learning = new_session & (state.exposures >= 1)
    learning &= state.exposures <= law.learning_exposures
    unsure = unsure + np.where(learning, law.learning_sd**2, 0.0)
    new = new_session.astype(np.float64)
    same = 1.0 - new
    mean, cov = state.mean.copy(), state.cov.copy()
    mean[X] += np.where(new_session, change, 0.0)
    mean[D] *= same
    for place in ROWS[D]:
        cov[place] *= same
    cov[DD] += state.worth * (new * law.day_sd**2)
    cov[XX] += state.worth * (new * state.process_variance * days) + new * unsure
    return state.but(
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
    return state.but(
        fast=state.fast * np.exp(-rest_s / law.fatigue.fast_tau_s),
        slow=state.slow * np.exp(-rest_s / law.fatigue.slow_tau_s),
    )


def prediction(state: FilterState, fatigue: Floats) -> Prediction:
    """What the state expects of a set done with this much fatigue."""
    loss_slope = np.exp(state.mean[F]) * fatigue
    return _predicted(state, loss_slope, _with_capacity(state.cov, loss_slope))


def _with_capacity(cov: Floats, loss_slope: Floats) -> Floats:
    """Covariance of x, d, f, b with the capacity x + d - phi u: (4, nodes, series)."""
    toward = np.empty((4, *cov.shape[1:]))
    for into, x, d, f in zip(toward, ROWS[X], ROWS[D], ROWS[F], strict=True):
        np.add(cov[x], cov[d], out=into)
        into -= loss_slope * cov[f]
    return toward


def _predicted(state: FilterState, loss_slope: Floats, toward: Floats) -> Prediction:
    return Prediction(
        weight=state.weight,
        kappa=state.kappa,
        capacity=state.mean[X] + state.mean[D] - loss_slope,
        capacity_variance=toward[X] + toward[D] - loss_slope * toward[F],
        capacity_bias_cov=toward[B],
        bias=state.mean[B],
        bias_variance=state.cov[BB],
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
        one = one.but(ln_load=one.ln_load - shift)
    loss_slope = np.exp(state.mean[F]) * (state.fast + state.slow)
    toward = _with_capacity(state.cov, loss_slope)
    predicted = _predicted(state, loss_slope, toward)
    said = 1.0 - one.to_failure
    rir = one.rir * said
    m = np.maximum(one.reps + (1.0 + predicted.bias) * rir, 0.0)
    seen, slope = psi_with_slope(m, law.curve_power)
    seen, slope = one.ln_load + state.kappa * seen, state.kappa * slope
    bias_slope = slope * -rir
    noise = count_variance(m, one.reps, rir, one.to_failure, law.noise) + one.rir_extra_variance
    noise *= slope * slope
    noise *= state.noise_scale
    error = seen - predicted.capacity
    gain_top = np.empty_like(toward)  # cov H'
    for into, place in zip(gain_top, ROWS[B], strict=True):
        np.multiply(bias_slope, state.cov[place], out=into)
    gain_top += toward
    spread = predicted.capacity_variance + bias_slope * (toward[B] + gain_top[B]) + noise
    level = mixed(predicted.weight, state.mean[X] + state.mean[D])
    outcome = _judged(state, one, predicted.weight, level, error, spread, noise, law)
    moved, state = moved_variance(state, level, spread, outcome, law)
    kept = _updated(
        state, one, predicted.weight, error, gain_top, spread, noise, slope, moved, outcome, law
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
        predicted = predicted.but(capacity=predicted.capacity + shift)
    return kept, predicted, _concluded(outcome, kept)


def _concluded(outcome: Outcome, kept: FilterState) -> Outcome:
    """The outcome with what is believed of the 1RM after the set."""
    weight = kept.weight
    mean = mixed(weight, kept.mean[X])
    variance = mixed(weight, kept.cov[XX] + (kept.mean[X] - mean) ** 2)
    return outcome.but(
        ln_one_rm=np.where(kept.started, mean, np.nan),
        ln_one_rm_sd=np.where(kept.started, np.sqrt(variance), np.nan),
    )


@cache
def _reference(power: float) -> float:
    return float(psi(np.array(REFERENCE_REPS), power))


def _judged(
    state: FilterState,
    one: SetInput,
    weight: Floats,
    level: Floats,
    error: Floats,
    spread: Floats,
    noise: Floats,
    law: StrengthLaw,
) -> Outcome:
    """Used, flagged, or a changed level: by the mixture's standardised surprise. `level` is
    ln(1RM) on the day."""
    known = state.started & one.evidence
    z = np.where(known, mixed(weight, error / np.sqrt(spread)), np.nan)
    jump = mixed(weight, error)
    failed = one.evidence & (one.reps == 0.0)
    # a failed attempt only says that the load was too much: no news where that was expected
    empty = failed & ~(known & (z < 0.0))
    seen = level + jump
    capacity = seen - _reference(law.curve_power) * mixed(weight, state.kappa)
    # what endurance leaves open is common to sets of like length: only its share in the surprise
    # of this set tells one session from another
    open_variance = np.where(known, mixed(weight, (error - jump) ** 2), 0.0)
    nowhere = np.zeros_like(known)
    surprising, restarted = nowhere, nowhere
    far = known & ((np.abs(z) > law.robust.flag_z) | recalled(state, one, jump, law))
    if law.robust.on and far.any():
        surprising = far & ~one.confirmed & ~empty
        # the further the jump and the longer ago, the less exactly the two need to agree
        later = state.pending_exposure < state.exposures
        close = law.robust.agree_ln * (1.0 + np.abs(jump)) * np.where(later, 2.0, 1.0)
        agrees = np.abs(jump - state.pending_jump) < close
        unit_like = np.abs(np.abs(jump) - LB_PER_KG_LN) < law.robust.agree_ln
        young = state.sets_used < FEW_SETS
        waited = ~unit_like | young | later
        restarted = (surprising & agrees & waited) | (far & one.confirmed)
        # what nobody lifts is no level to start from or to go to, however often it is written
        restarted &= ~one.beyond
    flagged = (surprising & ~restarted) | (one.evidence & one.beyond)
    used = one.evidence & ~flagged & ~empty
    variance = mixed(weight, noise) + open_variance
    unknown = np.full_like(jump, np.nan)
    return Outcome(
        used, flagged, restarted, nowhere, z, jump, capacity, variance,
        one.ln_load, state.fast + state.slow, seen, unknown, unknown,
    )  # fmt: skip


def _tells_curve(state: FilterState, one: SetInput) -> Bools:
    """Sets that tell one curve from another: at another load than the set before, to failure or
    not. At one load all curves fit; repetitions that hold as asked would be likeliest on a steep
    one, and the 1RM would rise with every week in which nothing happened."""
    return np.asarray(np.abs(one.ln_load - state.own_load) >= SAME_LOAD_LN)


def _updated(
    state: FilterState,
    one: SetInput,
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
        grown = np.exp(law.robust.scale_gain * (np.minimum(z2, 9.0) - 1.0))
        bounds = law.robust.scale_low, law.robust.scale_high
        scale = np.where(ordinary, np.clip(scale * grown, *bounds), scale)
    if moved is not None:
        spread = spread + moved
        gain_top[X] += moved
    counted = ordinary.astype(np.float64)
    certainty = 1.0 / spread
    score = np.log(slope * slope * certainty)
    score -= error * error * certainty
    told = 0.5 * counted
    if law.robust.on:  # one set that nobody expected says little of the curve
        told *= np.minimum(law.robust.soft_z**2 / np.maximum(z2, 1.0), 1.0) ** 2
        told *= _tells_curve(state, one)
    certainty *= counted
    gain = gain_top * certainty
    state = drifted(state, weight, spread, gain[X], outcome)
    log_weight = state.log_weight + told * score
    taken_off = np.max(log_weight, axis=0)
    log_weight -= taken_off
    cov = np.empty_like(state.cov)
    for row, places in enumerate(ROWS):
        for column in range(row, 4):
            place = cov[places[column]]
            np.multiply(gain[row], gain_top[column], out=place)
            np.subtract(state.cov[places[column]], place, out=place)
    if moved is not None:
        cov[XX] += moved * counted
    mean = gain * error
    mean += state.mean
    return state.but(
        mean=mean,
        cov=cov,
        log_weight=log_weight,
        weight=mixture_weights(log_weight),
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
    jump = np.where(outcome.used, np.nan, before.pending_jump)
    if not (outcome.flagged | outcome.restarted).any():
        return kept.but(pending_jump=jump)
    confirmed = outcome.restarted & one.confirmed
    possible = outcome.flagged & ~one.beyond
    jump = np.where(possible, outcome.jump, jump)
    waits = possible | confirmed
    return kept.but(
        pending_jump=np.where(confirmed, -outcome.jump, jump),
        pending_exposure=np.where(waits, before.exposures, before.pending_exposure),
    )


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
    cov_of = before.cov
    # of d, f, b with what was seen
    across = [
        cov_of[d] - loss_slope * cov_of[f] + bias_slope * cov_of[b] for _, d, f, b in ROWS[1:]
    ]
    own = across[0] - loss_slope * across[1] + bias_slope * across[2] + noise
    level = seen - before.mean[D] + loss_slope
    np.copyto(mean, before.mean, where=starting)
    np.copyto(cov, before.cov, where=starting)
    np.copyto(mean[X], level, where=starting)
    for place, with_x in zip(ROWS[X], (own, *(-each for each in across)), strict=True):
        np.copyto(cov[place], with_x, where=starting)
    return kept.but(mean=mean, cov=cov, drift_lag=np.where(starting, 0.0, kept.drift_lag))


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
    flagged = np.flatnonzero(outcome.flagged & predicted.known)
    if flagged.size:
        asked = predicted.at(flagged)
        expected = expected_reps(asked, one.ln_load[flagged], rir[flagged], law.curve_power)
        possible = (expected >= 1.0) & (expected <= MOST_EXPECTED_REPS)
        reps[flagged] = np.where(possible, expected, reps[flagged])
    bias = mixed(predicted.weight, predicted.bias)
    added = dose(reps, reps + (1.0 + bias) * rir, law.fatigue)
    fast_left = np.exp(-one.parts_s / law.fatigue.fast_tau_s)
    slow_left = np.exp(-one.parts_s / law.fatigue.slow_tau_s)
    return kept.but(
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
