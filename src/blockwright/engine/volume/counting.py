"""Weekly sets per muscle: what is planned and what was done, counted by one rule.

A set of a lift counts in full for its direct muscles and by the catalogue's share for the indirect
ones: the fractional rule that fitted best in Pelland et al. 2025, Sports Med 56:481."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    MUSCLES,
    NOT_WORK,
    Catalogue,
    Entry,
    Lift,
    Method,
    SetDone,
    Week,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleCount:
    """Sets that reached one muscle. `direct` and `indirect` are plain counts of sets; a set that
    counts as 1.5 adds one to them and 1.5 times its share to `fractional`."""

    direct: float = 0.0  # Sets of lifts whose share for the muscle is 1
    indirect: float = 0.0  # Sets of lifts whose share is above 0 and below 1, not weighted
    fractional: float = 0.0  # Every set times its credit and its share

    def __add__(self, other: "MuscleCount") -> "MuscleCount":
        return MuscleCount(
            direct=self.direct + other.direct,
            indirect=self.indirect + other.indirect,
            fractional=self.fractional + other.fractional,
        )


MuscleCounts = Mapping[str, MuscleCount]
"""Every muscle of `MUSCLES`, in that order; zeros where nothing reached it."""


def set_credit(method: Method, parts: int, policy: Policy) -> float:
    """How many straight sets one set counts as.

    Straight and superset sets count 1, a warm-up and a try 0. Rest-pause and drop sets count 1 for
    the first part and a share for each further one, up to a limit: a convention (policy
    `volume.further_part` and `volume.most_per_set`), not a finding."""
    if method in NOT_WORK or parts < 1:
        return 0.0
    if method in ("straight", "superset"):
        return 1.0
    credit = 1.0 + policy.number("volume.further_part") * (parts - 1)
    return min(credit, policy.number("volume.most_per_set"))


def done_credit(done: SetDone, policy: Policy) -> float:
    """How many straight sets a logged set counts as; 0 when it was not a hard set.

    Not hard: a warm-up, a failed attempt (no repetition), a set ended further from failure than
    `volume.hard_within_rir`. A set without RIR counts while `volume.count_missing_rir`."""
    if done.rir is None:
        if not policy.switch("volume.count_missing_rir"):
            return 0.0
    elif done.rir > policy.number("volume.hard_within_rir"):
        return 0.0
    return set_credit(done.method, sum(1 for reps in done.reps if reps > 0), policy)


def planned_sets(entries: Iterable[Entry], catalogue: Catalogue) -> MuscleCounts:
    """Sets per muscle of planned entries (one session's, a week's), weighted by `counts_as`.

    Raises BadInput naming every lift the catalogue lacks."""
    credits: list[tuple[Lift, int, float]] = []
    unknown: list[Problem] = []
    for entry in entries:
        lift = catalogue.find(entry.lift)
        if lift is None:
            unknown.append(
                Problem(
                    says=f'the plan names "{entry.lift}", which is not a known lift',
                    mend="add it to the lifter file as a [[lift]], or take it out of the plan",
                )
            )
        elif entry.method not in NOT_WORK:
            credits.append((lift, len(entry.sets), entry.counted))
    if unknown:
        raise BadInput(unknown)
    return _counted(credits)


def planned_week(week: Week, catalogue: Catalogue) -> MuscleCounts:
    """Sets per muscle of a planned week."""
    return planned_sets(week.entries, catalogue)


def done_sets(sets: Iterable[SetDone], catalogue: Catalogue, policy: Policy) -> MuscleCounts:
    """Hard sets per muscle of logged sets.

    A lift the catalogue lacks reaches no muscle we know of and is left out; whoever read the log
    has warned of it."""
    found = ((catalogue.find(done.lift), done_credit(done, policy)) for done in sets)
    return _counted((lift, 1, credit) for lift, credit in found if lift is not None)


def done_by_week(
    sets: Iterable[SetDone], catalogue: Catalogue, policy: Policy, *, start: date
) -> Mapping[int, MuscleCounts]:
    """Hard sets per muscle by week of a block that starts on `start` (week 1 holds that day).

    Sets before `start` are left out; a week without sets is absent."""
    by_week: dict[int, list[SetDone]] = {}
    for done in sets:
        week = (done.moment.day - start).days // 7 + 1
        if week >= 1:
            by_week.setdefault(week, []).append(done)
    return {week: done_sets(by_week[week], catalogue, policy) for week in sorted(by_week)}


def _counted(credits: Iterable[tuple[Lift, int, float]]) -> MuscleCounts:
    """The sum over (lift, sets, what they count as together)."""
    counts = dict.fromkeys(MUSCLES, MuscleCount())
    for lift, sets, credit in credits:
        for muscle, share in lift.muscles.items():
            counts[muscle] += _reached(share, sets, credit)
    return counts


def _reached(share: float, sets: int, credit: float) -> MuscleCount:
    if share <= 0 or credit <= 0:
        return MuscleCount()
    if share >= 1:
        return MuscleCount(direct=sets, fractional=credit)
    return MuscleCount(indirect=sets, fractional=credit * share)
