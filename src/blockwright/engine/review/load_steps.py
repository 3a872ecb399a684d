"""How far a load may go at once: what the policy, the kit and the lift allow."""

from blockwright.engine.policy import Policy
from blockwright.engine.rack import SAME_LOAD_KG, Rack
from blockwright.engine.strength import most_effective
from blockwright.engine.training import Lift, Lifter, effective_load_kg
from blockwright.engine.units import kg_from


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
