"""What a replan changed, in reasons: dropped, carried, swapped, let go."""

from blockwright.engine.planning.patterns import ALONG
from blockwright.engine.planning.problem import WeekPlan
from blockwright.engine.planning.replan_week import WeekAtHand
from blockwright.engine.planning.trouble import Trouble
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import Lifter, Week
from blockwright.engine.units import number_text


def replan_reasons(
    hand: WeekAtHand,
    trouble: Trouble,
    plan: WeekPlan,
) -> tuple[Reason, ...]:
    """The trouble first, then every lift that changed."""
    code, facts = trouble.words
    day = hand.session.day.isoformat()
    said: dict[str, FactValue] = {"day": day, **facts}
    reasons = [Reason(code=code, facts=said)]
    reasons += _changes(hand, plan, day, trouble) or [
        Reason(code="replan_nothing", facts={"day": day})
    ]
    dropped = _dropped_sets(hand, plan)
    if dropped > 0:
        why = "replan_let_go_easy" if hand.is_easy else "replan_let_go"
        reasons.append(Reason(code=why, facts={"day": day, "sets": dropped}))
    return tuple(reasons)


def losses(before: Week, after: Week, lifter: Lifter) -> list[Reason]:
    """What muscles lose in this week, and which the change has put below the floor."""
    lost: list[str] = []
    fallen: list[str] = []
    floor = 0.0
    for muscle, sets in after.muscle_sets.items():
        was = before.muscle_sets.get(muscle)
        if was is None or lifter.emphasis_of(muscle) == "skip":
            continue
        name = muscle.replace("_", " ")
        if was.fractional - sets.fractional >= 1 and muscle not in ALONG:
            lost.append(f"{name} {number_text(was.fractional)} to {number_text(sets.fractional)}")
        if sets.fractional < min(sets.floor, was.fractional):
            fallen.append(f"{name} ({number_text(sets.fractional)})")
            floor = sets.floor
    reasons = []
    if lost:
        reasons.append(Reason(code="replan_loses", facts={"muscles": ", ".join(lost)}))
    if fallen and after.kind != "deload":
        facts: dict[str, FactValue] = {
            "week": after.week, "muscles": ", ".join(fallen), "floor_sets": floor,
        }  # fmt: skip
        reasons.append(Reason(code="replan_below_floor", facts=facts))
    return reasons


def _changes(hand: WeekAtHand, plan: WeekPlan, day: str, trouble: Trouble) -> list[Reason]:
    before = {(i.slot, i.option): i.sets for i in hand.plan}
    after = {(i.slot, i.option): i.sets for i in plan}
    reasons = []
    for pair in sorted(before.keys() | after.keys()):
        was, now = before.get(pair, 0), after.get(pair, 0)
        if was == now:
            continue
        slot, option = pair
        facts: dict[str, FactValue] = {
            "day": hand.problem.slots[slot].day,
            "from_day": day,
            "lift": hand.problem.options[option].lift.name,
            "before_sets": was,
            "after_sets": now,
            "sets": abs(now - was),
        }
        if slot == hand.slot:
            code = "replan_dropped" if now == 0 else "replan_shortened"
            code = "replan_swapped_in" if was == 0 else code
        else:
            pains = trouble.pains(hand.problem.options[option].lift.name)
            less = "replan_dropped_later" if pains else "replan_made_room"
            code = "replan_carried" if now > was else less
        reasons.append(Reason(code=code, facts=facts))
    return reasons


def _dropped_sets(hand: WeekAtHand, plan: WeekPlan) -> int:
    return sum(i.sets for i in hand.plan) - sum(i.sets for i in plan)
