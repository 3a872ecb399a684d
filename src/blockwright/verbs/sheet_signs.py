"""What a partner reads in place of the warning signs that a sheet says."""

from dataclasses import replace

from blockwright.engine.day_sheet import DaySheet
from blockwright.engine.reasons import Caution

_CODES = ("sheet_sign", "sheet_sign_lift", "sheet_sign_in_doubt")


def without_signs(sheet: DaySheet) -> DaySheet:
    """The sheet as a partner may see it: what to do, without what was written."""
    if not any(one.code in _CODES for one in sheet.cautions):
        return sheet
    ask = Caution(code="sheet_ask_first")
    kept = tuple(one for one in sheet.cautions if one.code not in (*_CODES, ask.code))
    return replace(sheet, cautions=(ask, *kept))
