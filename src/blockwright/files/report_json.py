"""A block report to its JSON document: what paper and page are made from."""

from collections.abc import Mapping
from typing import Any

from blockwright.engine.report import (
    BlockReport,
    ClaimsKept,
    Fate,
    LiftDone,
    LiftStrength,
    MuscleDone,
    PredictionScore,
    Told,
    WeekDone,
)
from blockwright.engine.strength import Interval, StrengthPoint
from blockwright.files.words import caution_json, reason_json

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
        "findings": {part: reason_json(reason) for part, reason in report.findings.items()},
        "weeks": [_week(week) for week in report.weeks],
        "lifts": [_lift(lift) for lift in report.lifts],
        "muscles": [muscle_to_json(muscle) for muscle in report.muscles],
        "strength": [_strength(lift) for lift in report.strength],
        "proposals": [_fate(fate) for fate in report.proposals],
        "claims": None if report.claims is None else _claims(report.claims),
        "predictions": None if report.predictions is None else _predictions(report.predictions),
        "next_block": {
            "kept": list(report.following.kept),
            "left_out": list(report.following.left_out),
            "steps_below": report.following.steps_below,
            "reasons": [reason_json(reason) for reason in report.following.reasons],
        },
        "cautions": [caution_json(caution) for caution in report.cautions],
    }


def _week(week: WeekDone) -> dict[str, Any]:
    load = week.load
    return {
        "week": week.week,
        "kind": week.kind,
        "start": week.start,
        "sessions_planned": week.sessions_planned,
        "sessions_done": week.sessions_done,
        "missed": list(week.missed),
        "sets_planned": week.sets_planned,
        "sets_done": week.sets_done,
        "rir_asked": week.rir_asked,
        "rir_said": week.rir_said,
        "session_load": None
        if load is None
        else {
            "days": load.days_known,
            "total_au": load.total,
            "monotony": load.monotony,
            "monotony_sample_sd": load.monotony_sample_sd,
            "strain_au": load.strain,
        },
    }


def _lift(lift: LiftDone) -> dict[str, Any]:
    return {
        "lift": lift.lift,
        "sets_planned": list(lift.planned),
        "sets_done": list(lift.done),
        "first_load_kg": lift.first_load_kg,
        "last_load_kg": lift.last_load_kg,
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


def _strength(lift: LiftStrength) -> dict[str, Any]:
    return {
        "lift": lift.lift,
        "before_kg": None if lift.before_kg is None else _interval(lift.before_kg),
        "after_kg": _interval(lift.after_kg),
        "trend_pct_per_week": _interval(lift.trend_pct_per_week),
        "heading": lift.heading,
        "sessions": lift.sessions,
        "sets_used": lift.sets_used,
        "points": [point_to_json(point) for point in lift.points],
    }


def point_to_json(point: StrengthPoint) -> dict[str, Any]:
    """One session of a strength history."""
    return {
        "date": point.day,
        "one_rm_kg": _interval(point.one_rm_kg),
        "sets_kg": list(point.used_kg),
        "left_out_kg": list(point.flagged_kg),
    }


def _fate(fate: Fate) -> dict[str, Any]:
    return {
        "id": fate.id,
        "kind": fate.kind,
        "week": fate.week,
        "says": fate.says or None,
        "confidence": fate.confidence,
        "decision": fate.verdict,
        "words": fate.words,
        "change": dict(fate.change),
        "came_true": fate.came_true,
    }


def _claims(claims: ClaimsKept) -> dict[str, Any]:
    return {
        "judged": claims.judged,
        "kept": claims.kept,
        "expected": claims.expected,
        "expected_sd": claims.expected_sd,
    }


def _predictions(found: PredictionScore) -> dict[str, Any]:
    return {
        "sets": found.sets,
        "inside80": found.inside,
        "rmse_reps": found.rmse_reps,
        "rule": found.rule,
        "rule_rmse_reps": found.rule_rmse_reps,
        "flagged": found.flagged,
    }


def _interval(interval: Interval) -> dict[str, float]:
    return {"median": interval.median, "low80": interval.low80, "high80": interval.high80}


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
