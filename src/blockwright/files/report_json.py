"""A block report to its JSON document: what paper and page are made from."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from blockwright.engine.report import BlockReport, Told
from blockwright.files.codec import document, from_json


def report_to_json(report: BlockReport) -> dict[str, Any]:
    """The `blockwright/report/1` document."""
    return document("report", report)


def told_from_json(document: Mapping[str, Any]) -> list[Told]:
    """The proposals of a checked `blockwright/proposals/1` document, as the letter told them."""
    return [
        replace(from_json(Told, item), to_load_kg=(item["after"] or {}).get("load_kg"))
        for item in document["proposals"]
    ]
