"""Did what was claimed come true? Load proposals only: their claim is a set that was done.

The claim of a load is that the first set at it reaches the bottom of the range with the week's
repetitions in reserve. It is judged as the log says it: repetitions, plus what was in reserve
beyond (or short of) the plan. A set at another load, or none, judges nothing.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blockwright.engine.report.fates import Told
from blockwright.engine.review.exposures import Exposure, week_start
from blockwright.engine.training import Block

LOAD_KINDS = ("raise_load", "lower_load")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClaimsKept:
    """How often claims came true, beside how often we said they would."""

    judged: int
    kept: int
    expected: float
    """The sum of the confidences."""
    expected_sd: float
    """Of the number kept, were every confidence right and every claim on its own."""


def claims_came_true(
    block: Block, told: Sequence[Told], exposures: Sequence[Exposure]
) -> dict[str, bool]:
    """By proposal id, for the load proposals whose set was done at the proposed load."""
    found = {}
    for one in told:
        if one.kind not in LOAD_KINDS or one.week is None or one.to_load_kg is None:
            continue
        exposure = _exposure(block, one, exposures)
        if exposure is not None and exposure.target is not None:
            first, target = exposure.sets[0], exposure.target
            spare = 0.0 if first.rir is None else first.rir - target.rir
            found[one.id] = first.first_reps + spare >= target.reps_low
    return found


def _exposure(block: Block, told: Told, exposures: Sequence[Exposure]) -> Exposure | None:
    week = told.week or 0
    start, end = week_start(block, week), week_start(block, week + 1)
    for exposure in exposures:
        if exposure.lift == told.lift and start <= exposure.day < end:
            same = exposure.session == told.session
            at = told.to_load_kg or 0.0
            if same and math.isclose(exposure.sets[0].load_kg, at, rel_tol=1e-4, abs_tol=1e-6):
                return exposure
    return None


def claims_kept(told: Sequence[Told], came_true: Mapping[str, bool]) -> ClaimsKept | None:
    """The count of kept claims beside the stated confidence; None when none can be judged."""
    judged = [one for one in told if one.id in came_true]
    if not judged:
        return None
    return ClaimsKept(
        judged=len(judged),
        kept=sum(came_true[one.id] for one in judged),
        expected=sum(one.confidence for one in judged),
        expected_sd=math.sqrt(sum(one.confidence * (1 - one.confidence) for one in judged)),
    )
