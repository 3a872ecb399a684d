"""Weekly sets of each muscle beside its floor and its ceiling."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blockwright.engine.policy import Policy
from blockwright.engine.training import MUSCLES, Block, Catalogue, Emphasis, SetDone
from blockwright.engine.volume import CeilingBelief, done_by_week


@dataclass(frozen=True, slots=True, kw_only=True)
class MuscleDone:
    """One muscle over the block, in fractional sets a week."""

    muscle: str
    emphasis: Emphasis
    planned: tuple[float, ...]
    done: tuple[float, ...]
    floor: float
    ceiling_low: float
    ceiling_median: float
    ceiling_high: float
    """Where the ceiling lies eight times in ten, as believed at the end."""
    at_least: float | None
    """Until a failure was seen: the ceiling is at or above this nine times in ten."""
    failure_seen: bool
    weeks_seen: int
    """Weeks that taught something about the ceiling."""


def muscles_done(
    block: Block,
    sets: Sequence[SetDone],
    ceilings: Mapping[str, CeilingBelief],
    catalogue: Catalogue,
    policy: Policy,
    weeks: int,
) -> tuple[MuscleDone, ...]:
    """Muscles with direct sets planned or done in the first `weeks` weeks."""
    by_week = done_by_week(sets, catalogue, policy, start=block.start)
    found = []
    for muscle in MUSCLES:
        planned = [week.muscle_sets.get(muscle) for week in block.weeks[:weeks]]
        done = [by_week[n][muscle] if n in by_week else None for n in range(1, weeks + 1)]
        direct = any(p is not None and p.direct for p in planned)
        if not direct and not any(d is not None and d.direct for d in done):
            continue
        known = [p for p in planned if p is not None]
        ceiling = ceilings[muscle]
        found.append(
            MuscleDone(
                muscle=muscle,
                emphasis=block.lifter.emphasis_of(muscle),
                planned=tuple(0.0 if p is None else p.fractional for p in planned),
                done=tuple(0.0 if d is None else d.fractional for d in done),
                floor=known[0].floor if known else policy.number("volume.floor_sets"),
                ceiling_low=ceiling.quantile(0.1),
                ceiling_median=ceiling.median,
                ceiling_high=ceiling.quantile(0.9),
                at_least=ceiling.at_least,
                failure_seen=ceiling.failure_seen,
                weeks_seen=ceiling.weeks_seen,
            )
        )
    return tuple(found)
