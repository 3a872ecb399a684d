"""What moves a level besides wandering: a lifter's own drift; a log that was not theirs."""

import numpy as np

from .law import StrengthLaw
from .mixture import mixed
from .state import FilterState, Floats, Outcome

LEAN_Z = 2.0  # Below this a session's surprises are no more than usual


def moved_variance(
    state: FilterState, level: Floats, spread: Floats, outcome: Outcome, law: StrengthLaw
) -> tuple[Floats | None, FilterState]:
    """What is added to the variance of x where the sets of a session, two or more, are together
    better explained by a level that has moved (a log that was not theirs, another technique) than
    by the day (None: nowhere); and the state with what the session said so far.

    One set alone moves nothing: it may be a slip of the pen. Surprises told one by one are
    independent while the model holds, so their sum over the root of their number is standard."""
    told = outcome.used & state.started & ~outcome.restarted
    lean = state.lean + np.where(told, outcome.z, 0.0)
    sets = state.lean_sets + told
    came_with = np.where(state.lean_sets == 0, level, state.came_with)
    off = state.off + np.where(told, outcome.seen_ln_one_rm - came_with, 0.0)
    kept = state.but(lean=lean, lean_sets=sets, came_with=came_with, off=off)
    share, variance, tail = law.robust.jump_share, law.robust.jump_sd**2, law.robust.tail_freedom
    z2 = lean * lean / np.maximum(sets, 1)
    together = told & (sets > 1) & (outcome.z * lean > 0.0) & (z2 > LEAN_Z**2)
    together &= np.abs(off) > law.robust.jump_least * sets
    if not (law.robust.on and share and together.any()):
        return None, kept
    wider = 1.0 + variance / mixed(state.weight, spread)
    odds = np.exp(-0.5 * z2 / wider) / np.sqrt(wider)
    odds = odds * (1.0 + z2 / tail) ** ((tail + 1.0) / 2.0) * share / (1.0 - share)
    return np.where(together, variance * odds / (1.0 + odds), 0.0), kept


def drifted(
    state: FilterState, weight: Floats, spread: Floats, gain: Floats, outcome: Outcome
) -> FilterState:
    """The state with what a session's first set says of the lifter's own drift. A drift changed now
    has been at work since x began to lag behind it: by that much x moves before the next session
    (Friedland's separate bias, one gain for all nodes)."""
    ordinary = outcome.used & state.started & ~outcome.restarted
    seen = ordinary & (state.lean_sets == 1)
    lag = state.drift_lag
    toward = state.drift_variance * lag
    kept = lag * np.where(ordinary, 1.0 - mixed(weight, gain), 1.0)
    if not seen.any():
        return state.but(drift_lag=kept)
    share = np.where(seen, toward / (toward * lag + mixed(weight, spread)), 0.0)
    change = share * np.where(seen, outcome.jump, 0.0)
    return state.but(
        drift=state.drift + change,
        drift_variance=state.drift_variance - share * toward,
        drift_lag=kept,
        drift_owed=state.drift_owed + kept * change,
    )
