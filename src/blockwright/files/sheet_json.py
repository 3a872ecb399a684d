"""A day's sheet to its JSON document: the one source of every word on paper and screen."""

from typing import Any

from blockwright.engine.day_sheet import DaySheet
from blockwright.files.codec import document


def sheet_to_json(sheet: DaySheet) -> dict[str, Any]:
    """The `blockwright/sheet/1` document of a sheet."""
    return document("sheet", sheet)
