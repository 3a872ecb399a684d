"""Two levels of one lift: two machines, or two gyms, logged under one name.

A set far out of line is remembered with its load. When a later session, after the level had held in
between, is out of line alike and was loaded alike, the lift has two levels: a set loaded nearer to
the other level's loads is read `apart` away from the lift's own level. Which level a set belongs to
follows from its load alone, so it can be predicted. The two are one again where they meet. Two from
the first weeks on show in the whole log only (`begun_with_two`)."""

import numpy as np

from .curve import psi
from .law import LB_PER_KG_LN, StrengthLaw
from .observation_arrays import SetColumns, Whole
from .state import Bools, FilterState, Floats, Outcome, SetInput

LEAST_APART, MOST_APART = 0.08, 0.6  # ln; nearer levels are one, further ones a slip of the pen
JOINED = 0.05  # ln between two levels that have met
LEARNT = 0.2  # Share of a set's surprise that moves the distance of its level


SURE = 2.5  # SDs by which loads that change back and forth must fail to cost repetitions
COUNTED_SD = 1.2  # Repetitions; of one first set (judgement)


def begun_with_two(
    state: FilterState, columns: SetColumns, ln_load: Floats, law: StrengthLaw
) -> tuple[FilterState, Whole]:
    """The state before any set, with the second level of lifts whose whole log shows two from its
    first weeks on; and by which set each shows it. Read set by set, the first way to the other
    machine and back would be taken for a steep curve, and the 1RM lie above both: here loads change
    both ways, twice or more, at less cost in repetitions than on the steepest curve anyone has."""
    usable = np.flatnonzero((columns.why_not == 0) & (columns.reps > 0))
    number = columns.series_of[usable] * len(columns.source) + columns.session[usable]
    first = usable[np.unique(number, return_index=True)[1]]
    series, loads = columns.series_of[first], ln_load[first]
    done = psi(columns.reps[first] + columns.rir_or_usual[first], law.curve_power)
    far = np.abs(np.diff(loads))
    at = np.flatnonzero((np.diff(series) == 0) & (far > LEAST_APART) & (far < MOST_APART))
    whose, way = series[at], np.sign(np.diff(loads)[at])
    usual = state.kappa[law.nodes // 2, whose]
    steepest, lost = usual * np.exp(max(law.offset.grid)), way * np.diff(done)[at]
    z = (far[at] + steepest * lost) / np.hypot(steepest * COUNTED_SD, law.day_sd) / np.sqrt(2.0)
    two, own, other, apart = (each.copy() for each in (
        state.two, state.own_load, state.other_load, state.apart))  # fmt: skip
    shown = []
    for one in np.flatnonzero(np.bincount(whose, z) > SURE):
        mine = whose == one
        back = np.minimum(np.cumsum(way[mine] > 0), np.cumsum(way[mine] < 0)) >= 2
        sure = back & (np.cumsum(z[mine]) > SURE * np.sqrt(1.0 + np.arange(len(back))))
        if sure[-1]:
            here = at[mine]
            two[one], own[one], other[one] = True, loads[here[0]], loads[here[0] + 1]
            apart[one] = np.mean(far[here] + usual[mine] * lost[mine]) * way[mine][0]
            shown.append(first[here[np.argmax(sure)] + 1])
    begun = state.but(two=two, own_load=own, other_load=other, apart=apart)
    return begun, np.array(shown, dtype=np.int64)


def shift_of(state: FilterState, ln_load: Floats) -> Floats | None:
    """How far the level of a set with this load lies from the lift's own, ln, (series,); None
    where no lift has two."""
    if not state.two.any():
        return None
    nearer = np.abs(ln_load - state.other_load) < np.abs(ln_load - state.own_load)
    return np.where(state.two & nearer, state.apart, 0.0)


def remembered(
    kept: FilterState,
    before: FilterState,
    one: SetInput,
    outcome: Outcome,
    shift: Floats | None,
    law: StrengthLaw,
) -> tuple[FilterState, Outcome]:
    """The state with what the set says of a second level, and the outcome marked where it is the
    set that showed there are two. `one` has its load as written."""
    there = outcome.used & (False if shift is None else shift != 0.0)
    own_load = np.where(outcome.used & ~there, one.ln_load, kept.own_load)
    if not (there | outcome.flagged | outcome.restarted).any():
        return kept.but(own_load=own_load), outcome
    jump, exposure = outcome.jump, before.exposures
    fits = _fits(jump, one.ln_load - before.own_load, law) & ~one.beyond & ~before.two
    off = outcome.flagged & fits & (one.reps > 0)
    again = off & recalled(before, one, jump, law)
    left = outcome.restarted & fits & ~one.confirmed
    apart = np.where(off, jump, np.where(left, -jump, kept.apart))
    apart = np.where(again, (jump + before.apart) / 2.0, apart)
    apart = np.where(there, apart + LEARNT * np.nan_to_num(jump), apart)
    other = np.where(left, before.own_load, np.where(off | there, one.ln_load, kept.other_load))
    gone = outcome.restarted | (np.abs(apart) < JOINED)
    kept = kept.but(
        own_load=own_load,
        other_load=other,
        apart=apart,
        other_exposure=np.where(off | left, exposure, kept.other_exposure),
        two=(before.two & ~gone) | again,
        pending_jump=np.where(again, np.nan, kept.pending_jump),
    )
    return kept, outcome.but(paired=again)


def recalled(state: FilterState, one: SetInput, jump: Floats, law: StrengthLaw) -> Bools:
    """Whether a set is out of line and loaded as one of an earlier session: while little is known
    of endurance no surprise, but it would be read as the curve, and the 1RM lie above both."""
    close = np.abs(jump - state.apart) < law.robust.agree_ln * (1.0 + np.abs(jump))
    close &= np.abs(one.ln_load - state.other_load) < law.robust.agree_ln
    close &= _fits(jump, one.ln_load - state.own_load, law) & ~state.two & ~one.confirmed
    close &= state.other_exposure < state.exposures
    return np.asarray(close & np.isnan(state.pending_jump))


def _fits(jump: Floats, heavier: Floats, law: StrengthLaw) -> Bools:
    """Whether a jump may be another machine: it goes with the load, and is no slip of the pen."""
    far = np.abs(jump)
    fits = (far > LEAST_APART) & (far < MOST_APART) & (np.abs(heavier) > LEAST_APART)
    fits &= np.abs(far - LB_PER_KG_LN) > law.robust.agree_ln
    return np.asarray(fits & (jump * heavier > 0.0))
