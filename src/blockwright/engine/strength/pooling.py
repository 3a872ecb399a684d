"""What a lift never logged starts from: its kind's prior, and what near kin make likely."""

from datetime import date

from blockwright.engine.policy import Policy
from blockwright.engine.strength.belief import LiftBelief
from blockwright.engine.strength.law import lift_prior, strength_law
from blockwright.engine.strength.state import new_state
from blockwright.engine.training import Lift


def near_kin(one: Lift, other: Lift) -> bool:
    """Whether loads of one say, with care, where tries of the other may begin: main lifts of one
    family, and presses and pulls of one pattern, both with weights or both with the body. Other
    lifts of a pattern (leg press, goblet squat, kickback) go by loads several times apart."""
    alike = one.family == other.family or one.fatigue_group in ("press", "pull")
    with_body = one.bodyweight_share == other.bodyweight_share
    return alike and one.pattern == other.pattern and one.compound and other.compound and with_body


def unlogged(lift: Lift, on: date, policy: Policy) -> LiftBelief:
    """A belief that knows nothing of the level yet: the first set folded in (`after`) sets it.

    Endurance, fatigue and RIR bias are the lift's prior. `one_rm_kg` and forecasts mean nothing
    before that first set.
    """
    law = strength_law(policy)
    return LiftBelief(
        lifter=None,
        lift=lift.name,
        as_of=on,
        state=new_state([lift_prior(lift, policy)], law),
        last_day=on,
        law=law,
    )
