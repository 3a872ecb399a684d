"""What a lifter does now and how the block is wanted: visits, known sets, habits, deload."""

from collections.abc import Sequence
from typing import get_args

from blockwright.engine.training import (
    MUSCLES,
    Catalogue,
    DeloadStyle,
    Habits,
    Known,
    RepRange,
    Slot,
)
from blockwright.files.lift_grades import read_range
from blockwright.files.lifter_parts import known_lift
from blockwright.files.near import did_you_mean
from blockwright.files.toml_checks import Table
from blockwright.files.vocabulary import vocabulary

_STYLES: tuple[DeloadStyle, ...] = get_args(DeloadStyle)
_MOST_LOAD, _MOST_REPS, _MOST_RIR, _MOST_SETS = 2500.0, 60, 10.0, 60.0


def read_visits(file: Table, slots: Sequence[Slot]) -> int | None:
    """How many of the slots to use; more than there are is an error."""
    visits = file.whole("visits", 1, 14, "visits a week")
    if visits is not None and slots and visits > len(slots):
        file.error(
            "visits",
            f"asks for {visits} visits, and there are {len(slots)} slots",
            f"write {len(slots)} or less, or add a [[slot]]",
        )
    return visits


def read_known(file: Table, catalogue: Catalogue) -> tuple[Known, ...]:
    """Sets the lifter can do now."""
    found = []
    for table in file.tables("known"):
        table.need("lift", 'name the lift: lift = "leg press"')
        table.need("load", "say the load as it stands on the bar or stack: load = 100")
        table.need("reps", "say the repetitions: reps = 5")
        typed = table.text("lift")
        lift = None if typed is None else known_lift(table, "lift", typed, catalogue)
        load = table.number("load", 0, _MOST_LOAD, "in the file's units")
        reps = table.whole("reps", 1, _MOST_REPS, "repetitions")
        rir = table.number("rir", 0, _MOST_RIR, "repetitions in reserve")
        on = table.day("on")
        table.close()
        if lift is not None and load is not None and reps is not None:
            found.append(Known(lift=lift, load=load, reps=reps, rir=rir, on=on))
    return tuple(found)


def read_habits(file: Table, catalogue: Catalogue) -> Habits:
    """Weekly sets by muscle, and ranges liked by lift or pattern."""
    table = file.table("habits")
    sets = table.table("weekly_sets")
    weekly: dict[str, float] = {}
    for muscle in sets.values:
        if muscle not in MUSCLES:
            mend = did_you_mean(muscle, MUSCLES, "use one of: " + ", ".join(MUSCLES), 2)
            sets.error(muscle, "is not a muscle we know", mend)
        elif (count := sets.number(muscle, 0, _MOST_SETS, "sets a week")) is not None:
            weekly[muscle] = count
    liked = table.table("reps")
    ranges: dict[str, RepRange] = {}
    for typed in liked.values:
        text = liked.text(typed)
        name = _lift_or_pattern(liked, typed, catalogue)
        reps = None if text is None else read_range(liked, typed, text, '"12-20"')
        if name is not None and reps is not None:
            ranges[name] = reps
    table.close()
    return Habits(weekly_sets=weekly, reps=ranges)


def _lift_or_pattern(table: Table, typed: str, catalogue: Catalogue) -> str | None:
    pattern = " ".join(typed.lower().split())
    if pattern in vocabulary().patterns:
        return pattern
    return known_lift(table, typed, typed, catalogue)


def read_deload(file: Table) -> DeloadStyle:
    """The style of the deload week."""
    table = file.table("deload")
    style = table.word("style", _STYLES)
    table.close()
    return style or "half"
