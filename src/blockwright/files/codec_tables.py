"""How documents differ from the types they are made of, and what their values may be.

By the name of the type; a field that no table names stands in the document as it is in the type.
"""

from collections.abc import Mapping
from typing import Any

Schema = dict[str, Any]

KEYS: Mapping[str, Mapping[str, str]] = {
    "Session": {"day": "date"},
    "BlockDecision": {"verdict": "decision"},
    "Fate": {"verdict": "decision"},
    "StrengthPoint": {"day": "date", "used_kg": "sets_kg", "flagged_kg": "left_out_kg"},
    "LiftDone": {"planned": "sets_planned", "done": "sets_done"},
    "PredictionScore": {"inside": "inside80"},
    "WeekDone": {"load": "session_load"},
    "SessionLoad": {"days_known": "days", "total": "total_au", "strain": "strain_au"},
    "RunnerUp": {"why": "says"},
    "AdviceRow": {"reason": "says"},
    "SheetEntry": {"advice": "next_set_advice"},
    "BlockReport": {"following": "next_block"},
    "MuscleDone": {"planned": "sets_planned", "done": "sets_done"},
    "Score": {"n_flagged": "flagged", "rmse_in_line": "rmse_reps_in_line"},
}
"""By type: fields that stand under another key."""

FLAT: Mapping[str, Mapping[str, Mapping[str, str] | None]] = {
    "DaySheet": {
        "block": {"lifter.name": "lifter", "lifter.units": "units", "status": "status",
                  "revision": "block_revision", "length": "weeks"},
        "week": {"week": "week", "kind": "kind", "rir": "week_rir"},
        "session": {"session": "session", "day": "date", "start_time": "start_time",
                    "minutes_available": "minutes_available",
                    "minutes_planned": "minutes_planned", "missed": "missed"},
    },
    "SheetEntry": {
        "entry": {name: name for name in ("order", "lift", "method", "zone", "pair", "rest_s")},
        "lift": {name: name for name in ("load_kind", "standard", "caution")},
        "finding": {},
    },
    "SheetSet": {"planned": None, "setting": {"plates_per_side": "plates", "says": "setting"}},
    "WarmupSet": {"setting": {"plates_per_side": "plates_per_side", "says": "says"}},
    "AdviceRow": {"setting": {"load_kg": "load_kg", "says": "setting"}},
    "SharedBar": {"moves": {
        "first.load_kg": "load_kg", "second.load_kg": "partner_load_kg", "shared": "stays_on",
        "first_only": "own", "second_only": "partner_own", "moves_per_side": "moves_per_side"}},
    "BlockReport": {"block": {"lifter.name": "lifter", "lifter.units": "units",
                              "revision": "block_revision", "status": "status", "start": "start"}},
    "MuscleDone": {"planned_direct": {}, "done_direct": {}},
    "Watch": {"points": {}, "resting_limit": {}},
    "Setting": {"bar": {}},
    "Problem": {"file": {}, "stands_for": {}},
    "NextBlock": {"ceilings": {}, "twins": {}, "cautions": {}},
}  # fmt: skip
"""By type and field: an object of which these parts, by their path, stand in its owner under these
keys; None for all of them, {} for none."""

ALSO: Mapping[str, tuple[str, ...]] = {
    "SheetEntry": ("find_load", "find_rules"),
    "BlockReport": ("is_over",),
    "Watch": ("statistic", "limit", "alarm", "alarms"),
}
"""Properties that a document has behind the fields."""

SAID: Mapping[str, frozenset[str]] = {
    "Letter": frozenset({"verdict"}),
    "LetterProposal": frozenset({"says", "claim"}),
    "RunnerUp": frozenset({"why"}),
    "LetterStay": frozenset({"why"}),
    "Question": frozenset({"asks"}),
    "AdviceRow": frozenset({"reason"}),
}
"""Reasons that stand as their sentence alone."""

ABSENT: Mapping[str, frozenset[str]] = {
    "SetPlan": frozenset({"forecast_kg", "aim_low", "aim_high"}),
    "Block": frozenset({"coach_policy"}),
    "Reason": frozenset({"policy"}),
    "Letter": frozenset({"message"}),
    "ShortEntry": frozenset({"gone"}),
    "PolicyValue": frozenset({"choices", "stricter"}),
}
"""Fields left out of a document while they have their default."""

LATER: Mapping[str, frozenset[str]] = {
    "Week": frozenset({"ease"}),
    "Letter": frozenset({"climb", "caution_lines"}),
    "LetterProposal": frozenset({"line"}),
    "LetterStay": frozenset({"short"}),
}
"""Fields that documents of an older version lack; written always, never asked for."""

NAMED: Mapping[str, str] = {
    "Reason": "reason", "Caution": "caution", "SetPlan": "set", "Entry": "entry",
    "Session": "session", "Week": "week", "BlockDecision": "decision", "LetterProposal": "proposal",
    "To": "change", "SheetEntry": "entry",
    "SheetSet": "set", "WarmupSet": "ladder", "AdviceRow": "advice", "SharedBar": "shared_bar",
    "ClashingRule": "rule", "Interval": "interval", "WeekDone": "week", "LiftDone": "lift",
    "MuscleDone": "muscle", "LiftStrength": "strength", "Fate": "proposal",
    "Setting": "made", "Turn": "turn", "TakingTurns": "partner", "Watch": "watch",
    "CheckedFile": "file", "Problem": "problem",
}  # fmt: skip
"""Types a schema defines once, by their name in `$defs`."""

_COUNT, _AMOUNT = {"minimum": 1}, {"minimum": 0}
_BY_WEEK = {"items": {"type": ["integer", "null"], "minimum": 0},
            "description": "By week; null where the week had none."}  # fmt: skip
_FRACTIONAL = {"description": "Fractional sets by week."}
_PLATES = {"additionalProperties": {"type": "integer", "minimum": 1}}
BOUNDS: Mapping[str, Mapping[str, Schema]] = {
    "Block": {
        "length": {"minimum": 1, "description": "Weeks of the block, deload included."},
        "revision": _COUNT, "weeks": {"minItems": 1}, "coach_policy": {
        "additionalProperties": {"type": ["number", "string", "boolean"]},
        "description": "The coach's policy values the block was made under; absent without a "
        "coach's file."}},
    "SolverReport": {"gap": _AMOUNT},
    "Week": {"week": _COUNT, "rir": _AMOUNT},
    "MuscleSets": dict.fromkeys(("direct", "indirect", "fractional", "floor", "ceiling"), _AMOUNT),
    "Session": {"session": _COUNT, "start_time": {"pattern": "^[0-2][0-9]:[0-5][0-9]$"},
              "minutes_available": _AMOUNT, "minutes_planned": _AMOUNT},
    "Entry": {"order": _COUNT, "rest_s": _AMOUNT, "sets": {"minItems": 1},
              "method": {"enum": ["straight", "rest-pause", "drop", "superset"]}},
    "SetPlan": {"load_kg": {"minimum": 0, "maximum": 2500},
              "reps_low": {"minimum": 1, "maximum": 1000},
              "reps_high": {"minimum": 1, "maximum": 1000, "description": "Not below reps_low."},
              "rir": {"minimum": 0, "maximum": 10}, "counts_as": _AMOUNT,
              "aim_low": _AMOUNT | {"description": "The first set's own aim inside the range, "
                                    "where fatigue will spread the sets."}, "aim_high": _AMOUNT,
              "forecast_kg": {"items": {"type": "number", "minimum": 0}}},
    "Letter": {"block_revision": _COUNT, "week": _COUNT},
    "LetterProposal": {
        "week": _COUNT, "session": _COUNT, "confidence": {"minimum": 0, "maximum": 1},
        "reasons": {"minItems": 1}, "loses": {"additionalProperties": {
            "type": "number", "minimum": 0}}},
    "LetterStay": {"session": _COUNT},
    "Climb": {"loads": _AMOUNT, "sets": _AMOUNT},
    "BlockReport": {
        "is_over": {"description": "Whether every week of the block had ended by through."},
        "findings": {"description": "What each part found: its title.", "required": [
            "done", "muscles", "strength", "proposals", "predictions", "claims", "load", "next"]}},
    "WeekDone": {"week": _COUNT} | dict.fromkeys(
        ("sessions_planned", "sessions_done", "sets_planned", "sets_done"), _AMOUNT),
    "SessionLoad": {"days_known": _AMOUNT},
    "LiftDone": {"planned": _BY_WEEK, "done": _BY_WEEK},
    "MuscleDone": {"planned": _FRACTIONAL, "done": _FRACTIONAL},
    "CeilingSeen": {"weeks_seen": _AMOUNT, "at_least": {
        "description": "While no week has failed; else null."}},
    "LiftStrength": {"sessions": _AMOUNT, "sets_used": _AMOUNT},
    "Fate": {"week": _COUNT, "confidence": {"minimum": 0, "maximum": 1}, "came_true": {
        "description": "Of a load proposal whose set was done at that load; else null."}},
    "ClaimsKept": {"judged": _AMOUNT, "kept": _AMOUNT, "expected": {
        "description": "The sum of the confidences."}},
    "PredictionScore": dict.fromkeys(("sets", "inside", "flagged"), _AMOUNT) | {
        "rule": {"description": "The best simple rule on the same sets."}},
    "NextBlock": {"steps_below": _AMOUNT},
    "CheckedFiles": {"files": {"minItems": 1}},
    "CheckedFile": {
        "file": {"description": "The file as it was named."},
        "kind": {
            "enum": ["lifter", "policy", "sets", "checkins", "lifts", "check", "rack", "block",
                     "sheet", "proposals", "estimate", "backtest", "clash", "report", "json",
                     "unknown"],
            "description": "What the file was taken for, by its ending and header."},
        "errors": {"description": "What must be mended before the file can be used."},
        "warnings": {"description": "What was assumed, left out, or should be looked at."}},
    "Problem": {
        "row": _COUNT | {"description": "Row as a spreadsheet shows it: the header is row 1. Line "
                         "of a TOML or JSON file."},
        "column": {"description": "The header's word."},
        "key": {"description": "Dotted key of a TOML or JSON file; lists count from 1."},
        "says": {"minLength": 1, "description": "What is wrong."},
        "mend": {"description": "What to do about it."}},
    "RackLoad": {
        "load_kg": _AMOUNT | {"description": "The load asked for."},
        "unit": {"description": "The unit the load was typed in."},
        "exact": {"description": "Whether the load asked for can be made."},
        "below": {"description": "The greatest load not above; the load itself when exact."},
        "above": {"description": "The smallest load not below; the load itself when exact."},
        "warmup": {"description": "Before the load `below`; easiest first."}},
    "TakingTurns": {
        "load_kg": _AMOUNT | {"description": "The partner's load as asked for."},
        "exact": {"description": "Whether the partner's load can be made; else the nearest below "
                  "is used."},
        "stays_on": _PLATES, "moves_per_side": _AMOUNT},
    "Turn": {"load_kg": _AMOUNT, "plates_per_side": _PLATES, "order": {
        "description": "Plates of one side from the collar outwards."}},
    "TurnChange": {"off": _PLATES, "on": _PLATES},
    "LiftEstimate": {
        "one_rm_kg": {"description": "On the scale of the effective load; null before there is "
                      "any evidence."},
        "reps_at_load": {"description": "Repetitions to failure at a few loads, heaviest first."},
        "sets_used": _AMOUNT},
    "RepsAtLoad": {"load_kg": _AMOUNT | {"description": "As written on the sheet."}},
    "Watch": {
        "statistic": _AMOUNT,
        "alarm": {"description": "Whether the statistic stands above its limit at as_of."},
        "alarms": {"description": "The days on which it sounded."}},
    "SetsPredicted": {"rows": {"description": "In time order."}},
    "SetPredicted": {
        "load_kg": {"description": "As written on the sheet; of the first part."},
        "reps": _AMOUNT | {"description": "Of the first part."},
        "reps_to_failure": {"description": "reps + RIR as logged; null without RIR."},
        "predicted": {"description": "Of reps_to_failure, given the row's load, rest and RIR; "
                      "real-valued. Null with a reason in skipped."},
        "skipped": {"enum": [None, "first_set", "warmup", "mini_sets", "mini_set", "no_rir",
                             "no_bodyweight", "load_not_above_zero", "not_full_range",
                             "painful_set", "too_many_reps", "easy_on_purpose",
                             "try_on_the_way"]},
        "flagged": {"description": "Out of line and not confirmed, or the set that changed the "
                    "level; predicted and scored all the same."}},
    "Score": {
        "n": _AMOUNT,
        "baselines": {"additionalProperties": {"type": "number"}, "description": "Root mean "
                      "squared error in repetitions of simple rules on the same rows, through "
                      "Epley's equation."},
        "n_flagged": _AMOUNT | {"description": "Sets out of line and not confirmed: in rows and in "
                                "the figures."},
        "rmse_in_line": {"description": "Of the rows that are not flagged, apart."}},
    "Clashed": {"rules": {"minItems": 1}},
    "SheetEntry": {
        "advice": {"description": "By repetitions done at the target effort in the first set: the "
                   "load for the next. Covers 0 and up; empty where a result changes nothing."},
        "find_load": {"description": "Tries while no load is known, or again where it was far too "
                      "light, as they follow while each is far too light; else empty."},
        "find_rules": {"description": "How a try decides what follows it, and when to stop."}},
    "AdviceRow": {"reps_from": _AMOUNT, "reps_to": _AMOUNT | {"description": "null: or more"},
                  "move": {"description": "Of what the muscles move: less assistance is a raise."}},
    "WarmupSet": {"load_kg": _AMOUNT, "reps": _COUNT},
    "Setting": {
        "load_kg": _AMOUNT, "says": {"description": "The load in words: bar and plates, "
                                     "dumbbells, stack."},
        "plates_per_side": _PLATES | {"description": "Plates per side as written in the gym, null "
                                      "when no plates make the load."}},
    "PartnerMoves": {"shared": _PLATES, "first_only": _PLATES, "second_only": _PLATES,
                     "moves_per_side": _AMOUNT},
}  # fmt: skip
"""What a field may be, beyond its type."""
