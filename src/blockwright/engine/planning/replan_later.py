"""The weeks after a replanned one: they stay as they were, but where a muscle would climb by more
than the ramp above the most sets any week before it has, small lifts do not climb."""

from collections.abc import Mapping
from dataclasses import replace

from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import Block, Catalogue, Lifter, Week
from .disruption import Disruption
from .limits import QUARTERS
from .patterns import ALONG
from .problem import Place, plan_of
from .rebuilt_week import rebuilt_week
from .replan_week import WeekAtHand, week_at_hand
from .week_figures import counted


def within_ramp(
    block: Block,
    before: Week,
    catalogue: Catalogue,
    policy: Policy,
) -> tuple[Block, tuple[Reason, ...]]:
    """The block with small lifts of its build weeks after week `changed` held towards the ramp
    where that week lost sets, and a reason for each week that is. A session that was missed is no
    reason to do less of a main lift, nor less of any than was planned for the week at hand."""
    planned = _sets(before)
    most: dict[str, float] = {}
    reasons: list[Reason] = []
    for week in block.weeks:
        if week.kind != "build":
            break
        if week.week > before.week and _over(block.lifter, week, most, policy):
            cut = _cut(block, week, most, planned, catalogue, policy)
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
    planned: Mapping[tuple[int, str], int],
    catalogue: Catalogue,
    policy: Policy,
) -> Week:
    session = next(s.session for s in week.sessions if s.entries)
    nothing = Disruption(week=week.week, session=session)
    hand = week_at_hand(block, week, nothing, catalogue, policy)
    sets = dict(hand.plan)
    over = _over(block.lifter, week, most, policy)
    while over:
        muscle = max(over, key=lambda m: over[m])
        place = _spare(hand, sets, muscle, planned)
        if place is None:
            del over[muscle]
            continue
        sets[place] -= 1
        for other, quarters in hand.option(place).quarters.items():
            if other in over:
                over[other] -= quarters
        over = {m: quarters for m, quarters in over.items() if quarters > 0}
    return counted(rebuilt_week(hand, plan_of(sets)), catalogue)


def _spare(
    hand: WeekAtHand,
    sets: Mapping[Place, int],
    muscle: str,
    planned: Mapping[tuple[int, str], int],
) -> Place | None:
    """The small entry that has climbed and can best do with one set less, not done in a pair."""
    least, slots = hand.problem.limits.sets_least, hand.block.lifter.slots
    places = []
    for place, count in sets.items():
        option, day = hand.option(place), slots[place.slot].day_index
        small = not option.is_main and muscle in option.direct
        climbed = count > max(least, planned.get((day, option.lift.name), 0))
        if small and climbed and hand.entries[place].pair is None:
            places.append(place)
    return min(places, key=lambda p: (-sets[p], p), default=None)


def _sets(week: Week) -> dict[tuple[int, str], int]:
    """Sets by weekday and lift."""
    return {(s.day.weekday(), e.lift): len(e.sets) for s in week.sessions for e in s.entries}
