"""Composes a block: visits, frame, fill, weeks, deload; replan. The only package that may import
the solver.

    compose(lifter, catalogue, policy)      a whole block, or Clash
    QUICK, USUAL                            how much search a week is worth

Reading order: `problem` (the inputs), `frame` (patterns by visit), `constraints` with `hard_rules`,
`aims` and `wishes` (every rule as data), `fill`, `weeks`, `deload`, `block`."""

from .block import compose
from .fill import QUICK, USUAL, Budget, Tell
from .given_frame import GivenFrame, frame_of
from .spared import Carried, what_hurts
