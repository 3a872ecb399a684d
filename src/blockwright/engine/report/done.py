"""What was planned and what was done: week by week, lift by lift, muscle by muscle."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from blockwright.engine.lifts import LoadKind
from blockwright.engine.policy import Policy
from blockwright.engine.review.exposures import Exposure, in_week, planned_entries, week_start
from blockwright.engine.review.wellness import SessionLoad, session_load
from blockwright.engine.strength.landing import FAR_REPS
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    CheckIn,
    Emphasis,
    Lifter,
    MuscleSets,
    SetDone,
    Week,
)
from blockwright.engine.volume import CeilingBelief, MuscleCount, MuscleCounts, done_by_week


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekDone:
    """One week of the block. Sets are work sets, warm-ups left out."""

    week: int
    kind: Literal["build", "deload"]
    start: date
    sessions_planned: int
    sessions_done: int
    missed: tuple[date, ...]
    sets_planned: int
    sets_done: int
    rir_asked: float
    rir_said: float | None
    """Mean over the straight sets for which it was said; None where it never was."""
    load: SessionLoad | None  # Session RPE x minutes; None where nobody said both


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftDone:
    """One lift over the block: sets by week, None where the week had none planned or done."""

    lift: str
    planned: tuple[int | None, ...]
    done: tuple[int | None, ...]
    load_kind: LoadKind
    first_load_kg: float | None
    last_load_kg: float | None
    """Work load of the first and of the last build exposure, as written on the sheet."""
    first_reps: int | None
    last_reps: int | None
    first_rir: float | None
    last_rir: float | None  # Of the first set at that load


def weeks_done(
    block: Block, exposures: Sequence[Exposure], checkins: Sequence[CheckIn], through: date
) -> tuple[WeekDone, ...]:
    """Every week that had begun by `through`."""
    return tuple(
        _week(block, week, exposures, checkins, through)
        for week in block.weeks
        if week_start(block, week.week) <= through
    )


def _week(
    block: Block,
    week: Week,
    exposures: Sequence[Exposure],
    checkins: Sequence[CheckIn],
    through: date,
) -> WeekDone:
    start = week_start(block, week.week)
    here = in_week(block, week.week, exposures)
    numbers = {e.session for e in here if e.session is not None}
    over = through >= week_start(block, len(block.weeks) + 1) - timedelta(days=1)
    due = [s for s in week.sessions if s.day <= through and (s.entries or s.missed)]
    planned = [s for s in due if s.day < through or over or s.session in numbers]
    said = [
        done.rir
        for exposure in here
        for done in exposure.sets
        if done.rir is not None and done.method in ("straight", "superset")
    ]
    return WeekDone(
        week=week.week,
        kind=week.kind,
        start=start,
        sessions_planned=len(planned),
        sessions_done=sum(s.session in numbers for s in planned),
        missed=tuple(s.day for s in planned if s.session not in numbers),
        sets_planned=sum(len(e.sets) for s in planned for e in s.entries),
        sets_done=sum(len(e.sets) for e in here),
        rir_asked=week.rir,
        rir_said=sum(said) / len(said) if said else None,
        load=session_load(checkins, start),
    )


def lifts_done(
    block: Block,
    exposures: Sequence[Exposure],
    catalogue: Catalogue,
    weeks: int,
) -> tuple[LiftDone, ...]:
    """Every lift planned or done in the first `weeks` weeks, in the order of the plan. Loads
    that are doubted are not shown as worked with."""
    planned = [
        {lift: sum(len(e.sets) for _, e in here) for lift, here in
         planned_entries(week, catalogue).items()}
        for week in block.weeks[:weeks]
    ]  # fmt: skip
    done = [_done(block, number, exposures) for number in range(1, weeks + 1)]
    names = dict.fromkeys(name for week in (*planned, *done) for name in week)
    return tuple(
        LiftDone(
            lift=name,
            planned=tuple(week.get(name) for week in planned),
            done=tuple(week.get(name) for week in done),
            load_kind="external" if (lift := catalogue.find(name)) is None else lift.load_kind,
            **_ends(name, block, exposures),  # type: ignore[arg-type]
        )
        for name in names
    )


def too_light(exposures: Sequence[Exposure], start: date) -> frozenset[str]:
    """Lifts whose first sets since `start` mostly ended far beyond range and reserve, at loads
    that changed: they say how light the loads were, not how strong the lifter is."""
    found = set()
    for lift in {e.lift for e in exposures}:
        mine = [e for e in exposures if e.lift == lift and e.day >= start and e.sound]
        far = [e for e in mine if e.spare is not None and e.spare > FAR_REPS]
        if 2 * len(far) > len(mine) and mine[-1].work_load_kg != mine[0].work_load_kg:
            found.add(lift)
    return frozenset(found)


def _done(block: Block, number: int, exposures: Sequence[Exposure]) -> dict[str, int]:
    sums: Counter[str] = Counter()
    for exposure in in_week(block, number, exposures):
        sums[exposure.lift] += len(exposure.sets)
    return sums


def _ends(
    name: str, block: Block, exposures: Sequence[Exposure]
) -> Mapping[str, float | int | None]:
    """First and last set of the build weeks, of the same planned session where there is one."""
    builds = block.builds
    end = week_start(block, len(builds) + 1)
    mine = [e for e in exposures if e.lift == name and block.start <= e.day < end and e.sound]
    same = [e for e in mine if e.session == mine[0].session]
    ends = {"first": same[0], "last": same[-1]} if same else {"first": None, "last": None}
    found: dict[str, float | int | None] = {}
    for which, one in ends.items():
        found[f"{which}_load_kg"] = None if one is None else one.work_load_kg
        found[f"{which}_reps"] = None if one is None else one.first.first_reps
        found[f"{which}_rir"] = None if one is None else one.first.rir
    return found


# ---------------------------------------------------------------------------------- sets of muscles


@dataclass(frozen=True, slots=True, kw_only=True)
class CeilingSeen:
    """Where a muscle's ceiling lies eight times in ten, as believed at the end."""

    low80: float
    median: float
    high80: float
    at_least: float | None
    """Until a failure was seen: the ceiling is at or above this nine times in ten."""
    failure_seen: bool
    weeks_seen: int  # Weeks that taught something about the ceiling


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleDone:
    """One muscle over the block, in fractional sets a week."""

    muscle: str
    emphasis: Emphasis
    planned: tuple[float, ...]
    done: tuple[float, ...]
    planned_direct: tuple[float, ...]
    done_direct: tuple[float, ...]  # Of these, sets of lifts that train the muscle directly
    floor: float
    ceiling: CeilingSeen


def muscles_done(
    block: Block,
    sets: Sequence[SetDone],
    ceilings: Mapping[str, CeilingBelief],
    catalogue: Catalogue,
    policy: Policy,
    weeks: int,
    *,
    ahead: int = 0,
) -> tuple[MuscleDone, ...]:
    """Muscles with direct sets planned or done in the first `weeks` weeks; the plan goes on for
    `ahead` more."""
    by_week = done_by_week(sets, catalogue, policy, start=block.start)
    return muscles_seen(
        [week.muscle_sets for week in block.weeks[: weeks + ahead]],
        [by_week.get(number, {}) for number in range(1, weeks + 1)],
        block.lifter,
        ceilings,
        policy,
    )


def muscles_seen(
    planned: Sequence[Mapping[str, MuscleSets]],
    done: Sequence[MuscleCounts],
    lifter: Lifter,
    ceilings: Mapping[str, CeilingBelief],
    policy: Policy,
) -> tuple[MuscleDone, ...]:
    """Muscles with direct sets in some week of the plan or of what was done."""
    nothing = MuscleCount()
    found = []
    for muscle in MUSCLES:
        plans = [week.get(muscle) for week in planned]
        counts = [week.get(muscle, nothing) for week in done]
        known = [plan for plan in plans if plan is not None]
        if not any(plan.direct for plan in known) and not any(count.direct for count in counts):
            continue
        ceiling = ceilings[muscle]
        found.append(
            MuscleDone(
                muscle=muscle,
                emphasis=lifter.emphasis_of(muscle),
                planned=tuple(0.0 if plan is None else plan.fractional for plan in plans),
                done=tuple(count.fractional for count in counts),
                planned_direct=tuple(0.0 if plan is None else plan.direct for plan in plans),
                done_direct=tuple(count.direct for count in counts),
                floor=known[0].floor if known else policy.number("volume.floor_sets"),
                ceiling=CeilingSeen(
                    low80=ceiling.quantile(0.1),
                    median=ceiling.median,
                    high80=ceiling.quantile(0.9),
                    at_least=ceiling.at_least,
                    failure_seen=ceiling.failure_seen,
                    weeks_seen=ceiling.weeks_seen,
                ),
            )
        )
    return tuple(found)
