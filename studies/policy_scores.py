"""What a way of running blocks came to: counts per lifter, ratios over lifters, intervals.

Every measure is a ratio of sums over lifters; its 95 % interval resamples lifters (bootstrap,
2,000 draws, fixed seed), so whatever one lifter's weeks share is respected.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.training import MUSCLES, effective_load_kg
from blockwright.engine.volume import floor_sets
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from studies.simulate_block import BODYWEIGHT_KG, Person

FALL = 0.03
"""ln capacity under the best week before: a decline that asks for an answer."""
STEADY = 0.01
"""Less than this under the best week before: nothing fell."""
ANSWER_WEEKS = 2
"""Weeks within which an answer counts: six to ten sessions of the lifters here."""
DRAWS = 2000

Floats = NDArray[np.float64]
Count = tuple[float, float]
"""What is counted, and of how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LivedWeek:
    """What one week of one lifter really was."""

    number: int
    kind: str
    sets: Mapping[str, float]
    """Fractional sets by muscle."""
    capacity: Mapping[str, float]
    """True ln capacity by lift in the week, what was carried into it taken off."""
    weighed_down: frozenset[str]
    """Muscles that had not recovered when it was over."""
    strength: Mapping[str, float]
    """True ln 1RM by lift when it was over, fatigue not counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Played:
    """One lifter's block as it came to pass."""

    person: Person
    weeks: tuple[LivedWeek, ...]
    proposed: tuple[tuple[int, str, str | None], ...]
    """(week reviewed, kind, muscle) of the proposals that were carried out."""

    @property
    def builds(self) -> tuple[LivedWeek, ...]:
        return tuple(week for week in self.weeks if week.kind == "build")

    def level(self, week: LivedWeek, muscle: str | None = None) -> float | None:
        """Mean ln capacity over the lifts of a muscle (of all lifts), None where it has none."""
        lifts = builtin_catalogue().lifts
        found = [c for lift, c in week.capacity.items()
                 if muscle is None or muscle in lifts[lift].direct]  # fmt: skip
        return float(np.mean(found)) if found else None

    def below_best(self, muscle: str | None = None) -> tuple[float, ...]:
        """By build week: how far the level lies under the best week before (0 at the best)."""
        levels = [self.level(week, muscle) for week in self.builds]
        known = [level for level in levels if level is not None]
        best = np.maximum.accumulate(known) if known else np.empty(0)
        return tuple((best - np.array(known)).tolist())


# ------------------------------------------------------------------------------------ the counts


def declines(below: Sequence[float]) -> tuple[int, ...]:
    """Places of the weeks in which a decline began."""
    down = [fall >= FALL for fall in below]
    return tuple(i for i, now in enumerate(down) if now and (i == 0 or not down[i - 1]))


def answered(played: Played, place: int, muscle: str | None) -> bool:
    """Whether a deload, or fewer sets of the muscle, came within `ANSWER_WEEKS`."""
    week = played.builds[place]
    for later in played.weeks:
        if week.number < later.number <= week.number + ANSWER_WEEKS:
            fewer = muscle is not None and later.sets[muscle] < week.sets[muscle]
            if later.kind == "deload" or fewer:
                return True
    return False


def _of_sets(test: Callable[[float, float], bool]) -> Callable[[Played], Count]:
    """Counts muscle-weeks in the build by (sets, true ceiling)."""

    def count(played: Played) -> Count:
        hits = [
            test(week.sets[muscle], played.person.ceilings[muscle])
            for week in played.builds
            for muscle in MUSCLES
        ]
        return float(sum(hits)), float(len(hits))

    return count


def _in_band(sets: float, ceiling: float) -> bool:
    return floor_sets(default_policy()) <= sets <= ceiling


def _muscle_declines(played: Played) -> Count:
    return float(sum(len(declines(played.below_best(m))) for m in MUSCLES)), 1.0


def _muscle_declines_missed(played: Played) -> Count:
    found = [(place, m) for m in MUSCLES for place in declines(played.below_best(m))]
    missed = sum(not answered(played, place, muscle) for place, muscle in found)
    return float(missed), float(len(found))


def _whole_declines(played: Played) -> Count:
    return float(len(declines(played.below_best()))), 1.0


def _whole_declines_missed(played: Played) -> Count:
    found = declines(played.below_best())
    return float(sum(not answered(played, place, None) for place in found)), float(len(found))


def _proposals(kind: str, *, false_only: bool) -> Callable[[Played], Count]:
    def count(played: Played) -> Count:
        mine = [(week, m) for week, found, m in played.proposed if found == kind]
        if false_only:
            mine = [(week, m) for week, m in mine if _nothing_fell(played, week, m)]
        return float(len(mine)), 1.0

    return count


def _nothing_fell(played: Played, number: int, muscle: str | None) -> bool:
    """Whether the whole lifter (a muscle) was as good as ever in the week reviewed, and a muscle
    carried nothing out of it."""
    place = next(i for i, week in enumerate(played.builds) if week.number == number)
    below = played.below_best(muscle)
    steady = not below or below[place] < STEADY
    return steady and (muscle is None or muscle not in played.builds[place].weighed_down)


def _load_change(played: Played) -> Count:
    """Mean over entries of the change of ln(effective load), first to last build week."""
    first, last = _first_sets(played, 1), _first_sets(played, played.builds[-1].number)
    changes = [100 * math.log(last[key][0] / first[key][0]) for key in first if key in last]
    return float(np.mean(changes)) if changes else 0.0, 1.0


def _short(played: Played) -> Count:
    """First sets, after week one, that ended under the bottom of their range."""
    found = [
        reps < low
        for week in played.builds[1:]
        for _, reps, low in _first_sets(played, week.number).values()
    ]
    return float(sum(found)), float(len(found))


def _first_sets(played: Played, number: int) -> dict[tuple[int, str], tuple[float, int, int]]:
    """(effective kg, repetitions, bottom of the range) of the first sets of a week's entries."""
    lifts = builtin_catalogue().lifts
    week = next(week for week in played.person.block.weeks if week.week == number)
    asked = {
        (session.day, entry.lift): (session.session, entry.sets[0].reps_low)
        for session in week.sessions
        for entry in session.entries
    }
    found = {}
    for done in played.person.sets:
        if done.set_number == 1 and (done.moment.day, done.lift) in asked:
            session, low = asked[done.moment.day, done.lift]
            moved = effective_load_kg(lifts[done.lift], done.load_kg, BODYWEIGHT_KG) or 1.0
            found[session, done.lift] = (moved, done.first_reps, low)
    return found


def _strength_change(played: Played) -> Count:
    """True strength, fatigue not counted: end of week one to the block's end."""
    before, after = played.weeks[0].strength, played.weeks[-1].strength
    return 100 * float(np.mean([after[lift] - before[lift] for lift in before])), 1.0


def _strength_change_a_week(played: Played) -> Count:
    return _strength_change(played)[0], float(len(played.weeks) - 1)


def _performance_change(played: Played) -> Count:
    """True capacity, carried fatigue taken off: first to last build week."""
    levels = [played.level(week) for week in (played.builds[0], played.builds[-1])]
    first, last = (level if level is not None else math.nan for level in levels)
    return 100 * (last - first), 1.0


@dataclass(frozen=True, slots=True)
class Measure:
    """A row of the tables."""

    says: str
    count: Callable[[Played], Count]
    times: float = 1.0
    digits: int = 1
    counts_shown: bool = False
    """Whether "3 of 40" stands beside the ratio."""


MEASURES = (
    Measure("build weeks a block", lambda played: (float(len(played.builds)), 1.0)),
    Measure("muscle-weeks in the productive band, %", _of_sets(_in_band), 100),
    Measure("the same in number, a block", lambda played: (_of_sets(_in_band)(played)[0], 1.0)),
    Measure("muscle-weeks under the floor, %",
            _of_sets(lambda sets, _: sets < floor_sets(default_policy())), 100),
    Measure("overshoots: muscle-weeks over the true ceiling, %",
            _of_sets(lambda sets, ceiling: sets > ceiling), 100),
    Measure("of them by more than a quarter, % of muscle-weeks",
            _of_sets(lambda sets, ceiling: sets > 1.25 * ceiling), 100),
    Measure("declines of a muscle, a block", _muscle_declines),
    Measure("missed, % of them", _muscle_declines_missed, 100, 0, True),
    Measure("declines of the whole lifter, a block", _whole_declines, 1, 2),
    Measure("missed (no deload), % of them", _whole_declines_missed, 100, 0, True),
    Measure("early deloads proposed, a block", _proposals("deload_now", false_only=False), 1, 2),
    Measure("false alarms: early deloads while nothing fell, a block",
            _proposals("deload_now", false_only=True), 1, 2),
    Measure("trims proposed, a block", _proposals("trim_sets", false_only=False)),
    Measure("false alarms: trims while the muscle was well, a block",
            _proposals("trim_sets", false_only=True)),
    Measure("load on the bar, first to last build week, %", _load_change),
    Measure("first sets short of their range, %", _short, 100),
    Measure("true strength over the block, %", _strength_change),
    Measure("the same a week, deload counted, %", _strength_change_a_week, 1, 2),
    Measure("true performance, first to last build week, %", _performance_change),
)  # fmt: skip


# ------------------------------------------------------------------------------------ the tables


def score_table(played: Mapping[str, Sequence[Played]]) -> str:
    """A markdown table: measures by way, each with its 95 % interval."""
    rows = [f"| | {' | '.join(played)} |", "|---|" + "---|" * len(played)]
    for measure in MEASURES:
        cells = [_counted(_counts(measure, group), measure) for group in played.values()]
        rows.append(f"| {measure.says} | {' | '.join(cells)} |")
    return "\n".join(rows)


def difference_table(played: Mapping[str, Sequence[Played]]) -> str:
    """A markdown table: the first way minus each of the others, on the same lifters."""
    first, *others = played
    head = " | ".join(f"less {name}" for name in others)
    rows = [f"| {first}, paired | {head} |", "|---|" + "---|" * len(others)]
    for measure in MEASURES:
        own = _drawn(_counts(measure, played[first]))
        cells = [
            _cell(own - _drawn(_counts(measure, played[name])), measure, sign="+")
            for name in others
        ]
        rows.append(f"| {measure.says} | {' | '.join(cells)} |")
    return "\n".join(rows)


def _counts(measure: Measure, group: Sequence[Played]) -> Floats:
    """Shape (lifters, 2)."""
    return np.array([measure.count(played) for played in group], dtype=np.float64)


def _drawn(counts: Floats) -> Floats:
    """The ratio of sums, then the same of resampled lifters; nan where there is nothing.

    Shape (1 + DRAWS,). The draws of groups of the same size pick the same lifters.
    """
    lifters = len(counts)
    picks = np.random.default_rng(1).integers(0, lifters, size=(DRAWS, lifters))
    sums = counts[np.vstack([np.arange(lifters), picks])].sum(axis=1)
    whole = np.where(sums[:, 1] > 0, sums[:, 1], np.nan)
    ratios: Floats = sums[:, 0] / whole
    return ratios


def _counted(counts: Floats, measure: Measure) -> str:
    cell = _cell(_drawn(counts), measure)
    hits, whole = counts.sum(axis=0).tolist()
    return f"{cell}, {hits:.0f} of {whole:.0f}" if measure.counts_shown and whole else cell


def _cell(drawn: Floats, measure: Measure, sign: str = "") -> str:
    value, draws = float(drawn[0]), drawn[1:][~np.isnan(drawn[1:])]
    if math.isnan(value):
        return "none"
    low, high = np.quantile(draws, [0.025, 0.975]).tolist()
    form = f"{sign}.{measure.digits}f"
    said = [format(measure.times * number, form) for number in (value, low, high)]
    return f"{said[0]} ({said[1]} to {said[2]})"
