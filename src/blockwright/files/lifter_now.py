"""What a lifter does now and how the block is wanted: visits, known sets, habits, deload."""

from collections.abc import Sequence

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
from blockwright.files.lifter_fields import ask, ask_all
from blockwright.files.lifter_parts import known_lift
from blockwright.files.near import did_you_mean
from blockwright.files.toml_checks import Table
from blockwright.files.vocabulary import vocabulary


def read_visits(file: Table, slots: Sequence[Slot]) -> int | None:
    """How many of the slots to use; more than there are is an error."""
    visits: int | None = ask(file, "visits")
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
        said = ask_all(table, ("lift", "load", "reps", "rir", "on"))
        typed = said.pop("lift")
        lift = None if typed is None else known_lift(table, "lift", typed, catalogue)
        table.close()
        if lift is not None and said["load"] is not None and said["reps"] is not None:
            found.append(Known(lift=lift, **said))
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
        elif (count := ask(sets, muscle)) is not None:
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
    style: DeloadStyle = ask(table, "style")
    table.close()
    return style
