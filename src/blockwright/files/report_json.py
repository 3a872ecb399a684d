"""A block report to its JSON document: what paper and page are made from."""

from collections.abc import Mapping
from typing import Any

from blockwright.engine.report import (
    BlockReport,
    MuscleDone,
    Told,
)
from blockwright.files.codec import to_json

FORMAT = "blockwright/report/1"


def report_to_json(report: BlockReport) -> dict[str, Any]:
    """The `blockwright/report/1` document."""
    block = report.block
    return {
        "format": FORMAT,
        "lifter": block.lifter.name,
        "units": block.lifter.units,
        "block_revision": block.revision,
        "status": block.status,
        "start": block.start,
        "through": report.through,
        "is_over": report.is_over,
        "findings": to_json(report.findings),
        "weeks": to_json(report.weeks),
        "lifts": to_json(report.lifts),
        "muscles": [muscle_to_json(muscle) for muscle in report.muscles],
        "strength": to_json(report.strength),
        "proposals": [to_json(one) | {"says": one.says or None} for one in report.proposals],
        "claims": to_json(report.claims),
        "predictions": to_json(report.predictions),
        "next_block": {
            "kept": list(report.following.kept),
            "left_out": list(report.following.left_out),
            "steps_below": report.following.steps_below,
            "reasons": to_json(report.following.reasons),
        },
        "cautions": to_json(report.cautions),
    }


def muscle_to_json(muscle: MuscleDone) -> dict[str, Any]:
    """One muscle's weeks beside its floor and ceiling."""
    return {
        "muscle": muscle.muscle,
        "emphasis": muscle.emphasis,
        "sets_planned": list(muscle.planned),
        "sets_done": list(muscle.done),
        "floor": muscle.floor,
        "ceiling": {
            "low80": muscle.ceiling_low,
            "median": muscle.ceiling_median,
            "high80": muscle.ceiling_high,
            "at_least": muscle.at_least,
            "failure_seen": muscle.failure_seen,
            "weeks_seen": muscle.weeks_seen,
        },
    }


def told_from_json(document: Mapping[str, Any]) -> list[Told]:
    """The proposals of a checked `blockwright/proposals/1` document, as the letter told them."""
    return [
        Told(
            id=item["id"],
            kind=item["kind"],
            week=item["week"],
            says=item["says"],
            confidence=item["confidence"],
            session=item["session"],
            lift=item["lift"],
            muscle=item["muscle"],
            to_load_kg=(item["after"] or {}).get("load_kg"),
        )
        for item in document["proposals"]
    ]
