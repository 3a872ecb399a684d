"""Each session's capacity, and where it is heading."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.strength.belief import Z80, Interval
from blockwright.engine.strength.law import StrengthLaw
from blockwright.engine.strength.replay import Replayed
from blockwright.engine.training import SessionCapacity


def session_capacities(replayed: Replayed, index: int) -> tuple[SessionCapacity, ...]:
    """Sessions of series `index` with at least one set in use, in time order.

    A session's capacity is the precision-weighted mean over its sets of the fresh ln(load in kg)
    each speaks for, at `filter.REFERENCE_REPS` repetitions to failure: what is learnt later of
    the lifter's endurance hardly moves it there, while it would move the 1RM. Only what was known
    at the session enters, so later sets never change it.
    """
    columns, outcome, law = replayed.columns, replayed.outcome, replayed.law
    places = np.arange(columns.first[index], columns.first[index + 1])
    session = columns.session[places]
    used = outcome.used[places]
    z2 = np.nan_to_num(outcome.z[places]) ** 2
    tail = law.robust.tail_freedom
    noise = outcome.capacity_variance[places] * np.maximum((tail + z2) / (tail + 1.0), 1.0)
    precision = np.where(used, 1.0 / np.where(used, noise, 1.0), 0.0)
    total = np.bincount(session, precision)
    weighted = np.bincount(session, precision * np.where(used, outcome.capacity[places], 0.0))
    days = columns.day[places][np.searchsorted(session, np.arange(total.size))]
    return tuple(
        SessionCapacity(day=date.fromordinal(day), ln_capacity=capacity / sum_, variance=1.0 / sum_)
        for day, capacity, sum_ in zip(
            days.tolist(), weighted.tolist(), total.tolist(), strict=True
        )
        if sum_ > 0
    )


def trend_of(
    sessions: Sequence[SessionCapacity],
    process_variance: float,
    law: StrengthLaw,
    policy: Policy,
    *,
    learning_rule: bool = True,
) -> Interval:
    """Percent a week: a line through the last sessions whose level also wanders.

    Generalised least squares with the sessions' own variances, the lift's process variance a day
    and a prior on the slope, so that two sessions say little and none says only the prior. The
    first exposures are left out as learning (`learning_rule`; Nascimento 2017).
    """
    skipped = law.learning_exposures if learning_rule else 0
    usable = sessions[skipped:]
    window = policy.number("strength.trend.window_days")
    usable = [s for s in usable if (usable[-1].day - s.day).days <= window]
    prior_mean = 7.0 * law.drift_per_day
    prior_sd = law.trend_sd_pct_per_week / 100.0
    mean, variance = prior_mean, prior_sd**2
    if len(usable) > 1:
        mean, variance = _slope(usable, process_variance, law.day_sd, prior_mean, prior_sd)
    half = Z80 * float(np.sqrt(variance))
    return Interval(100.0 * mean, 100.0 * (mean - half), 100.0 * (mean + half))


def _slope(
    sessions: Sequence[SessionCapacity],
    process_variance: float,
    day_sd: float,
    prior_mean: float,
    prior_sd: float,
) -> tuple[float, float]:
    """Posterior mean and variance of the slope, ln a week."""
    days = np.array([(s.day - sessions[0].day).days for s in sessions], dtype=float)
    seen = np.array([s.ln_capacity for s in sessions])
    wander = process_variance * np.minimum(days[:, None], days[None, :])
    cov = (
        wander + np.diag([s.variance + day_sd**2 for s in sessions]) + 1.0
    )  # a level known to nobody
    weeks = days / 7.0
    solved = np.linalg.solve(cov, np.column_stack([weeks, seen - seen.mean()]))
    precision = float(weeks @ solved[:, 0]) + 1.0 / prior_sd**2
    weighted = float(weeks @ solved[:, 1]) + prior_mean / prior_sd**2
    return weighted / precision, 1.0 / precision
