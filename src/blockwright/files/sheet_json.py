"""A day's sheet to its JSON document: the one source of every word on paper and screen."""

from typing import Any

from blockwright.engine.day_sheet import DaySheet
from blockwright.files.codec import document_schema, to_json

FORMAT = "blockwright/sheet/1"


def sheet_to_json(sheet: DaySheet) -> dict[str, Any]:
    """The `blockwright/sheet/1` document of a sheet."""
    return {"format": FORMAT, **to_json(sheet)}


def schema() -> dict[str, Any]:
    """The published schema of the document."""
    return document_schema(DaySheet, "sheet", "What one session takes")
