"""Logged sets to the filter's columns: one series a lifter and lift, in the order of time.

Everything that can be said of a set without the filter is said here: its effective load, its
session, whether it is evidence of strength and, if not, why.
"""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.fatigue import FatigueLaw, dose
from blockwright.engine.policy import Policy
from blockwright.engine.strength.bodyweights import Bodyweights
from blockwright.engine.strength.plausible import Limits
from blockwright.engine.training import (
    Catalogue,
    Lift,
    Moment,
    SetDone,
    effective_load_kg,
)

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Whole = NDArray[np.int64]

Series = tuple[str | None, str]
"""Lifter (None where the log names none) and lift."""

NOT_EVIDENCE = (
    "", "warmup", "no_bodyweight", "load_not_above_zero", "not_full_range", "painful_set",
    "too_many_reps", "mini_set", "easy_on_purpose", "unlike_later_sets",
    "try_on_the_way",
)  # fmt: skip
"""Why a set says nothing of strength, by the number in `SetColumns.why_not`; 0: it does."""
(WARMUP, _NO_BODYWEIGHT, _BAD_LOAD, _PART_RANGE, _PAIN, _LONG_SET, _MINI_SET,
 _EASY, UNLIKE_LATER, _TRY) = range(1, 11)  # fmt: skip

RIR_AT_LEAST = 5.0
"""From here on a said reserve means "this many or more": the RPE scale names repetitions down to
RPE 5 only (Zourdos et al. 2016)."""

UNTIMED_GAP_DAYS = 0.25
"""Between two sessions of one date when no times were written."""

USUAL_RIR = 2.0
USUAL_RIR_SETS = 3.0
"""The running mean of said RIR starts as if this many sets had said `USUAL_RIR`."""


_METHODS = {"warmup": 1, "rest-pause": 2, "drop": 3, "try": 4}


@dataclass(frozen=True, slots=True)
class SetColumns:
    """Sets sorted by series, then time. Arrays (sets,) unless said otherwise."""

    series: tuple[Series, ...]
    """Sorted by name."""
    lifts: tuple[Lift | None, ...]
    """The catalogue's lift of each series; None where it is unknown."""
    source: Whole
    """Index of each set in the sequence it came from."""
    series_of: Whole
    first: Whole
    """(series + 1,) where each series starts, and the end."""
    day: Whole
    """Days as proleptic ordinals."""
    session: Whole
    """Number of the session within the series, from 0."""
    new_session: Bools
    gap_days: Floats
    load_kg: Floats
    """Effective load; nan where it is not known."""
    reps: Floats
    """Of the first part."""
    rir: Floats
    """The midpoint of what was said; nan where nothing was."""
    rir_width: Floats
    usual_rir: Floats
    """Running mean of the RIR said in earlier sets of the series."""
    rest_s: Floats
    """nan where unknown."""
    confirmed: Bools
    beyond: Bools
    """More than anyone lifts (`plausible`), or unlikely."""
    unlikely: Bools
    """Far more than is usual at the bodyweight, not confirmed, borne out by no other day."""
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
) -> SetColumns:
    """Sorts, groups and annotates `sets`, in whatever order they come; `unlike_later` are indices
    of those that hindsight sets aside (`outliers.unlike_later_sets`)."""
    series, series_of = _series_of(sets)
    lifts = tuple(catalogue.find(lift) for _, lift in series)
    order, again, day, clock_days = _in_time(sets, series_of)
    series_of = series_of[order]
    fresh = _differs(series_of)
    apart = np.diff(clock_days, prepend=0.0) > policy.number("strength.new_session_hours") / 24.0
    new = fresh | _differs(day) | apart | again
    done = [sets[index] for index in order.tolist()]
    load = _effective(done, lifts, series_of, bodyweights)
    rir_low, rir_high = (_or_nan(done, name) for name in ("rir_low", "rir_high"))
    rir = (rir_low + rir_high) / 2.0
    first = np.append(np.flatnonzero(fresh), len(done))
    parts_s, parts_fast, parts_slow = _later_parts(done, policy, fatigue)
    reps = np.array([s.reps[0] for s in done], dtype=float)
    rest_s = _or_nan(done, "rest_s")
    session = _running_count(new, first, series_of)
    confirmed = np.array([s.confirmed for s in done], dtype=bool)
    limits = Limits.of(policy)
    setting = (done, load, reps, lifts, series_of, bodyweights, limits)
    beyond = _above(limits.most_one_rm_kg, *setting)
    why_not = _why_not(done, load, reps, rest_s, new, policy)
    asked = _above(limits.ask_one_rm_kg, *setting)
    said = np.where(beyond | (why_not != 0), 0.0, limits.one_rm_kg(load, reps))
    unlikely = limits.alone(asked & ~confirmed & (said > 0) & (reps > 0), said, day, series_of)
    why_not[(why_not == 0) & np.isin(order, list(unlike_later))] = UNLIKE_LATER
    why_not[(why_not == 0) & _easy_on_purpose(load, reps, rir, session, first, why_not)] = _EASY
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
        rir_width=rir_high - rir_low,
        usual_rir=_usual_rir(rir, first, series_of),
        rest_s=rest_s,
        confirmed=confirmed,
        beyond=beyond | unlikely,
        unlikely=unlikely,
        why_not=why_not,
        parts_s=parts_s,
        parts_fast=parts_fast,
        parts_slow=parts_slow,
    )


def _series_of(sets: Sequence[SetDone]) -> tuple[tuple[Series, ...], Whole]:
    keys = [(one.lifter, one.lift) for one in sets]
    series = tuple(sorted(set(keys), key=lambda key: (key[0] or "", key[1])))
    number = {key: index for index, key in enumerate(series)}
    return series, np.array([number[key] for key in keys], dtype=np.int64)


def _or_nan(done: Sequence[SetDone], name: str) -> Floats:
    said = (getattr(one, name) for one in done)
    return np.array([np.nan if value is None else value for value in said], dtype=float)


def _in_time(sets: Sequence[SetDone], series_of: Whole) -> tuple[Whole, Bools, Whole, Floats]:
    """The order of time within series, where a second session of one plain date starts, and in
    that order each set's day and its moment in days.

    The set number decides within one moment; where it names a set twice the sets were counted
    from 1 twice, and the order of the file decides.
    """
    day = np.array([one.moment.day.toordinal() for one in sets], dtype=np.int64)
    second = np.array([_second_of(one.moment) for one in sets], dtype=float)
    number = np.array([one.set_number for one in sets], dtype=np.int64)
    row = np.array([one.row for one in sets], dtype=np.int64)
    order = np.lexsort((row, number, second, day, series_of))
    again = np.zeros(len(order), dtype=bool)
    moment = np.cumsum(
        _differs(series_of[order])
        | _differs(day[order])
        | (np.diff(second[order], prepend=-1) != 0)
    )
    twice = (np.diff(moment, prepend=-1) == 0) & ~_differs(number[order])
    if twice.any():
        doubled = np.isin(moment, moment[twice])
        numbers = np.empty_like(number)
        numbers[order] = np.where(doubled, 0, number[order])
        order = np.lexsort((row, numbers, second, day, series_of))
        restart = np.diff(number[order], prepend=0) <= 0
        again = doubled & (np.diff(moment, prepend=-1) == 0) & restart & (number[order] == 1)
    return order, again, day[order], day[order] + second[order] / 86400.0


def _second_of(moment: Moment) -> float:
    """Seconds into the day it belongs to: past 24 hours for an evening's set after midnight."""
    if moment.at is None:
        return 0.0
    at, nights = moment.at, moment.at.toordinal() - moment.day.toordinal()
    return nights * 86400.0 + at.hour * 3600.0 + at.minute * 60.0 + at.second


def _differs(values: Whole) -> Bools:
    """Whether each value differs from the one before it; the first always does."""
    return np.asarray(np.diff(values, prepend=values[:1] - 1) != 0)


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


def _usual_rir(rir: Floats, first: Whole, series_of: Whole) -> Floats:
    said = np.isfinite(rir)
    before = np.concatenate([[0.0], np.cumsum(np.where(said, rir, 0.0))])
    count = np.concatenate([[0.0], np.cumsum(said)])
    start = first[:-1][series_of]
    total = before[:-1] - before[start]
    number = count[:-1] - count[start]
    usual: Floats = (total + USUAL_RIR * USUAL_RIR_SETS) / (number + USUAL_RIR_SETS)
    return usual


def _effective(
    done: Sequence[SetDone],
    lifts: tuple[Lift | None, ...],
    series_of: Whole,
    bodyweights: Bodyweights,
) -> Floats:
    load = np.array([one.loads_kg[0] for one in done], dtype=float)
    needs = [
        lift is not None and lift.load_kind in ("bodyweight_plus", "assisted") for lift in lifts
    ]
    weight_on = bodyweights.reader()
    for index in np.flatnonzero(np.array(needs, dtype=bool)[series_of]).tolist():
        one, lift = done[index], lifts[series_of[index]]
        weight = weight_on(one.lifter, one.moment.day)
        effective = None if lift is None else effective_load_kg(lift, one.load_kg, weight)
        load[index] = np.nan if effective is None else effective
    return load


def _above(
    most: Callable[[Lift | None, float | None], float],
    done: Sequence[SetDone],
    load: Floats,
    reps: Floats,
    lifts: tuple[Lift | None, ...],
    series_of: Whole,
    bodyweights: Bodyweights,
    limits: Limits,
) -> Bools:
    """Sets that speak for more than `most`, against the bodyweight of their day."""
    worth = limits.one_rm_kg(load, reps)
    least = bodyweights.least()
    lowest = np.array([most(lift, least) for lift in lifts])
    found = np.asarray(worth > lowest[series_of], dtype=bool)
    weight_on = bodyweights.reader()
    for index in np.flatnonzero(found).tolist():
        weight = weight_on(done[index].lifter, done[index].moment.day)
        found[index] = worth[index] > most(lifts[series_of[index]], weight)
    return found


def _why_not(
    done: Sequence[SetDone],
    load: Floats,
    reps: Floats,
    rest_s: Floats,
    new: Bools,
    policy: Policy,
) -> Whole:
    """The number of the strongest reason in `NOT_EVIDENCE`, 0 for evidence."""
    pain = np.array([0.0 if s.pain is None else s.pain for s in done], dtype=float)
    method = np.array([_METHODS.get(s.method, 0) for s in done], dtype=np.int64)
    again = ~new & (method == np.roll(method, 1)) & np.isin(method, (2, 3))
    # Of the tries of a session only the last was near the load; those before it were light.
    more_tries = (np.roll(method, -1) == 4) & ~np.roll(new, -1)
    short = rest_s <= policy.number("strength.mini_set_rest_s")
    why = np.zeros(len(done), dtype=np.int64)
    for number, holds in (
        (_TRY, (method == 4) & more_tries),
        (_MINI_SET, again & short),
        (_LONG_SET, reps > policy.number("strength.evidence_max_reps")),
        (_PAIN, pain > policy.number("strength.evidence_max_pain")),
        (_PART_RANGE, np.array([not s.full_range for s in done], dtype=bool)),
        (_BAD_LOAD, ~(load > 0)),
        (_NO_BODYWEIGHT, np.isnan(load)),
        (WARMUP, method == 1),
    ):
        why[holds] = number
    return why


def _easy_on_purpose(
    load: Floats, reps: Floats, rir: Floats, session: Whole, first: Whole, why_not: Whole
) -> Bools:
    """Sets with so much in reserve that they only say "at least", and no more than is known.

    Such a set counts while nothing else is known, and where it speaks for more than the best set
    of the last session that was not easy (compared by load x (1 + (reps + RIR) / 30)). A
    deload's sets, half as heavy and half as long, would else read as a collapse.
    """
    easy = rir >= RIR_AT_LEAST
    found = np.zeros(len(load), dtype=bool)
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
    done: Sequence[SetDone], policy: Policy, fatigue: FatigueLaw
) -> tuple[Floats, Floats, Floats]:
    """Seconds the later parts of each set take, and the fatigue they have left by its end."""
    seconds, fast, slow = np.zeros(len(done)), np.zeros(len(done)), np.zeros(len(done))
    pause = policy.number("fatigue.part_rest_s")
    for index in [number for number, one in enumerate(done) if len(one.reps) > 1]:
        one = done[index]
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
