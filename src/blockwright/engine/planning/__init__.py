"""Composes a block: week, ramp, deload, replan. The only package that may import the solver.

    compose(lifter, catalogue, policy)      a whole block, or Clash
    QUICK, USUAL, LONG                      how much search a week is worth

Reading order: `request` (the inputs as arrays), `board` (rules and objective while searching),
`model` (the same as a linear model), `week`, `ramp`, `deload`, `block`.
"""

from blockwright.engine.planning.block import compose, is_gentle, muscle_sets
from blockwright.engine.planning.neighbourhood import LONG, QUICK, USUAL, Budget, Tell

__all__ = [
    "LONG",
    "QUICK",
    "USUAL",
    "Budget",
    "Tell",
    "compose",
    "is_gentle",
    "muscle_sets",
]
