"""How far a load may go at once: what the policy, the kit and the lift allow."""

from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG, Rack
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.training import Lift, Lifter, SetPlan, effective_load_kg
from blockwright.engine.units import kg_from, load_text


def most_effective(effective_kg: float, policy: Policy) -> float:
    """The largest effective load one change may lead to."""
    return effective_kg * (1 + policy.number("load.most_up")) * (1 + 1e-9)


def is_one_change(
    lift: Lift, rack: Rack, kg: tuple[float, float], bodyweight_kg: float | None, policy: Policy
) -> bool:
    """Whether the second of two loads is no more above the first than one change may lead to, or
    one step of the kit; a load that moves nothing bounds none."""
    now, then = (effective_load_kg(lift, load_kg, bodyweight_kg) or 0.0 for load_kg in kg)
    step = rack.next_harder(kg[0])
    one_step = step is not None and abs(step.load_kg - kg[1]) < SAME_LOAD_KG
    return one_step or now <= 0 or then <= most_effective(now, policy)


def step_limit_kg(lift: Lift, lifter: Lifter, policy: Policy) -> float:
    """The table's largest step, in kg: by experience, body area and the rack's unit."""
    who = "novice" if lifter.experience == "novice" else "trained"
    unit = lifter.gym.unit
    return kg_from(policy.number(f"review.load.step.{who}_{lift.area}_{unit}"), unit)


def smallest_step(
    lift: Lift, lifter: Lifter, week: int | None, kg: tuple[float, float], asked: SetPlan
) -> Reason:
    """That the kit has no step between two loads further apart than one change may be."""
    before_kg, after_kg = kg
    facts: dict[str, FactValue] = {
        "lift": lift.name,
        "week": week,
        "before_kg": before_kg,
        "after_kg": after_kg,
        "before": load_text(before_kg, lifter.units),
        "after": load_text(after_kg, lifter.units),
        "reps_high": asked.reps_high,
    }
    return Reason(code="smallest_step", facts=facts, policy=("load.most_up",))
