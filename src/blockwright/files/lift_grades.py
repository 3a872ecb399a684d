"""What a coach thinks of a lift, read from its `[[lift]]` table: role, preferred ranges, angle,
and the regions of the body it loads; what follows from its pattern where nothing is said.

All of it is judgement: common practice, no source.
"""

import re
from collections.abc import Mapping
from typing import Literal

from blockwright.engine.training import REGIONS, RepRange, Role
from blockwright.files.lifter_fields import ask
from blockwright.files.near import did_you_mean, listed
from blockwright.files.toml_checks import Table
from blockwright.files.vocabulary import Pattern, rep_range

MOST_REPS = 60
USUAL_PLAINNESS = 2
_MOST_GRADE = 2
_RANGE = re.compile(r"\s*(\d{1,3})\s*-\s*(\d{1,3})\s*")


def read_range(table: Table, key: str, text: str, example: str) -> RepRange | None:
    """The range in `text`; None when it is none, which is then an error of `key`."""
    match = _RANGE.fullmatch(text)
    if match is None or not 1 <= int(match[1]) <= int(match[2]) <= MOST_REPS:
        mend = f"write it as {example}, from 1 to {MOST_REPS}"
        table.error(key, f'"{text}" is not a range of repetitions', mend)
        return None
    return rep_range(text)


def read_role(table: Table, pattern: Pattern) -> Role:
    """The role said, or that follows from `compound`, or the pattern's."""
    said, compound = ask(table, "role"), ask(table, "compound")
    if compound is None:
        return said or pattern.role
    if said and compound != (said != "small"):
        table.error(
            "role",
            f"{said} and compound = {str(compound).lower()} cannot both be",
            "a lift of one joint is small, one of several joints main or second; leave one key out",
        )
    if not compound:
        return "small"
    return said or ("second" if pattern.role == "small" else pattern.role)


def read_prefers(
    table: Table, pattern: Pattern, usable: Mapping[str, RepRange]
) -> tuple[RepRange, ...]:
    """The ranges said, best first; else the pattern's that the lift can use, else its own."""
    lowest = min(reps.low for reps in usable.values())
    highest = max(reps.high for reps in usable.values())
    said: list[RepRange] = []
    for place, text in enumerate(table.words("prefers"), 1):
        key = f"prefers.{place}"
        reps = read_range(table, key, text, '"8-12"')
        if reps is None:
            continue
        if not lowest <= reps.low <= reps.high <= highest:
            says = f"{reps} is not inside the lift's usable {lowest}-{highest}"
            table.error(key, says, "prefer a range inside it, or widen `reps`")
        said.append(reps)
    usual = tuple(r for r in pattern.prefers if lowest <= r.low <= r.high <= highest)
    return tuple(said) or usual or tuple(usable.values())


def read_regions(table: Table) -> dict[str, int] | None:
    """Region to grade, in the order of the body, a grade of 0 left out; None if nothing is
    said."""
    if not table.has("regions"):
        return None
    inner = table.table("regions")
    read: dict[str, int] = {}
    for typed in inner.values:
        grade = inner.whole(typed, 0, _MOST_GRADE)
        region = "_".join(str(typed).lower().split())
        if region not in REGIONS:
            mend = did_you_mean(region, REGIONS, f"write {listed(REGIONS)}", 2)
            inner.error(typed, f'"{typed}" is not a region of the body', mend)
        elif region in read:
            inner.error(typed, f'"{region}" stands twice', "keep one")
        elif grade is not None:
            read[region] = grade
    return {region: read[region] for region in REGIONS if read.get(region)}


def usual_skill(pattern: Pattern, stability: Literal["free", "supported", "machine"]) -> int:
    """The pattern's, and one less on a machine."""
    return max(pattern.skill - 1, 0) if stability == "machine" else pattern.skill


def usual_regions(pattern: Pattern, axial: int) -> dict[str, int]:
    """The pattern's, and what a load on the spine adds to the lower back."""
    spine = {"lower_back": max(pattern.regions.get("lower_back", 0), min(axial, _MOST_GRADE))}
    both = {**pattern.regions, **spine}
    return {region: both[region] for region in REGIONS if both.get(region)}
