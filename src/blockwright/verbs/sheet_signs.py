"""Warning signs that the next sheet has to say: written down, not cleared, not long ago."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from blockwright.engine.day_sheet import DaySheet
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution
from blockwright.engine.review.case import cleared_days
from blockwright.engine.signs import (
    Warning,
    signs_in_checkins,
    signs_in_sets,
    standing_signs,
)
from blockwright.engine.training import Block, Catalogue, CheckIn, SetDone

_CODES = ("sheet_sign", "sheet_sign_lift", "sheet_sign_in_doubt")


def sheet_signs(
    block: Block,
    sets: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    told: Sequence[Warning],
    catalogue: Catalogue,
    policy: Policy,
    day: date,
) -> tuple[Warning, ...]:
    """The signs for a session on `day`, from what was known before it: since the block began, or
    within `safety.pain_memory_days`."""
    memory = timedelta(days=policy.number("safety.pain_memory_days"))
    found = (*signs_in_sets(sets), *signs_in_checkins(checkins, catalogue, policy), *told)
    return standing_signs(found, cleared_days(block), min(block.start, day - memory), day)


def without_signs(sheet: DaySheet) -> DaySheet:
    """The sheet as a partner may see it: what to do, without what was written."""
    kept = tuple(one for one in sheet.cautions if one.code not in _CODES)
    if len(kept) == len(sheet.cautions):
        return sheet
    return replace(sheet, cautions=(Caution(code="sheet_ask_first"), *kept))
