"""What the filter carries: the state of many lifter-and-lift pairs, a set, what it said; and the
nodes over endurance, a = ln(kappa) less the lift's mean, with their prior weights.

Shapes: mean (4, nodes, series); cov (10, nodes, series), as `ROWS` says; log_weight, weight, kappa
and worth (nodes, series); everything else (series,). The last axis is the series: one lifter, or
thousands."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import nan
from typing import Any, Self

import numpy as np
from numpy.typing import NDArray

from .law import LiftPrior, StrengthLaw
from .mixture import mixture_weights

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Whole = NDArray[np.int64]

X, D, F, B = range(4)  # ln(1RM) in kg, the day's effect, ln(phi), the RIR bias

XX, XD, XF, XB, DD, DF, DB, FF, FB, BB = range(10)
"""Where the covariance of each two of them stands: it is symmetric, and said once."""
ROWS = (XX, XD, XF, XB), (XD, DD, DF, DB), (XF, DF, FF, FB), (XB, DB, FB, BB)


class Arrays:
    """Arrays that share their last axis. A step of the filter makes a score of these: they are
    copied by their names alone, twenty times as fast as `dataclasses.replace`."""

    def but(self, **changed: NDArray[Any]) -> Self:
        """The same with some arrays changed."""
        made = object.__new__(type(self))
        made.__dict__.update(self.__dict__, **changed)
        return made

    def at(self, where: Whole | slice) -> Self:
        """The same at some places of the last axis; a slice gives views."""
        made = object.__new__(type(self))
        if isinstance(where, slice):
            made.__dict__.update({name: each[..., where] for name, each in self.__dict__.items()})
        else:  # `take` leaves the last axis the nearest in memory, as every step wants it
            made.__dict__.update(
                {name: each.take(where, axis=-1) for name, each in self.__dict__.items()}
            )
        return made

    def put(self, values: Self, where: Whole | slice) -> None:
        """Copies `values` to some places (for the replay's own buffers)."""
        for name, each in values.__dict__.items():
            self.__dict__[name][..., where] = each


@dataclass(frozen=True)
class FilterState(Arrays):
    """What is believed of `series` lifter-and-lift pairs, between two sets."""

    mean: Floats
    cov: Floats
    log_weight: Floats  # Less its largest, node by node
    weight: Floats  # The same as shares of one
    log_norm: Floats  # What was taken off the log weights so far
    kappa: Floats
    worth: Floats
    """What the variance of wandering and of good or bad days is worth on each node's curve, beside
    the usual one: (nodes, series)."""
    fast: Floats
    slow: Floats
    noise_scale: Floats  # Times the variance of a counted set: how noisy this pair's sets have been
    process_variance: Floats  # Of ln(1RM), a day
    drift: Floats  # Gain of ln(1RM) a day of training, as learnt so far, and its variance
    drift_variance: Floats
    drift_lag: Floats  # Days of another drift that x has not followed yet
    drift_owed: Floats
    """What x still has to move by for what was learnt of the drift in its last session."""
    started: Bools
    exposures: Whole  # Sessions with at least one set so far
    sets_used: Whole
    lean: Floats  # Sum of the session's standardised surprises so far, and how many they were
    lean_sets: Whole
    came_with: Floats  # ln(1RM) believed of the day before the first of them
    off: Floats  # Sum of what each of them alone says of it, less that
    pending_jump: Floats
    """ln jump of the last flagged set while no later set contradicted it; nan when none."""
    pending_exposure: Whole
    own_load: Floats  # ln of the last load at the lift's own level; see `levels`
    other_load: Floats  # The same of the other level, or of the set that may have been one
    apart: Floats  # ln of the other level less the lift's own; nan while nothing was out of line
    other_exposure: Whole
    two: Bools  # Whether the lift has two levels

    @property
    def whole_cov(self) -> Floats:
        """(4, 4, nodes, series)"""
        return np.asarray(self.cov[np.array(ROWS)])


@dataclass(frozen=True)
class SetInput(Arrays):
    """One set for each of `series` pairs. Shapes (series,); loads are effective kg."""

    gap_days: Floats  # Days since the pair's last session; 0 within a session
    new_session: Bools
    rest_s: Floats
    ln_load: Floats
    reps: Floats
    rir: Floats
    rir_extra_variance: Floats  # In repetitions squared: RIR unknown, or written as a range
    to_failure: Floats  # 1.0 when the set ended in failure, else 0.0
    evidence: Bools
    """False: the set only tires (pain, partial range, a mini-set, too many repetitions)."""
    confirmed: Bools  # True: the lifter stands by the value however surprising
    beyond: Bools  # True: more than anyone lifts, and nobody stands by it; never used
    parts_s: Floats
    """Seconds from the end of the first part to the end of the set; 0 for straight sets."""
    parts_fast: Floats
    parts_slow: Floats  # Fatigue the later parts have added by the end of the set


@dataclass(frozen=True)
class Prediction(Arrays):
    """What was expected of a set before it was done; arrays (nodes, series) or (series,).

    capacity = x + d - phi u, with its variance and its covariance with b."""

    weight: Floats
    kappa: Floats
    capacity: Floats
    capacity_variance: Floats
    capacity_bias_cov: Floats
    bias: Floats
    bias_variance: Floats
    noise_scale: Floats
    known: Bools  # False where the pair has no evidence yet


@dataclass(frozen=True)
class Outcome(Arrays):
    """What a set turned out to say; arrays (series,)."""

    used: Bools
    flagged: Bools
    restarted: Bools
    paired: Bools  # The set that showed the lift to have two levels
    z: Floats  # Standardised surprise; nan where nothing was expected or the set is no evidence
    jump: Floats  # ln(observed capacity / expected)
    capacity: Floats
    """What the set alone says of today's fresh ln(load) for `REFERENCE_REPS` to failure."""
    capacity_variance: Floats
    """Its variance beside other sessions: the count's noise, and what endurance leaves open of a
    set longer or shorter than the lifter's others."""
    ln_load: Floats  # As it was read: of a second level, as if on the lift's own
    tired: Floats  # What earlier sets of the session left, before phi
    seen_ln_one_rm: Floats
    """ln of the 1RM the set alone speaks for, fatigue taken out, the day's effect in it."""
    ln_one_rm: Floats  # ln(1RM) after the set; nan before there is evidence
    ln_one_rm_sd: Floats


_TOP_SD = 1.5  # How far the nodes reach beyond the largest offset


def node_positions(law: StrengthLaw) -> Floats:
    """Nodes of a = ln(kappa) less the lift's mean, (nodes,): `law.nodes` over the spread between
    people, and on in equal steps to the largest offset."""
    low = -law.node_span_sd * law.endurance_sd
    step = -2.0 * low / max(law.nodes - 1, 1)
    top = max(-low, max(law.offset.grid) + _TOP_SD * law.endurance_sd)
    return np.asarray(low + step * np.arange(round((top - low) / step) + 1))


def node_shares(law: StrengthLaw) -> Floats:
    """Prior weight of each node under each offset, (offsets, nodes); rows sum to one."""
    z = (node_positions(law)[None, :] - np.array(law.offset.grid)[:, None]) / law.endurance_sd
    shares = np.exp(-0.5 * z * z)
    return np.asarray(shares / shares.sum(axis=1, keepdims=True))


def offset_log_prior(law: StrengthLaw) -> Floats:
    """(offsets,), normalised: some people's curves are as shipped, the others' N(0, sd^2) away."""
    grid = np.array(law.offset.grid)
    away = np.exp(-0.5 * (grid / law.offset.sd) ** 2)
    prior = (1.0 - law.offset.none_share) * away / away.sum()
    prior[np.argmin(np.abs(grid))] += law.offset.none_share
    return np.asarray(np.log(prior))


def node_log_prior(law: StrengthLaw) -> Floats:
    """Of each node before anything is known, (nodes,): the offsets mixed."""
    return np.asarray(np.log(np.exp(offset_log_prior(law)) @ node_shares(law)))


def _nodes(sds: list[float], law: StrengthLaw) -> tuple[Floats, Floats]:
    """Nodes of a less the lift's mean, (nodes, 1 or series), and their log prior, (nodes,)."""
    if law.offset.on:
        wider = np.array(sds) / law.endurance_sd
        return wider * node_positions(law)[:, None], node_log_prior(law)
    span = law.node_span_sd if law.nodes > 1 else 0.0
    z = np.linspace(-span, span, law.nodes)
    log_weight = -0.5 * z * z
    return np.array(sds) * z[:, None], log_weight - np.log(np.sum(np.exp(log_weight)))


_BLANK: Mapping[str, float] = {
    **dict.fromkeys(("fast", "slow", "drift_lag", "drift_owed", "lean", "came_with", "off"), 0.0),
    **dict.fromkeys(("pending_jump", "own_load", "other_load", "apart"), nan),
    **dict.fromkeys(("exposures", "sets_used", "lean_sets"), 0),
    **dict.fromkeys(("pending_exposure", "other_exposure"), 0),
    **dict.fromkeys(("started", "two"), False),
}
"""What a pair starts with; the type of the number is the array's."""


def new_state(priors: list[LiftPrior], law: StrengthLaw) -> FilterState:
    """States with nothing known yet, one series a prior."""
    count = len(priors)
    means = np.array([prior.endurance_mean for prior in priors])
    spread, log_weight = _nodes([prior.endurance_sd for prior in priors], law)
    nodes = len(log_weight)
    mean = np.zeros((4, nodes, count))
    mean[F] = np.log([prior.phi for prior in priors])
    mean[B] = law.bias_mean
    cov = np.zeros((10, nodes, count))
    cov[DD] = law.day_sd**2
    cov[FF] = law.fatigue_sd**2
    cov[BB] = law.bias_sd**2
    kappa = law.kappa * np.exp(means + spread)
    blank: dict[str, Any] = {name: np.full(count, value) for name, value in _BLANK.items()}
    log_weights = np.repeat(log_weight[:, None], count, axis=1)
    return FilterState(
        mean=mean,
        cov=cov,
        log_weight=log_weights,
        weight=mixture_weights(log_weights),
        log_norm=np.zeros(count),
        kappa=kappa,
        worth=(kappa / law.kappa) ** (2.0 * law.wander_power),
        noise_scale=np.array([prior.noise_scale for prior in priors]),
        process_variance=np.array([prior.process_sd_per_sqrt_day**2 for prior in priors]),
        drift=np.full(count, law.drift_per_day),
        drift_variance=np.full(count, law.drift_sd**2),
        **blank,
    )
