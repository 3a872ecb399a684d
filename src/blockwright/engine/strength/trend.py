"""Each session's capacity, and where it is heading."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.strength.belief import Z80, Interval
from blockwright.engine.strength.law import StrengthLaw
from blockwright.engine.strength.mixture import Floats
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
    and a prior on the slope, so that two sessions say little and none says only the prior. After
    each of the first exposures the level may jump by learning, which is no growth
    (`learning_rule`; Nascimento 2017).
    """
    window = policy.number("strength.trend.window_days")
    usable = [s for s in sessions if (sessions[-1].day - s.day).days <= window]
    mean, variance = 7.0 * law.drift_per_day, (law.trend_sd_pct_per_week / 100.0) ** 2
    if len(usable) > 1:
        number = np.arange(len(sessions) - len(usable), len(sessions))
        jumps = law.learning_sd**2 * np.minimum(number, law.learning_exposures) * learning_rule
        days = np.array([(s.day - usable[0].day).days for s in usable], dtype=float)
        # both grow with time, so that two sessions share what there was at the earlier
        moved = process_variance * days + jumps
        own = np.diag([s.variance + law.day_sd**2 for s in usable])
        cov = np.minimum(moved[:, None], moved[None, :]) + own + 1.0  # a level known to nobody
        seen = np.array([s.ln_capacity for s in usable])
        mean, variance = _slope(days / 7.0, seen, cov, mean, variance)
    half = Z80 * float(np.sqrt(variance))
    return Interval(100.0 * mean, 100.0 * (mean - half), 100.0 * (mean + half))


def _slope(
    weeks: Floats, seen: Floats, cov: Floats, prior_mean: float, prior_variance: float
) -> tuple[float, float]:
    """Posterior mean and variance of the slope, ln a week."""
    solved = np.linalg.solve(cov, np.column_stack([weeks, seen - seen.mean()]))
    precision = float(weeks @ solved[:, 0]) + 1.0 / prior_variance
    weighted = float(weeks @ solved[:, 1]) + prior_mean / prior_variance
    return weighted / precision, 1.0 / precision
