"""What a lift never logged starts from: its kind's prior, and what near kin make likely."""

from datetime import date

from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift
from .belief import LiftBelief
from .law import lift_prior, strength_law
from .state import new_state


def near_kin(one: Lift, other: Lift) -> bool:
    """Whether loads of one say, with care, where tries of the other may begin: main lifts of one
    family, both with weights or both with the body, and all main presses, and all main pulls. Other
    lifts of a pattern (leg press, goblet squat, kickback) go by loads several times apart."""
    with_body = one.bodyweight_share == other.bodyweight_share
    alike = one.family == other.family and with_body
    alike |= one.fatigue_group == other.fatigue_group and one.fatigue_group in ("press", "pull")
    return alike and one.compound and other.compound


def near_twin(one: Lift, other: Lift) -> bool:
    """Of near kin, whether they go by loads so much alike that tries begin nearer: one movement on
    one kit; or with free weights both lying presses, or one pattern."""
    same = ("family", "pattern", "load_kind", "angle", "kit")
    if all(getattr(one, each) == getattr(other, each) for each in same):
        return True
    lying = {"horizontal press", "incline press"}
    alike = one.pattern == other.pattern or {one.pattern, other.pattern} <= lying
    return alike and all(
        lift.stability == "free" and not lift.moves_body
        and "bands" not in lift.kit for lift in (one, other)
    )  # fmt: skip


def worth(lift: Lift, policy: Policy) -> float:
    """What is lifted as a share of what the same person does with a bar, lying or rowing."""
    number = policy.number
    share = number("strength.borrow.per_hand_share") if lift.load_kind == "per_hand" else 1.0
    if lift.pattern == "overhead press" or "landmine" in lift.kit:
        share *= number("strength.borrow.overhead_share")
    return share


def unlogged(lift: Lift, on: date, policy: Policy) -> LiftBelief:
    """A belief that knows nothing of the level yet: the first set folded in (`after`) sets it.

    Endurance, fatigue and RIR bias are the lift's prior. `one_rm_kg` and forecasts mean nothing
    before that first set."""
    law = strength_law(policy)
    return LiftBelief(
        lifter=None,
        lift=lift.name,
        as_of=on,
        state=new_state([lift_prior(lift, policy)], law),
        last_day=on,
        law=law,
    )
