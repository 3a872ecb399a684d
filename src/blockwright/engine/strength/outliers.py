"""Rows of a log that are possible but unlikely: a slipped decimal, the other unit, a copy.

Looks at the whole log at once, before and after each row, so it belongs to `check`; the estimate
itself judges each set from earlier ones only (`filter.py`), save a lift's first sets, which have no
earlier ones. Nothing is deleted: a suspicion is a question."""

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from itertools import pairwise
from statistics import median
from typing import NamedTuple

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.training import Catalogue, Experience, Lift, SetDone, effective_load_kg
from blockwright.engine.units import KG_PER_LB
from .copies import sessions_again
from .plausible import Floats, Limits
from .slips import SLIPS, Slip, Suspicion, SuspicionKind, lacks_digit, likeliest_slip, written_of

_LOAD_KINDS: frozenset[SuspicionKind] = frozenset([*SLIPS, "far_above"])
_MOST_REPS_COMPARED = 30
_HELD = math.log(1.15)  # How steady a lift must stay for a jump to count as held, in log


class _Rated(NamedTuple):
    """A set as one number that can be compared with others of its lift."""

    capacity: float
    place: int  # Index into the log
    day: date
    moved_kg: float  # The effective load
    lift: Lift | None
    led_to_kg: float = math.nan  # The heaviest load of the tries before it in its session


def suspect_rows(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    policy: Policy,
    bodyweight_kg: float | None = None,
    experience: Experience = "advanced",
) -> Mapping[int, Suspicion]:
    """Questions by index into `sets`, which must be in time order; confirmed sets have none.

    Bodyweight lifts are compared only when `bodyweight_kg` is known."""
    thresholds = _Thresholds(policy)
    found: dict[int, Suspicion] = {}
    by_lift = _rated_by_lift(sets, catalogue, thresholds, bodyweight_kg)
    references = {
        rated.place: (rated, usual)
        for group in by_lift
        if _is_wide(group, thresholds)
        for rated, usual in _with_usual(group, thresholds)
    }
    light = _light_days(sets, references)
    for index, (rated, usual) in references.items():
        is_easy = _is_easy(sets[index], light, thresholds)
        question = _judged(sets[index], rated, usual, thresholds, is_easy)
        if question is not None:
            found[index] = question
    for group in filter(lambda group: _is_wide(group, thresholds), by_lift):
        # Deloads are light on purpose: they would look like a change of unit and back.
        hard = [r for r in group if not _is_easy(sets[r.place], light, thresholds)]
        for index, question in _unit_switches(hard, sets, thresholds):
            found.setdefault(index, question)
    for index, done in enumerate(sets):
        if done.first_reps > thresholds.many_reps and done.method != "warmup":
            found.setdefault(index, Suspicion(kind="many_reps"))
    few = (index for group in by_lift for index in _few_reps(group, sets, thresholds))
    for index in few:
        found.setdefault(index, Suspicion(kind="few_reps"))
    for index, row in sessions_again(sets, thresholds.session_sets):
        found.setdefault(index, Suspicion(kind="session_again", like_row=row))
    limits = Limits.of(policy, experience)
    beyond = _beyond_anyone(by_lift, sets, limits, bodyweight_kg)
    for group in by_lift:
        possible = [rated for rated in group if rated.place not in beyond]
        for index, question in _of_few(possible, sets, thresholds):
            found.setdefault(index, question)
    for index, question in beyond.items():
        found.setdefault(index, question)
    for index in _unlikely(by_lift, beyond, sets, limits, bodyweight_kg):
        found.setdefault(index, Suspicion(kind="unlikely"))
    return {index: found[index] for index in sorted(found) if not sets[index].confirmed}


def unlike_later_sets(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    policy: Policy,
    bodyweight_kg: float | None = None,
) -> frozenset[int]:
    """Indices of the sets a lift's series opens with that are suspect for their load.

    The filter finds a slip by the sets before it. With none before, it would take the slip for the
    truth, the truth for the slip, and the way back for a fall."""
    if not _openings_in_doubt(sets, catalogue, policy, bodyweight_kg):
        return frozenset()
    suspect = suspect_rows(sets, catalogue, policy, bodyweight_kg)
    found: set[int] = set()
    begun: set[tuple[str | None, str]] = set()
    for index, done in enumerate(sets):
        if done.method == "warmup" or (done.lifter, done.lift) in begun:
            continue
        asked = suspect.get(index)
        if asked is not None and (asked.kind in _LOAD_KINDS or asked.is_heavier):
            found.add(index)
        elif asked is None or asked.kind != "beyond_anyone":  # the filter leaves those out itself
            begun.add((done.lifter, done.lift))
    return frozenset(found)


def _openings_in_doubt(
    sets: Sequence[SetDone], catalogue: Catalogue, policy: Policy, bodyweight_kg: float | None
) -> bool:
    """Whether the first set of any lift could be suspect for its load: it is far from one of those
    it would be compared with, or more than anyone lifts. Most logs need no closer look."""
    thresholds = _Thresholds(policy)
    heads: dict[tuple[str | None, str], list[SetDone]] = defaultdict(list)
    for done in sets:
        head = heads[done.lifter, done.lift]
        # The sets of the first day, and twice as many as one is compared with after it.
        if done.method != "warmup" and (
            len(head) < 2 * thresholds.neighbours
            or head[-2 * thresholds.neighbours].moment.day == head[0].moment.day
        ):
            head.append(done)
    for (_, lift), head in heads.items():
        for group in _rated_by_lift(head, catalogue, thresholds, bodyweight_kg):
            most = thresholds.limits.most_one_rm_kg(catalogue.lifts.get(lift), bodyweight_kg)
            if _is_wide(group, thresholds) or max(group).capacity > most:
                return True
    return False


class _Thresholds:
    def __init__(self, policy: Policy) -> None:
        self.limits = Limits.of(policy)
        self.neighbours = policy.whole("suspect.neighbour_sets")
        self.needed = policy.whole("suspect.needed_sets")
        self.far = math.log(policy.number("suspect.far_ratio"))
        self.ten = math.log1p(policy.number("suspect.ten_tolerance_pct") / 100)
        self.unit = math.log1p(policy.number("suspect.unit_tolerance_pct") / 100)
        self.easy_rir = policy.number("suspect.easy_rir")
        self.unknown_rir = policy.number("suspect.unknown_rir")
        self.per_rep = policy.number("suspect.kg_per_rep_share")
        self.many_reps = policy.whole("suspect.many_reps")
        self.session_sets = policy.whole("suspect.session_sets")
        self.near: Mapping[Slip, float] = {
            slip: self.unit if "pounds" in slip else self.ten for slip in SLIPS
        }


def _rated_by_lift(
    sets: Sequence[SetDone],
    catalogue: Catalogue,
    thresholds: _Thresholds,
    bodyweight_kg: float | None,
) -> list[list[_Rated]]:
    """Each lifter's sets of each lift as comparable numbers, in time order."""
    lifts = catalogue.lifts
    groups: dict[tuple[str | None, str], list[_Rated]] = defaultdict(list)
    for index, done in enumerate(sets):
        if done.method == "warmup" or done.reps[0] == 0:
            continue
        lift = lifts.get(done.lift)
        load = done.loads_kg[0]
        moved = load if lift is None else effective_load_kg(lift, load, bodyweight_kg)
        if moved is None or moved <= 0:
            continue
        rir = thresholds.unknown_rir if done.rir is None else done.rir
        reps = min(done.reps[0] + rir, _MOST_REPS_COMPARED)
        capacity = moved * (1 + thresholds.per_rep * reps)
        groups[done.lifter, done.lift].append(_Rated(capacity, index, done.moment.day, moved, lift))
    return [_without_light_tries(group, sets, thresholds.limits) for group in groups.values()]


def _without_light_tries(
    group: list[_Rated], sets: Sequence[SetDone], limits: Limits
) -> list[_Rated]:
    """Without tries that led to as much the same day: they were light, and no measure of it."""
    light = np.array([sets[rated.place].method == "try" for rated in group])
    if not light.any():
        return group
    fresh = np.array([True, *(a.day != b.day for a, b in pairwise(group))])
    led_to = limits.led_to(light, np.array([rated.moved_kg for rated in group]), fresh)
    kept: list[_Rated] = []
    for at in range(len(group) - 1, -1, -1):
        rated = group[at]._replace(led_to_kg=float(led_to[at]))
        led_on = kept and kept[-1].day == rated.day and kept[-1].moved_kg >= rated.moved_kg
        if not (led_on and light[at]):
            kept.append(rated)
    return kept[::-1]


def _is_wide(group: list[_Rated], thresholds: _Thresholds) -> bool:
    """Whether any set of a lift can be far from another at all; most lifts need no closer look."""
    return math.log(max(group).capacity / min(group).capacity) >= thresholds.far


def _with_usual(group: list[_Rated], thresholds: _Thresholds) -> Iterator[tuple[_Rated, float]]:
    """Each set with the median of its neighbours on other days (of all others if too few)."""
    for begin, end in _day_spans(group):
        before = group[max(0, begin - thresholds.neighbours) : begin]
        others = [r.capacity for r in before + group[end : end + thresholds.neighbours]]
        if len(others) >= thresholds.needed:
            usual = median(others)
            for rated in group[begin:end]:
                yield rated, usual
            continue
        same_day = group[begin:end]
        for at, rated in enumerate(same_day):
            near = others + [r.capacity for r in same_day[:at] + same_day[at + 1 :]]
            if len(near) >= thresholds.needed:
                yield rated, median(near)


def _day_spans(group: list[_Rated]) -> Iterator[tuple[int, int]]:
    begin = 0
    for at in range(1, len(group) + 1):
        if at == len(group) or group[at].day != group[begin].day:
            yield begin, at
            begin = at


def _light_days(
    sets: Sequence[SetDone], references: Mapping[int, tuple[_Rated, float]]
) -> set[tuple[str | None, date]]:
    """Days on which several lifts were far below the usual: a deload, not a mistake."""
    low: dict[tuple[str | None, date], set[str]] = defaultdict(set)
    trained: dict[tuple[str | None, date], set[str]] = defaultdict(set)
    for index, (rated, usual) in references.items():
        done = sets[index]
        trained[done.lifter, done.moment.day].add(done.lift)
        if rated.capacity < 0.75 * usual:
            low[done.lifter, done.moment.day].add(done.lift)
    return {
        day for day, lifts in low.items() if len(lifts) >= 2 and 2 * len(lifts) >= len(trained[day])
    }


def _is_easy(done: SetDone, light: set[tuple[str | None, date]], thresholds: _Thresholds) -> bool:
    """Whether a set was light on purpose: far from failure, or on a light day."""
    if done.rir is not None and done.rir >= thresholds.easy_rir:
        return True
    return (done.lifter, done.moment.day) in light


def _judged(
    done: SetDone, rated: _Rated, usual: float, thresholds: _Thresholds, is_easy: bool
) -> Suspicion | None:
    """The likeliest mistake behind a set far from the usual, or None."""
    away = math.log(rated.capacity / usual)
    if abs(away) < thresholds.far or (away < 0 and done.method == "try"):
        return None
    load_kg, moved_kg = done.load_kg, rated.moved_kg
    usual_kg = written_of(rated.lift, load_kg, moved_kg, moved_kg * math.exp(-away))
    but: tuple[Slip, ...] = ("kg_as_pounds",) if is_easy else ()
    slip = likeliest_slip(rated.lift, load_kg, moved_kg, away, thresholds.near, but)
    if slip is not None:
        return Suspicion(kind=slip[0], usual_kg=usual_kg, meant_kg=slip[1])
    return Suspicion(kind="far_above", usual_kg=usual_kg) if away > 0 else None


def _of_few(
    group: list[_Rated], sets: Sequence[SetDone], thresholds: _Thresholds
) -> Iterator[tuple[int, Suspicion]]:
    """Where a lift has too few sets for a usual one: three of which two agree are judged by those
    two; of two that lie ten times apart nobody can tell which is wrong, so both are asked about."""
    if len(group) == 2:
        apart = math.log(group[0].capacity / group[1].capacity)
        if abs(abs(apart) - math.log(10)) <= thresholds.ten:
            for one, other in (group, group[::-1]):
                is_heavier = one.capacity > other.capacity
                meant_kg = sets[one.place].load_kg * (0.1 if is_heavier else 10)
                row = sets[other.place].row
                yield (
                    one.place,
                    Suspicion(
                        kind="one_of_two", meant_kg=meant_kg, like_row=row, is_heavier=is_heavier
                    ),
                )
    elif 2 < len(group) <= thresholds.needed:
        for at, rated in enumerate(group):
            others = [r.capacity for r in group[:at] + group[at + 1 :]]
            if math.log(max(others) / min(others)) < _HELD:
                done, usual = sets[rated.place], median(others)
                is_easy = _is_easy(done, set(), thresholds)
                question = _judged(done, rated, usual, thresholds, is_easy)
                if question is not None:
                    yield rated.place, question


def _few_reps(
    group: list[_Rated], sets: Sequence[SetDone], thresholds: _Thresholds
) -> Iterator[int]:
    """Sets whose repetitions lack a digit beside others of their load or more."""
    for at, rated in enumerate(group):
        done = sets[rated.place]
        if done.first_reps > 3 or done.method != "straight":
            continue
        near = group[max(0, at - thresholds.neighbours) : at + thresholds.neighbours]
        others = [sets[r.place].first_reps for r in near
                  if r.place != rated.place and r.moved_kg >= rated.moved_kg]  # fmt: skip
        asks = lacks_digit(done.first_reps, done.rir, done.pain, others)
        if asks and len(others) >= thresholds.needed:
            yield rated.place


def _beyond_anyone(
    by_lift: list[list[_Rated]],
    sets: Sequence[SetDone],
    limits: Limits,
    bodyweight_kg: float | None,
) -> dict[int, Suspicion]:
    """Sets that no lifter can have done; a tenth is offered where that is possible."""
    found: dict[int, Suspicion] = {}
    for group in by_lift:
        most = limits.most_one_rm_kg(group[0].lift, bodyweight_kg)
        if max(group).capacity <= most:
            continue
        for rated, worth in zip(group, _worth(group, sets, limits).tolist(), strict=True):
            if worth > most:
                meant_kg = sets[rated.place].load_kg / 10 if worth / 10 <= most else None
                found[rated.place] = Suspicion(kind="beyond_anyone", meant_kg=meant_kg)
    return found


def _worth(group: list[_Rated], sets: Sequence[SetDone], limits: Limits) -> Floats:
    """Each set of a lift read as a 1RM, kg."""
    moved = np.array([rated.moved_kg for rated in group])
    reps = np.array([float(sets[rated.place].first_reps) for rated in group])
    return limits.one_rm_kg(moved, reps)


def _unlikely(
    by_lift: list[list[_Rated]],
    beyond: Mapping[int, Suspicion],
    sets: Sequence[SetDone],
    limits: Limits,
    bodyweight_kg: float | None,
) -> Iterator[int]:
    """Sets far above the usual at a bodyweight, or above the tries before them, that no other day
    bears out; so the filter, too."""
    for lift_sets in by_lift:
        group = [rated for rated in lift_sets if rated.place not in beyond]
        if not group:
            continue
        worth = _worth(group, sets, limits)
        asked = worth > limits.ask_one_rm_kg(group[0].lift, bodyweight_kg)
        asked |= np.array([one.moved_kg > one.led_to_kg * limits.leap for one in group])
        day = np.array([rated.day.toordinal() for rated in group], dtype=np.int64)
        alone = limits.alone(asked, worth, day, np.zeros(len(group), dtype=np.int64))
        yield from (group[at].place for at in np.flatnonzero(alone).tolist())


def _unit_switches(
    group: list[_Rated], sets: Sequence[SetDone], thresholds: _Thresholds
) -> Iterator[tuple[int, Suspicion]]:
    """Jumps by the ratio of pound to kilogram between two steady levels of two sessions each."""
    spans = list(_day_spans(group))
    levels = [math.log(median(r.capacity for r in group[begin:end])) for begin, end in spans]
    for at in range(2, len(levels) - 1):
        jump = levels[at] - levels[at - 1]
        steps_beside = (levels[at - 1] - levels[at - 2], levels[at + 1] - levels[at])
        is_steady = all(abs(step) < _HELD for step in steps_beside)
        if is_steady and abs(abs(jump) + math.log(KG_PER_LB)) <= thresholds.unit:
            place = group[spans[at][0]].place
            factor = KG_PER_LB if jump > 0 else 1 / KG_PER_LB
            yield place, Suspicion(kind="unit_switch", meant_kg=sets[place].load_kg * factor)
