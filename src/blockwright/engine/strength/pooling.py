"""A first guess at a lift never logged, from the lifter's other lifts: wide, and said so."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from math import log

import numpy as np

from blockwright.engine.policy import Policy
from blockwright.engine.strength.belief import LiftBelief
from blockwright.engine.strength.law import lift_prior, strength_law
from blockwright.engine.strength.state import XX, X, new_state
from blockwright.engine.training import Catalogue, Lift


def borrowed(
    wanted: Lift, logged: Sequence[LiftBelief], catalogue: Catalogue, policy: Policy
) -> LiftBelief | None:
    """A belief about `wanted` from relatives by family, else by pattern; None without any.

    Each relative's ln(1RM), shifted where one of the two counts one hand, is one guess whose SD
    is the policy's for the kinship; guesses are averaged, their SD is not made smaller (lifts of
    one pattern err together). Endurance, fatigue and RIR bias start from the lift's own prior.
    """
    relatives = [(b, lift) for b in logged if (lift := catalogue.find(b.lift)) is not None]
    for kinship in ("family", "pattern"):
        kin = [pair for pair in relatives if getattr(pair[1], kinship) == getattr(wanted, kinship)]
        if kin:
            return _guess(wanted, kin, policy.number(f"strength.borrow.{kinship}_sd"), policy)
    return None


def near_kin(one: Lift, other: Lift) -> bool:
    """Whether loads of one say, with care, where tries of the other may begin: main lifts of one
    family, and presses and pulls of one pattern, both with weights or both with the body. Other
    lifts of a pattern (leg press, goblet squat, kickback) go by loads several times apart."""
    alike = one.family == other.family or one.fatigue_group in ("press", "pull")
    with_body = one.bodyweight_share == other.bodyweight_share
    return alike and one.pattern == other.pattern and one.compound and other.compound and with_body


def _guess(
    wanted: Lift, kin: Sequence[tuple[LiftBelief, Lift]], spread: float, policy: Policy
) -> LiftBelief:
    hand = log(policy.number("strength.borrow.per_hand_share"))
    levels = []
    for belief, lift in kin:
        shift = hand * ((wanted.load_kind == "per_hand") - (lift.load_kind == "per_hand"))
        levels.append(log(belief.one_rm_kg.median) + shift)
    newest = max(belief.last_day for belief, _ in kin)
    base = kin[0][0]
    law = base.law
    state = new_state([lift_prior(wanted, policy)], law)
    mean, cov = state.mean.copy(), state.cov.copy()
    mean[X] = float(np.mean(levels))
    cov[XX] = spread**2
    return replace(
        base,
        lift=wanted.name,
        state=replace(state, mean=mean, cov=cov, started=np.array([True])),
        last_day=newest,
        borrowed_from=tuple(sorted(belief.lift for belief, _ in kin)),
    )


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
