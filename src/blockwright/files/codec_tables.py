"""How documents differ from the types they are made of; what values may be stands in data.

By the name of the type; a field that no table names stands in the document as it is in the type.
"""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib import resources
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
    "ProposalsDocument": frozenset({"verdict"}),
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
    "ProposalsDocument": frozenset({"message"}),
    "ShortEntry": frozenset({"gone"}),
    "PolicyValue": frozenset({"choices", "stricter"}),
}
"""Fields left out of a document while they have their default."""

LATER: Mapping[str, frozenset[str]] = {
    "Week": frozenset({"ease"}),
    "ProposalsDocument": frozenset({"climb", "caution_lines"}),
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


@cache
def bounds() -> Mapping[str, Mapping[str, Schema]]:
    """What a field may be, beyond its type: `data/documents.toml`."""
    file = resources.files("blockwright.files") / "data" / "documents.toml"
    return tomllib.loads(file.read_text(encoding="utf-8"))
