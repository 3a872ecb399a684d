"""A day's sheet to its JSON document: the one source of every word on paper and screen."""

from collections.abc import Mapping
from typing import Any

from blockwright.engine.day_sheet import AdviceRow, DaySheet, SharedBar, SheetEntry, SheetSet
from blockwright.engine.rack import Setting
from blockwright.files.codec import to_json
from blockwright.files.words import caution_json, reason_json, reason_says

FORMAT = "blockwright/sheet/1"


def sheet_to_json(sheet: DaySheet) -> dict[str, Any]:
    """The `blockwright/sheet/1` document of a sheet."""
    block, week = sheet.block, sheet.week
    session = to_json(sheet.session)
    planned = {entry["order"]: entry for entry in session["entries"]}
    return {
        "format": FORMAT,
        "lifter": block.lifter.name,
        "units": block.lifter.units,
        "status": block.status,
        "block_revision": block.revision,
        "week": week.week,
        "weeks": len(block.weeks),
        "kind": week.kind,
        "week_rir": week.rir,
        **{key: value for key, value in session.items() if key != "entries"},
        "entries": [_entry(planned[entry.entry.order], entry) for entry in sheet.entries],
        "cautions": [caution_json(caution) for caution in sheet.cautions],
        "notes": [reason_json(note) for note in sheet.notes],
    }


def _entry(planned: Mapping[str, Any], entry: SheetEntry) -> dict[str, Any]:
    return {
        **planned,
        "load_kind": entry.lift.load_kind,
        "sets": [
            {**_without_aim(plan), **_set(made)}
            for plan, made in zip(planned["sets"], entry.sets, strict=True)
        ],
        "standard": entry.lift.standard,
        "caution": entry.lift.caution,
        "cautions": [caution_json(caution) for caution in entry.cautions],
        "warmup": [_rung(each.setting, each.reps) for each in entry.warmup],
        "find_load": [_rung(setting, entry.finding.reps) for setting in entry.finding.tries]
        if entry.finding
        else [],
        "find_rules": [reason_json(rule) for rule in entry.finding.rules] if entry.finding else [],
        "next_set_advice": [_advice(row) for row in entry.advice],
        "shared_bar": _shared_bar(entry.shared_bar) if entry.shared_bar else None,
    }


def _without_aim(plan: Mapping[str, Any]) -> dict[str, Any]:
    """A planned set of the block; the sheet has its own aim, by what is known today."""
    return {key: value for key, value in plan.items() if key not in ("aim_low", "aim_high")}


def _set(made: SheetSet) -> dict[str, Any]:
    setting = made.setting
    plates = setting.plates_per_side if setting else None
    planned = made.planned
    aim = {} if planned.aim_low is None else {
        "aim_low": planned.aim_low, "aim_high": planned.aim_high,
    }  # fmt: skip
    return {
        **aim,
        "load_kg": made.planned.load_kg,
        "plates": None if plates is None else dict(plates),
        "setting": setting.says if setting else None,
    }


def _rung(setting: Setting, reps: int) -> dict[str, Any]:
    plates = setting.plates_per_side
    return {
        "load_kg": setting.load_kg,
        "reps": reps,
        "plates_per_side": None if plates is None else dict(plates),
        "says": setting.says,
    }


def _advice(row: AdviceRow) -> dict[str, Any]:
    return {
        "reps_from": row.reps_from,
        "reps_to": row.reps_to,
        "load_kg": row.setting.load_kg,
        "move": row.move,
        "setting": row.setting.says,
        "says": reason_says(row.reason),
    }


def _shared_bar(shared: SharedBar) -> dict[str, Any]:
    moves = shared.moves
    return {
        "partner": shared.partner,
        "load_kg": moves.first.load_kg,
        "partner_load_kg": moves.second.load_kg,
        "stays_on": dict(moves.shared),
        "own": dict(moves.first_only),
        "partner_own": dict(moves.second_only),
        "moves_per_side": moves.moves_per_side,
    }
