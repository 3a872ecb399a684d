"""A lift that hurts, put to `replan`: what may stand in for it."""

from dataclasses import replace

from blockwright.engine.planning.trouble import Trouble
from blockwright.engine.policy import Policy
from blockwright.engine.review.swaps import alternatives_for_pain, sparing_region
from blockwright.engine.training import Catalogue, Lifter


def with_stand_ins(
    trouble: Trouble, lifter: Lifter, catalogue: Catalogue, policy: Policy
) -> Trouble:
    """The trouble with the lifts that spare what hurts, as far as the catalogue knows; few where
    nobody said which place does, often none."""
    found: list[str] = []
    for name in trouble.hurts:
        lift = catalogue.find(name)
        if lift is None:
            continue
        if trouble.region:
            fit = sparing_region(lift, trouble.region, catalogue, lifter)
        else:
            fit = alternatives_for_pain(lift, catalogue, lifter, policy, avoid=trouble.hurts).lifts
        found += [other.name for other in fit]
    return replace(trouble, stand_ins=tuple(dict.fromkeys(found)))
