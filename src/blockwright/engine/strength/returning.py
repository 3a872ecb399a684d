"""What a long break cost a person, by the lifts done again since: one not done yet lost as much."""

from collections.abc import Sequence

import numpy as np

from blockwright.engine.strength.replay import Replayed


def lost_since(replayed: Replayed, series: Sequence[int], index: int) -> float:
    """By how much (ln, 0 or less) series `index` lies below what detraining takes, as the lifter's
    other `series` of the same half of the body say, back from a break it is not back from.

    Each lift's loss is the person's (about the usual one, SD `strength.return_sd`) and its own
    (`strength.long_gap_sd`).
    """
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
