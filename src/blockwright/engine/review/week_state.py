"""What kind of week it was, as probabilities, and what follows from them: muscles to cut, bad days,
a weak week. `read_weeks` finds them from `WeekFacts`."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from blockwright.engine.policy import Policy

SEVERAL = 3
"""Lifts that must have fallen before a week is called weak: fewer are outliers (judgement)."""
Floats = np.ndarray[tuple[int, ...], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """One lift on one day, beside what its muscles are."""

    lift: str
    day: date
    ln_capacity: float
    variance: float
    shares: Mapping[str, float]  # Muscle to how much of an overreach shows: direct 1, indirect less
    new_zone: bool
    gave: bool = False  # Whether its first set gave what was printed: that shows no overreach


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekFacts:
    """One week as it is read."""

    start: date
    seen: tuple[Seen, ...]
    sets: Mapping[str, float]  # Fractional hard sets done, by muscle
    noted: Mapping[date, bool]  # By day with an answer or a note: whether it speaks of a bad day
    worse: bool | None  # Whether wellness was worse than usual; None where nobody said
    sore: Mapping[str, bool]
    eased: str | None
    """`light` or `deload` where the week before was made easier; `first` of a block."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekState:
    """What a week was, as probabilities."""

    start: date
    muscles: Mapping[str, float]
    """P(the muscle had too much), whole-body weeks apart; 0 where its own lifts ran no lower than
    their levels, whatever the others did."""
    everything: float  # P(all of them)
    bad_week: float
    bad_days: Mapping[date, float]
    shown: Mapping[str, tuple[date, ...]]
    """By muscle: the days on which its lifts fell short of their print, one each; every comparison
    where it was said to be sore, or nothing was printed."""
    mean: float | None  # Mean residual over the week, ln; None with nothing to compare
    kept: Mapping[str, float]
    """By lift: P(its capacity was not lower by more than the meaningful fall)."""
    recovered: Mapping[str, float]  # By muscle: P(it had not too much, and the week was no bad one)
    otherwise: float | None = None
    """The mean residual without the bad days; None with fewer than `SEVERAL` comparisons left."""

    @property
    def fell(self) -> int:
        """How many lifts more probably fell than not."""
        return sum(p < 0.5 for p in self.kept.values())

    @property
    def expected(self) -> float:
        """How many muscles are expected to have had too much."""
        return sum(self.muscles.values())


def state_of(states: Sequence[WeekState], start: date) -> WeekState | None:
    """The week that began on `start`; None where nothing was trained in it."""
    return states[-1] if states and states[-1].start == start else None


def bad_days(state: WeekState | None, policy: Policy) -> frozenset[date]:
    """Days that probably were bad ones, and say nothing of the weeks to come."""
    line = policy.number("review.read.act_from")
    days = {} if state is None else state.bad_days
    return frozenset(day for day, p in days.items() if p >= line)


def overreached(state: WeekState | None, policy: Policy) -> frozenset[str]:
    """Muscles that probably had too much: their sets are cut, and no others. One lift on one day,
    or nothing but bad days, is too little to cut by."""
    if state is None:
        return frozenset()
    line = policy.number("review.read.act_from")
    least = policy.whole("review.read.least_shown")
    return frozenset(
        muscle
        for muscle, p in state.muscles.items()
        if p >= line
        and len(state.shown[muscle]) >= least
        and any(state.bad_days.get(day, 0.0) < line for day in state.shown[muscle])
    )


def ever_overreached(states: Iterable[WeekState], since: date, policy: Policy) -> set[str]:
    """Muscles that probably had too much in some week since a Monday."""
    return {m for one in states if one.start >= since for m in overreached(one, policy)}


def below_usual(state: WeekState | None, policy: Policy) -> bool:
    """Whether the week as a whole lay clearly below the usual level: beside a bad day, nearly every
    lift, and the other days too."""
    if state is None or state.mean is None:
        return False
    line = policy.number("review.read.weak_two_weeks") / 2
    if not bad_days(state, policy):
        return state.mean <= line
    return nearly_all_fell(state, policy) and max(state.mean, state.otherwise or 0.0) <= line


def was_weak(state: WeekState, policy: Policy) -> bool:
    """Whether the week as a whole was bad, or more than recovery allows."""
    line = policy.number("review.read.act_from")
    return is_bad(state, policy) or (state.everything >= line and state.fell >= SEVERAL)


def most_fell(state: WeekState) -> bool:
    """Whether half of the lifts fell, and several."""
    return state.fell >= max(SEVERAL, len(state.kept) / 2)


def nearly_all_fell(state: WeekState, policy: Policy) -> bool:
    """Whether so many lifts fell that no few of them explain it."""
    share = policy.number("review.read.nearly_all")
    return state.fell >= max(SEVERAL, share * len(state.kept))


def is_bad(state: WeekState, policy: Policy) -> bool:
    """Whether a week probably was bad and its lifts show it: poor sleep alone makes none, nor does
    one lift."""
    shown = state.mean is not None and state.mean <= policy.number("review.read.weak_shown")
    return shown and most_fell(state) and state.bad_week >= policy.number("review.read.act_from")


def slow_muscles(state: WeekState, policy: Policy) -> list[str]:
    """The muscles that a week of too much names, surest first; none where it was all of them."""
    line = policy.number("review.read.act_from")
    named = {} if state.everything >= line else state.muscles
    return sorted((m for m, p in named.items() if p >= line / 2), key=lambda m: -state.muscles[m])


def had_too_much(state: WeekState, policy: Policy) -> bool:
    """Whether all or several muscles had too much, and several lifts show it."""
    number = policy.number
    many = state.everything >= number("review.read.act_from")
    many = many or state.expected >= number("review.read.light_from")
    return many and state.fell >= SEVERAL
