"""The endurance offset: how far a lifter's curves lie from the shipped ones, learnt from all lifts.

    a = offset + N(0, endurance_sd^2),   kappa = law.kappa exp(the lift's mean + a)

One lift's narrow range of loads cannot teach the offset; all lifts of the person can, and the
roster's people where a file is shared. Offsets lie on a grid (prior: `state`), each weighted by the
past predictive likelihood of the other lifts' sets: L(offset) = sum of max(log score, floor). The
filter runs once, on nodes wide enough for every offset; an offset only weighs its nodes anew.
Figures and what was tried: docs/estimate.md."""

import numpy as np
from numpy.typing import NDArray

from .law import StrengthLaw
from .mixture import mixture_weights
from .observation_arrays import SetColumns
from .state import FilterState, Prediction, node_log_prior, node_shares, offset_log_prior

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


class SetScores:
    """Collects each set's predictive log score under each offset while a replay runs."""

    def __init__(self, law: StrengthLaw, sets: int) -> None:
        self._shares, self._prior = node_shares(law), node_log_prior(law)
        self._floor = law.offset.score_floor
        self.scores: Floats = np.zeros((len(self._shares), sets))

    def seen(self, state: FilterState) -> Floats:
        """Log likelihood so far under each offset: (offsets, series)."""
        likelihood = np.exp(state.log_weight - self._prior[:, None])
        return np.asarray(np.log(self._shares @ likelihood) + state.log_norm)

    def add(self, where: Whole, before: Floats, after: Floats) -> None:
        """The scores of one set of each series."""
        gain = after - before - 0.5 * np.log(2.0 * np.pi)
        self.scores[:, where] = np.maximum(gain, self._floor)


def useful(columns: SetColumns, law: StrengthLaw, *, roster: bool) -> bool:
    """Whether any series has others to learn from."""
    lifters = len({who for who, _ in columns.series})
    return law.offset.on and (lifters < len(columns.series) or (roster and lifters > 1))


def learnt(
    columns: SetColumns, scores: Floats, law: StrengthLaw, *, roster: bool
) -> tuple[Floats, Floats]:
    """What other series say of each offset: before the day of each set (offsets, sets), and after
    the last day (offsets, series). Other lifters count by the policy's share, in a roster."""
    share = law.offset.roster_share if roster else 0.0
    names = {who: place for place, who in enumerate(dict.fromkeys(w for w, _ in columns.series))}
    lifter = np.array([names[who] for who, _ in columns.series], dtype=np.int64)
    of_set = lifter[columns.series_of]
    everyone = np.zeros_like(of_set)
    own, own_end = _before_day(scores, columns.series_of, columns.day)
    mine, mine_end = _before_day(scores, of_set, columns.day)
    told = (1.0 - share) * mine - own
    end = (1.0 - share) * mine_end[:, lifter] - own_end
    if share:
        every, every_end = _before_day(scores, everyone, columns.day)
        told, end = told + share * every, end + share * every_end
    return told, end


def _before_day(scores: Floats, group: Whole, day: Whole) -> tuple[Floats, Floats]:
    """Sums over the sets of the same group on earlier days, and over all of each group."""
    order = np.lexsort((day, group))
    total = np.cumsum(scores[:, order], axis=1)
    before = np.concatenate([np.zeros((len(scores), 1)), total], axis=1)
    group, day = group[order], day[order]
    new_group = np.diff(group, prepend=-1) != 0
    new_day = new_group | (np.diff(day, prepend=-1) != 0)
    place = np.arange(len(order))
    day_start = np.maximum.accumulate(np.where(new_day, place, 0))
    group_start = np.maximum.accumulate(np.where(new_group, place, 0))
    sums = np.empty_like(scores)
    sums[:, order] = before[:, day_start] - before[:, group_start]
    starts = np.flatnonzero(new_group)
    ends = np.append(starts[1:], len(order))
    return sums, before[:, ends] - before[:, starts]


def _node_change(told: Floats, law: StrengthLaw) -> Floats:
    """Log factor on each node's weight, (nodes, n), from what was told of the offsets."""
    weight = offset_log_prior(law)[:, None] + told
    weight = np.exp(weight - weight.max(axis=0))
    weight /= weight.sum(axis=0)
    return np.asarray(np.log(node_shares(law).T @ weight) - node_log_prior(law)[:, None])


def told_state(state: FilterState, told: Floats, law: StrengthLaw) -> FilterState:
    """The states with what other series say of the offset."""
    log_weight = state.log_weight + _node_change(told, law)
    log_weight -= np.max(log_weight, axis=0)
    return state.but(log_weight=log_weight, weight=mixture_weights(log_weight))


def told_predictions(predictions: Prediction, told: Floats, law: StrengthLaw) -> Prediction:
    """Kept predictions with what other series had said before each day."""
    weight = predictions.weight * np.exp(_node_change(told, law))
    return predictions.but(weight=weight / weight.sum(axis=0))
