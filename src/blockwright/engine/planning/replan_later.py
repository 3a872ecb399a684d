"""The weeks after a replanned one: they stay as they were, but no muscle climbs by more than the
ramp above the most sets any week before it has."""

from collections.abc import Mapping
from dataclasses import replace

from blockwright.engine.planning.limits import QUARTERS
from blockwright.engine.planning.patterns import ALONG
from blockwright.engine.planning.problem import week_plan
from blockwright.engine.planning.replan_week import WeekAtHand, rebuilt_week, week_at_hand
from blockwright.engine.planning.weeks import muscle_sets
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import Block, Catalogue, Lifter, MuscleSets, Week
from blockwright.engine.volume import CeilingBelief


def within_ramp(
    block: Block,
    changed: int,
    catalogue: Catalogue,
    policy: Policy,
    ceilings: Mapping[str, CeilingBelief] | None,
) -> tuple[Block, tuple[Reason, ...]]:
    """The block with its build weeks after week `changed` cut to the ramp where that week lost
    sets, and a reason for each week that is; small lifts lose theirs first."""
    most: dict[str, float] = {}
    reasons: list[Reason] = []
    for week in block.weeks:
        if week.kind != "build":
            break
        if week.week > changed and _over(block.lifter, week, most, policy):
            cut = _cut(block, week, most, catalogue, policy, ceilings)
            reasons += _told(week, cut)
            block = replace(
                block, weeks=tuple(cut if w.week == cut.week else w for w in block.weeks)
            )
            week = cut
        for muscle, sets in week.muscle_sets.items():
            most[muscle] = max(most.get(muscle, 0.0), sets.fractional)
    return block, tuple(reasons)


def _told(before: Week, after: Week) -> list[Reason]:
    lost = [
        f"{entry.lift} {len(was.sets)} to {len(entry.sets)}"
        for old, new in zip(before.sessions, after.sessions, strict=True)
        for entry in new.entries
        for was in old.entries
        if was.lift == entry.lift and len(was.sets) > len(entry.sets)
    ]
    facts: dict[str, FactValue] = {"week": after.week, "changes": ", ".join(lost)}
    reason = Reason(code="replan_ramp", facts=facts, policy=("ramp.sets_per_week",))
    return [reason] if lost else []


def _over(lifter: Lifter, week: Week, most: Mapping[str, float], policy: Policy) -> dict[str, int]:
    """Quarter sets by which muscles pass the ramp; those that are trained along ask nothing."""
    ramp = policy.number("ramp.sets_per_week")
    over = {
        muscle: round(QUARTERS * (sets.fractional - ramp - most.get(muscle, sets.fractional)))
        for muscle, sets in week.muscle_sets.items()
        if muscle not in ALONG or lifter.emphasis_of(muscle) == "lead"
    }
    return {muscle: quarters for muscle, quarters in over.items() if quarters > 0}


def _cut(
    block: Block,
    week: Week,
    most: Mapping[str, float],
    catalogue: Catalogue,
    policy: Policy,
    ceilings: Mapping[str, CeilingBelief] | None,
) -> Week:
    session = next(s.session for s in week.sessions if s.entries)
    hand = week_at_hand(block, week, session, catalogue, policy, ceilings)
    sets = {(i.slot, i.option): i.sets for i in hand.plan}
    over = _over(block.lifter, week, most, policy)
    while over:
        muscle = max(over, key=lambda m: over[m])
        place = _spare(hand, sets, muscle)
        if place is None:
            del over[muscle]
            continue
        sets[place] -= 1
        for other, quarters in hand.problem.options[place[1]].quarters.items():
            if other in over:
                over[other] -= quarters
        over = {m: quarters for m, quarters in over.items() if quarters > 0}
    cut = rebuilt_week(hand, week_plan(sets), None, missed=False)
    counted = muscle_sets(cut.sessions, block.lifter, catalogue, policy, ceilings)
    return replace(cut, muscle_sets=as_believed(counted, week))


def _spare(
    hand: WeekAtHand, sets: Mapping[tuple[int, int], int], muscle: str
) -> tuple[int, int] | None:
    """The entry that can best do with one set less: small, with many sets, not done in a pair."""
    options, least = hand.problem.options, hand.problem.limits.sets_least
    places = [
        place
        for place, count in sets.items()
        if muscle in options[place[1]].direct and count > least and place not in hand.paired
    ]
    return min(places, key=lambda p: (options[p[1]].is_main, -sets[p], p), default=None)


def as_believed(counted: Mapping[str, MuscleSets], before: Week) -> dict[str, MuscleSets]:
    """The counts with the floors and ceilings the week was planned with, where it names them."""
    return {
        muscle: sets
        if (was := before.muscle_sets.get(muscle)) is None
        else replace(sets, floor=was.floor, ceiling=was.ceiling)
        for muscle, sets in counted.items()
    }
