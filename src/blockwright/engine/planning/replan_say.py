"""What a replan changed, in reasons: dropped, carried, swapped, let go."""

from blockwright.engine.planning.replan_week import WeekAtHand
from blockwright.engine.planning.request import WeekPlan
from blockwright.engine.reasons import FactValue, Reason


def replan_reasons(
    hand: WeekAtHand,
    trouble: tuple[str, dict[str, str | int]],
    plan: WeekPlan,
) -> tuple[Reason, ...]:
    """The trouble first, then every lift that changed."""
    code, facts = trouble
    day = hand.session.day.isoformat()
    said: dict[str, FactValue] = {"day": day, **facts}
    reasons = [Reason(code=code, facts=said)]
    reasons += _changes(hand, plan, day) or [Reason(code="replan_nothing", facts={"day": day})]
    dropped = _dropped_sets(hand, plan)
    if dropped > 0:
        why = "replan_let_go_easy" if hand.only_drops else "replan_let_go"
        reasons.append(Reason(code=why, facts={"day": day, "sets": dropped}))
    return tuple(reasons)


def _changes(hand: WeekAtHand, plan: WeekPlan, day: str) -> list[Reason]:
    before = {(i.slot, i.option): i.sets for i in hand.plan}
    after = {(i.slot, i.option): i.sets for i in plan}
    reasons = []
    for pair in sorted(before.keys() | after.keys()):
        was, now = before.get(pair, 0), after.get(pair, 0)
        if was == now:
            continue
        slot, option = pair
        facts: dict[str, FactValue] = {
            "day": hand.request.slots[slot].day,
            "from_day": day,
            "lift": hand.request.options[option].lift.name,
            "before_sets": was,
            "after_sets": now,
            "sets": abs(now - was),
        }
        if slot == hand.slot:
            code = "replan_dropped" if now == 0 else "replan_shortened"
            code = "replan_swapped_in" if was == 0 else code
        else:
            code = "replan_carried"
        reasons.append(Reason(code=code, facts=facts))
    return reasons


def _dropped_sets(hand: WeekAtHand, plan: WeekPlan) -> int:
    return sum(i.sets for i in hand.plan) - sum(i.sets for i in plan)
