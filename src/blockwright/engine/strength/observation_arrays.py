"""Logged sets to the filter's columns: one series a lifter and lift, in the order of time.

Everything that can be said of a set without the filter is said here: its effective load, its
session, whether it is evidence of strength and, if not, why."""

from collections import defaultdict
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, fields
from itertools import count
from operator import attrgetter

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.fatigue import FatigueLaw, dose
from blockwright.engine.policy import Policy
from blockwright.engine.rack import MOST_SAID
from blockwright.engine.training import (
    Catalogue,
    Experience,
    Lift,
    SetDone,
    effective_load_kg,
)
from .bodyweights import Bodyweights
from .logged import METHODS, Logged, Moments, differs, in_time
from .plausible import Limits

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Whole = NDArray[np.int64]

Series = tuple[str | None, str]  # Lifter (None where the log names none) and lift

NOT_EVIDENCE = (
    "", "warmup", "no_bodyweight", "load_not_above_zero", "not_full_range", "painful_set",
    "too_many_reps", "mini_set", "easy_on_purpose", "unlike_later_sets",
    "try_on_the_way",
)  # fmt: skip
"""Why a set says nothing of strength, by the number in `SetColumns.why_not`; 0: it does."""
(WARMUP, _NO_BODYWEIGHT, _BAD_LOAD, _PART_RANGE, _PAIN, _LONG_SET, _MINI_SET,
 _EASY, UNLIKE_LATER, TRY) = range(1, 11)  # fmt: skip

RIR_AT_LEAST = 5.0
"""From here on a said reserve means "this many or more": the RPE scale names repetitions down to
RPE 5 only (Zourdos et al. 2016)."""

UNTIMED_GAP_DAYS = 0.25  # Between two sessions of one date when no times were written

USUAL_RIR = 2.0
USUAL_RIR_SETS = 3.0
"""The running mean of said RIR starts as if this many sets had said `USUAL_RIR`."""


@dataclass(frozen=True, slots=True)
class SetColumns:
    """Sets sorted by series, then time. Arrays (sets,) unless said otherwise."""

    series: tuple[Series, ...]  # Sorted by name
    lifts: tuple[Lift | None, ...]  # The catalogue's lift of each series; None where it is unknown
    source: Whole  # Index of each set in the sequence it came from
    series_of: Whole
    first: Whole  # (series + 1,) where each series starts, and the end
    day: Whole  # Days as proleptic ordinals
    session: Whole  # Number of the session within the series, from 0
    new_session: Bools
    gap_days: Floats
    load_kg: Floats  # Effective load; nan where it is not known
    reps: Floats  # Of the first part
    rir: Floats  # The midpoint of what was said; nan where nothing was
    rir_width: Floats
    rir_or_usual: Floats  # What was said; where nothing was, the running mean of the series so far
    rest_s: Floats  # nan where unknown
    confirmed: Bools  # Said to be true, or what tries led to, step by step: no slip of the pen
    beyond: Bools  # More than anyone lifts (`plausible`), or unlikely
    unlikely: Bools
    """Far more than is usual at the bodyweight or than tries led to, not confirmed, borne out by no
    other day."""
    why_not: Whole
    parts_s: Floats
    parts_fast: Floats
    parts_slow: Floats

    def part(self, series: slice, offset: int) -> "SetColumns":
        """Some neighbouring series alone; `offset` is where their sets began in the log."""
        first = self.first[series.start : series.stop + 1]
        sets = slice(int(first[0]), int(first[-1]))
        own = {
            "series": self.series[series],
            "lifts": self.lifts[series],
            "first": first - first[0],
            "source": self.source[sets] - offset,
            "series_of": self.series_of[sets] - series.start,
        }
        others = {each.name: getattr(self, each.name)[sets] for each in fields(self)
                  if each.name not in own}  # fmt: skip
        return SetColumns(**own, **others)


def columns_of(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    policy: Policy,
    fatigue: FatigueLaw,
    bodyweights: Bodyweights,
    unlike_later: Collection[int] = (),
    experience: Experience = "advanced",
) -> SetColumns:
    """Sorts, groups and annotates `sets`, in whatever order they come; `unlike_later` are indices
    of those that hindsight sets aside (`outliers.unlike_later_sets`); `experience` says how much
    is asked about."""
    log, moments = Logged.of(sets), Moments.of(sets)
    series, series_of = _series_of(sets)
    lifts = tuple(catalogue.find(lift) for _, lift in series)
    order, again = in_time(sets, log, moments, series_of)
    if (np.diff(order) < 0).any():
        log, series_of = log.sorted_by(order), series_of[order]
    day, clock_days = moments.day[order], (moments.day + moments.second / 86400.0)[order]
    fresh = differs(series_of)
    apart = np.diff(clock_days, prepend=0.0) > policy.number("strength.new_session_hours") / 24.0
    new = fresh | differs(day) | apart | again
    first = np.append(np.flatnonzero(fresh), len(order))
    whose = _Whose(sets, order, lifts, series_of, bodyweights)
    load, reps, rir = whose.effective(log.load), log.reps, (log.rir_low + log.rir_high) / 2.0
    parts_s, parts_fast, parts_slow = _later_parts(sets, order, log.parts, policy, fatigue)
    session = _running_count(new, first, series_of)
    limits = Limits.of(policy, experience)
    worth = limits.one_rm_kg(load, reps)
    beyond = whose.above(limits.most_one_rm_kg, worth)
    why_not = _why_not(log, load, new, policy)
    tried = log.method == METHODS["try"]
    led_to = limits.led_to(tried | (log.rir_low >= MOST_SAID), load, new)
    climbed = (load <= led_to * limits.step) & (load >= led_to / limits.step)
    asked = whose.above(limits.ask_one_rm_kg, worth) | (load > led_to * limits.leap)
    said = np.where(beyond | (why_not != 0), 0.0, worth)
    unlikely = limits.alone(asked & ~log.confirmed & (said > 0) & (reps > 0), said, day, series_of)
    sound = (why_not == 0) & ~beyond & ~unlikely
    why_not[(why_not == 0) & _led_on(tried, sound, log.rir_high, new)] = TRY
    why_not[(why_not == 0) & np.isin(order, list(unlike_later))] = UNLIKE_LATER
    easy = _says_at_least(log, load, new)
    why_not[(why_not == 0) & _easy_on_purpose(easy, load, reps, rir, session, first, why_not)] = (
        _EASY
    )
    return SetColumns(
        series=series,
        lifts=lifts,
        source=order,
        series_of=series_of,
        first=first,
        day=day,
        session=session,
        new_session=new,
        gap_days=_gaps(clock_days, day, new, fresh),
        load_kg=load,
        reps=reps,
        rir=rir,
        rir_width=log.rir_high - log.rir_low,
        rir_or_usual=_rir_or_usual(np.where(why_not == TRY, np.nan, rir), first, series_of),
        rest_s=log.rest_s,
        confirmed=log.confirmed | (climbed & ~beyond & ~unlikely),
        beyond=beyond | unlikely,
        unlikely=unlikely,
        why_not=why_not,
        parts_s=parts_s,
        parts_fast=parts_fast,
        parts_slow=parts_slow,
    )


def _series_of(sets: Sequence[SetDone]) -> tuple[tuple[Series, ...], Whole]:
    number: defaultdict[Series, int] = defaultdict(count().__next__)
    named = map(attrgetter("lifter", "lift"), sets)
    found = np.fromiter(map(number.__getitem__, named), np.int64, len(sets))
    series = tuple(sorted(number, key=lambda key: (key[0] or "", key[1])))
    place = np.empty(len(series), dtype=np.int64)
    place[[number[key] for key in series]] = np.arange(len(series))
    return series, place[found]


def _gaps(clock_days: Floats, day: Whole, new: Bools, fresh: Bools) -> Floats:
    """Days since the last session began: whole days, or hours for a second session of a day."""
    starts = np.flatnonzero(new)
    whole = np.diff(day[starts], prepend=0).astype(float)
    hours = np.diff(clock_days[starts], prepend=0.0)
    gaps = np.zeros(len(day))
    gaps[starts] = np.where(whole > 0, whole, np.maximum(hours, UNTIMED_GAP_DAYS))
    gaps[fresh] = 0.0
    return gaps


def _running_count(marks: Bools, first: Whole, series_of: Whole) -> Whole:
    """Marks up to and with each set of its series, less one."""
    total = np.cumsum(marks)
    return np.asarray(total - total[first[:-1]][series_of], dtype=np.int64)


def _rir_or_usual(rir: Floats, first: Whole, series_of: Whole) -> Floats:
    said = np.isfinite(rir)
    usual, missing = rir.copy(), np.flatnonzero(~said)
    if not missing.size:
        return usual
    before = np.concatenate([[0.0], np.cumsum(np.where(said, rir, 0.0))])
    count = np.concatenate([[0.0], np.cumsum(said)])
    start = first[:-1][series_of[missing]]
    total, number = before[missing] - before[start], count[missing] - count[start]
    usual[missing] = (total + USUAL_RIR * USUAL_RIR_SETS) / (number + USUAL_RIR_SETS)
    return usual


@dataclass(frozen=True, slots=True)
class _Whose:
    """Who did each set with what, for what depends on the bodyweight of the day."""

    sets: Sequence[SetDone]
    order: Whole
    lifts: tuple[Lift | None, ...]
    series_of: Whole
    bodyweights: Bodyweights

    def effective(self, load: Floats) -> Floats:
        """Effective loads, kg; nan where a bodyweight is needed and not known."""
        moved = [lift is not None and lift.moves_body for lift in self.lifts]
        if not any(moved):
            return load
        found, weight_on = load.copy(), self.bodyweights.reader()
        for index in np.flatnonzero(np.array(moved)[self.series_of]).tolist():
            one, lift = self.sets[self.order[index]], self.lifts[self.series_of[index]]
            weight = weight_on(one.lifter, one.moment.day)
            effective = None if lift is None else effective_load_kg(lift, one.load_kg, weight)
            found[index] = np.nan if effective is None else effective
        return found

    def above(self, most: Callable[[Lift | None, float | None], float], worth: Floats) -> Bools:
        """Sets that speak for more than `most`, against the bodyweight of their day."""
        least = self.bodyweights.least()
        lowest = np.array([most(lift, least) for lift in self.lifts])
        found = np.asarray(worth > lowest[self.series_of], dtype=bool)
        weight_on = self.bodyweights.reader()
        for index in np.flatnonzero(found).tolist():
            one = self.sets[self.order[index]]
            weight = weight_on(one.lifter, one.moment.day)
            found[index] = worth[index] > most(self.lifts[self.series_of[index]], weight)
        return found


def _why_not(log: Logged, load: Floats, new: Bools, policy: Policy) -> Whole:
    """The number of the strongest reason in `NOT_EVIDENCE`, 0 for evidence."""
    method = log.method
    again = ~new & (method == np.roll(method, 1)) & ((method == 2) | (method == 3))
    short = log.rest_s <= policy.number("strength.mini_set_rest_s")
    why = np.zeros(len(load), dtype=np.int64)
    for number, holds in (
        (_MINI_SET, again & short),
        (_LONG_SET, log.reps > policy.number("strength.evidence_max_reps")),
        (_PAIN, log.pain > policy.number("strength.evidence_max_pain")),
        (_PART_RANGE, ~log.full_range),
        (_BAD_LOAD, ~(load > 0)),
        (_NO_BODYWEIGHT, np.isnan(load)),
        (WARMUP, method == 1),
    ):
        why[holds] = number
    return why


def _led_on(tried: Bools, sound: Bools, left: Floats, new: Bools) -> Bools:
    """Tries that say nothing: a work set or another try came after them that day, or nobody
    counted what was left."""
    day = np.cumsum(new)
    last = np.full(len(tried) + 1, -1)
    works = np.flatnonzero(sound & ~tried)
    np.maximum.at(last, day[works], works)
    again = np.roll(tried & ~new, -1)
    return np.asarray(tried & ((np.arange(len(tried)) < last[day]) | again | ~(left < MOST_SAID)))


def _says_at_least(log: Logged, load: Floats, new: Bools) -> Bools:
    """Sets of which as many or more were left as anybody can tell ("4-5" too), and those beside
    one at its load on the day that say nothing of it."""
    easy = log.rir_high >= RIR_AT_LEAST
    silent = np.isnan(log.rir_high)
    alike = ~new & (load == np.roll(load, 1))  # as the set before
    for place in np.flatnonzero(silent & alike).tolist():
        easy[place] = easy[place - 1]
    for place in np.flatnonzero(silent & np.append(alike[1:], False))[::-1].tolist():
        easy[place] |= easy[place + 1]
    return easy


def _easy_on_purpose(
    easy: Bools,
    load: Floats,
    reps: Floats,
    rir: Floats,
    session: Whole,
    first: Whole,
    why_not: Whole,
) -> Bools:
    """Sets with so much in reserve that they only say "at least", and no more than is known.

    Such a set counts while nothing else is known, and where it speaks for more than the best set of
    the last session that was not easy (compared by load x (1 + (reps + RIR) / 30)). A deload's
    sets, half as heavy and half as long, would else read as a collapse."""
    found = np.zeros(len(load), dtype=bool)
    if not easy.any():
        return found
    worth = load * (1.0 + (reps + np.nan_to_num(rir)) / 30.0)
    starts, ends = first[:-1], first[1:]
    for start, end in zip(starts.tolist(), ends.tolist(), strict=True):
        if not easy[start:end].any():
            continue
        last = today = 0.0
        for place in range(start, end):
            if place > start and session[place] != session[place - 1]:
                last, today = today or last, 0.0
            if why_not[place]:
                continue
            found[place] = easy[place] and worth[place] <= last
            if not found[place]:
                today = max(today, worth[place])
    return found


def _later_parts(
    sets: Sequence[SetDone], order: Whole, parts: Whole, policy: Policy, fatigue: FatigueLaw
) -> tuple[Floats, Floats, Floats]:
    """Seconds the later parts of each set take, and the fatigue they have left by its end."""
    seconds, fast, slow = np.zeros(len(order)), np.zeros(len(order)), np.zeros(len(order))
    pause = policy.number("fatigue.part_rest_s")
    for index in np.flatnonzero(parts > 1).tolist():
        one = sets[order[index]]
        seconds[index], fast[index], slow[index] = parts_left(one.reps[1:], one.rir, pause, fatigue)
    return seconds, fast, slow


def parts_left(
    later_reps: Sequence[float], rir: float | None, pause_s: float, fatigue: FatigueLaw
) -> tuple[float, float, float]:
    """Seconds that the parts after the first of a rest-pause or drop set take, and the fast and
    slow fatigue they have left by its end."""
    fast = slow = 0.0
    for place, reps in enumerate(later_reps, start=1):
        left = pause_s * (len(later_reps) - place)
        added = dose(float(reps), reps + (rir or 0.0), fatigue)
        fast += fatigue.fast_share * added * np.exp(-left / fatigue.fast_tau_s)
        slow += (1 - fatigue.fast_share) * added * np.exp(-left / fatigue.slow_tau_s)
    return pause_s * len(later_reps), float(fast), float(slow)
