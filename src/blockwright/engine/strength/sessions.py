"""What the sessions of one series said: each one's capacity, what was believed after it, where it
is heading, and what a long break cost."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.training import SessionCapacity
from .belief import Z80, Interval
from .curve import psi
from .filter import REFERENCE_REPS
from .law import StrengthLaw
from .mixture import Floats, mixed
from .replay import Replayed, inputs_of
from .state import B, F

_SPREAD_FREEDOM = 10.0  # Sessions that the assumed spread of sessions counts as (judgement)


@dataclass(frozen=True, slots=True, kw_only=True)
class StrengthPoint:
    """One session: what was believed after it, and the 1RM each of its sets spoke for (kg)."""

    day: date
    one_rm_kg: Interval
    used_kg: tuple[float, ...]
    flagged_kg: tuple[float, ...]  # Of sets left out as out of line


def strength_history(replayed: Replayed, index: int) -> tuple[StrengthPoint, ...]:
    """Sessions of series `index` from the first with evidence on, in time order."""
    columns, outcome = replayed.columns, replayed.outcome
    places = np.arange(columns.first[index], columns.first[index + 1])
    points: list[StrengthPoint] = []
    for session in range(int(columns.session[places[-1]]) + 1):
        here = places[columns.session[places] == session]
        mean, sd = outcome.ln_one_rm[here[-1]], outcome.ln_one_rm_sd[here[-1]]
        if not np.isfinite(mean):
            continue
        seen = np.exp(outcome.seen_ln_one_rm[here])
        points.append(
            StrengthPoint(
                day=date.fromordinal(int(columns.day[here[0]])),
                one_rm_kg=Interval(*np.exp([mean, mean - Z80 * sd, mean + Z80 * sd]).tolist()),
                used_kg=tuple(seen[outcome.used[here]].tolist()),
                flagged_kg=tuple(seen[outcome.flagged[here]].tolist()),
            )
        )
    return tuple(points)


def session_capacities(
    replayed: Replayed, index: int, *, reread: bool = False
) -> tuple[SessionCapacity, ...]:
    """Sessions of series `index` with at least one set in use, in time order.

    A session's capacity is the precision-weighted mean over its sets of the fresh ln(load in kg)
    each speaks for, at `filter.REFERENCE_REPS` repetitions to failure: what is learnt later of the
    lifter's endurance hardly moves it there, while it would move the 1RM. Only what was known at
    the session enters, so later sets never change it; `reread` reads all of them as the last one
    left the lifter's endurance, tiring and reserve."""
    columns, outcome, law = replayed.columns, replayed.outcome, replayed.law
    places = np.arange(columns.first[index], columns.first[index + 1])
    session = columns.session[places]
    used = outcome.used[places]
    z2 = np.nan_to_num(outcome.z[places]) ** 2
    tail = law.robust.tail_freedom
    noise = outcome.capacity_variance[places] * np.maximum((tail + z2) / (tail + 1.0), 1.0)
    precision = np.where(used, 1.0 / np.where(used, noise, 1.0), 0.0)
    own = slice(index, index + 1)
    seen = _reread(replayed.part(own, 0)) if reread else outcome.capacity[places]
    total = np.bincount(session, precision)
    weighted = np.bincount(session, precision * np.where(used, seen, 0.0))
    days = columns.day[places][np.searchsorted(session, np.arange(total.size))]
    return tuple(
        SessionCapacity(day=date.fromordinal(day), ln_capacity=capacity / sum_, variance=1.0 / sum_)
        for day, capacity, sum_ in zip(
            days.tolist(), weighted.tolist(), total.tolist(), strict=True
        )
        if sum_ > 0
    )


def _reread(own: Replayed) -> Floats:
    """What each set of one series says of its day's capacity by what is known at the end, (sets,).
    Read as it was known then, strength would seem to fall while tiring is learnt (by 2 to 4 % in a
    month)."""
    law, outcome, state, one = own.law, own.outcome, own.state, inputs_of(own.columns, own.law)
    said = one.rir * (1.0 - one.to_failure)
    to_failure = np.maximum(one.reps + (1.0 + state.mean[B]) * said, 0.0)
    above = psi(to_failure, law.curve_power) - psi(np.array(REFERENCE_REPS), law.curve_power)
    lost = np.exp(state.mean[F]) * outcome.tired
    return mixed(state.weight, outcome.ln_load + state.kappa * above + lost)


def trend_of(
    sessions: Sequence[SessionCapacity],
    process_variance: float,
    law: StrengthLaw,
    policy: Policy,
    *,
    learning_rule: bool = True,
) -> Interval:
    """Percent a week: the slope of a line through the true levels of the last sessions.

    What they did, not the rate behind it: a level that wanders by `process_variance` a day (of ln)
    and drifts by a rate of its own is seen through sessions with their own errors, whose size the
    window itself says in part. After each of the first exposures the level may jump by learning,
    which is no growth (`learning_rule`; Nascimento 2017), and early sessions are read less
    surely."""
    window = policy.number("strength.trend.window_days")
    usable = [s for s in sessions if (sessions[-1].day - s.day).days <= window]
    drift, variance = 7.0 * law.drift_per_day, (law.trend_sd_pct_per_week / 100.0) ** 2
    change = 0.0
    if usable and usable[0].day < sessions[-1].day:
        number = np.arange(len(sessions) - len(usable), len(sessions))
        jumps = law.learning_sd**2 * np.minimum(number, law.learning_exposures) * learning_rule
        early = policy.number("strength.trend.early_sd") ** 2
        jumps = jumps + early * np.cumsum(1.0 / (1.0 + number) ** 2)
        weeks = np.array([(s.day - usable[0].day).days for s in usable]) / 7.0
        # both grow with time, so that two sessions share what there was at the earlier
        moved = 7.0 * process_variance * weeks
        level = np.minimum.outer(moved, moved) + variance * np.outer(weeks, weeks)
        own = np.diag([s.variance + law.day_sd**2 for s in usable])
        cov = level + np.minimum.outer(jumps, jumps) + own + 1.0  # a level known to nobody
        seen = np.array([s.ln_capacity for s in usable]) - drift * weeks
        change, variance = _slope(weeks - weeks.mean(), seen - seen.mean(), level, cov)
    median, half = drift + change, Z80 * float(np.sqrt(variance))
    return Interval(100.0 * median, 100.0 * (median - half), 100.0 * (median + half))


def _slope(weeks: Floats, seen: Floats, level: Floats, cov: Floats) -> tuple[float, float]:
    """Posterior mean and variance of the least-squares slope of the levels, ln a week beyond the
    drift; `level` is their covariance, `cov` that of what was seen."""
    line = weeks / (weeks @ weeks)
    toward = level @ line
    solved = np.linalg.solve(cov, np.column_stack([seen, toward]))
    scale = (_SPREAD_FREEDOM + seen @ solved[:, 0]) / (_SPREAD_FREEDOM + len(seen) - 1)
    return float(toward @ solved[:, 0]), float(scale * (line @ toward - toward @ solved[:, 1]))


def lost_since(replayed: Replayed, series: Sequence[int], index: int) -> float:
    """By how much (ln, 0 or less) series `index` lies below what detraining takes, as the lifter's
    other `series` of the same half of the body say, back from a break it is not back from.

    Each lift's loss is the person's (about the usual one, SD `strength.return_sd`) and its own
    (`strength.long_gap_sd`)."""
    columns, law, outcome = replayed.columns, replayed.law, replayed.outcome
    areas = [None if lift is None else lift.area for lift in columns.lifts]
    left = columns.day[columns.first[index + 1] - 1]
    weight, total = 1.0 / law.return_sd**2, 0.0
    for other in (one for one in series if areas[one] == areas[index]):
        first, last = columns.first[other], columns.first[other + 1] - 1
        gaps = np.diff(columns.day[first : last + 1])
        breaks = np.flatnonzero(gaps > law.long_gap_days)
        if not len(breaks) or columns.day[first + breaks[-1] + 1] <= left + law.long_gap_days:
            continue
        before, idle = outcome.ln_one_rm[first + breaks[-1]], gaps[breaks[-1]] - law.drift_days
        usual = min(law.detraining_per_day * idle, law.detraining_cap)
        beyond = outcome.ln_one_rm[last] - before + usual
        if np.isfinite(beyond):
            sure = 1.0 / (outcome.ln_one_rm_sd[last] ** 2 + law.long_gap_sd**2)
            weight, total = weight + sure, total + sure * beyond
    return min(float(total / weight), 0.0)
