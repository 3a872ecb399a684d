"""Warning signs that the next sheet has to say: written down, not cleared, not long ago."""

from dataclasses import replace
from datetime import date, timedelta

from blockwright.engine.case import CoachCase
from blockwright.engine.day_sheet import DaySheet
from blockwright.engine.reasons import Caution
from blockwright.engine.review.case import cleared_days
from blockwright.engine.signs import (
    Warning,
    signs_in_checkins,
    signs_in_sets,
    standing_signs,
)

_CODES = ("sheet_sign", "sheet_sign_lift", "sheet_sign_in_doubt")


def sheet_signs(case: CoachCase, day: date) -> tuple[Warning, ...]:
    """The signs for a session on `day`, from what was known before it: since the block began, or
    within `safety.pain_memory_days`."""
    assert case.block is not None
    memory = timedelta(days=case.policy.number("safety.pain_memory_days"))
    said = signs_in_checkins(case.checkins, case.catalogue, case.policy)
    found = (*signs_in_sets(case.sets), *said, *case.signs)
    return standing_signs(found, cleared_days(case.block), min(case.block.start, day - memory), day)


def without_signs(sheet: DaySheet) -> DaySheet:
    """The sheet as a partner may see it: what to do, without what was written."""
    if not any(one.code in _CODES for one in sheet.cautions):
        return sheet
    ask = Caution(code="sheet_ask_first")
    kept = tuple(one for one in sheet.cautions if one.code not in (*_CODES, ask.code))
    return replace(sheet, cautions=(ask, *kept))
