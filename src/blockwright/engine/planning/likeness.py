"""How far another lift lies from one it would stand in for; the likest first.

One order for whoever asks: what is offered where a machine is taken or a lift hurts, what a coach
may put in a place of the block, and what comes in when a session is planned anew."""

from collections.abc import Iterable

from blockwright.engine.policy import Policy
from blockwright.engine.training import Lift
from .patterns import is_loadable

_STEADY = ("machine", "supported", "free")


def unlike(lift: Lift, other: Lift, policy: Policy, *, taken: bool = False) -> float:
    """Points against `other` in the place of `lift` (`replan.price`): one joint for several or the
    other way, direct muscles left out, another pattern, other muscles; and where kit is taken, the
    same kit, and nothing to load for a lift that is loaded."""
    differs = {
        "other_role": other.compound != lift.compound,
        "muscle_left_out": len(set(lift.direct) - set(other.direct)),
        "other_pattern": other.pattern != lift.pattern,
        "other_muscles": other.apart_from(lift),
        "same_kit": taken and len(set(lift.kit) & set(other.kit)),
        "no_load": taken and is_loadable(lift) and not is_loadable(other),
    }
    return sum(policy.number(f"replan.price.{key}") * much for key, much in differs.items())


def likest(
    lift: Lift, others: Iterable[Lift], policy: Policy, *, taken: bool = False
) -> list[Lift]:
    """`others` with the likest to `lift` first, each step odder as far as a quarter of a share; of
    near equals the steadier first, then the one that loads the spine less."""
    near = policy.number("replan.price.other_muscles") / 4 or 1.0
    return sorted(
        others,
        key=lambda other: (
            round(unlike(lift, other, policy, taken=taken) / near) - other.plainness,
            _STEADY.index(other.stability),
            other.axial,
            other.name,
        ),
    )
