"""Weekly sets of each muscle beside its floor and its ceiling."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blockwright.engine.policy import Policy
from blockwright.engine.training import (
    MUSCLES,
    Block,
    Catalogue,
    Emphasis,
    Lifter,
    MuscleSets,
    SetDone,
)
from blockwright.engine.volume import CeilingBelief, MuscleCount, MuscleCounts, done_by_week


@dataclass(frozen=True, slots=True, kw_only=True)
class CeilingSeen:
    """Where a muscle's ceiling lies eight times in ten, as believed at the end."""

    low80: float
    median: float
    high80: float
    at_least: float | None
    """Until a failure was seen: the ceiling is at or above this nine times in ten."""
    failure_seen: bool
    weeks_seen: int
    """Weeks that taught something about the ceiling."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleDone:
    """One muscle over the block, in fractional sets a week."""

    muscle: str
    emphasis: Emphasis
    planned: tuple[float, ...]
    done: tuple[float, ...]
    planned_direct: tuple[float, ...]
    done_direct: tuple[float, ...]
    """Of these, sets of lifts that train the muscle directly."""
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
