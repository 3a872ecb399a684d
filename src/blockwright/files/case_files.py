"""A coach's case from files: a block with its log, or a log with the lifters in it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from blockwright.engine.case import BlockCase, CoachCase
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.signs import signs_said
from blockwright.engine.training import Block, CheckIn, Lifter, SetDone
from blockwright.engine.units import Unit
from .block_json import read_block
from .catalogue import builtin_catalogue, catalogue_for
from .checkins_file import read_checkins
from .csv_values import name_key
from .lifter_file import read_lifter
from .policy_files import block_policy, policy_under, under_coach
from .reading import Reading
from .sets_file import read_sets
from .signs.grammar import signs_found

Fact = TypeVar("Fact", SetDone, CheckIn)
Case = TypeVar("Case", bound=CoachCase)


def read_case(
    block_file: Path,
    sets_file: Path | None,
    checkins_file: Path | None = None,
    coach: Path | None = None,
) -> Reading[BlockCase]:
    """A block and what its lifter logged. Raises BadInput; warnings come beside."""
    block = under_coach(read_block(block_file), coach)
    return with_facts(case_of_block(block), sets_file, checkins_file)


def case_of_block(block: Block) -> BlockCase:
    """A block alone, under the policy it carries, with the warning signs it was made under."""
    return BlockCase(
        lifter=block.lifter,
        block=block,
        catalogue=catalogue_for(block.lifter),
        policy=block_policy(block),
        read_note=signs_found,
        signs=signs_said(block.cautions),
    )


def with_facts(case: Case, sets_file: Path | None, checkins_file: Path | None) -> Reading[Case]:
    """The case with its lifter's own sets and check-ins from files of one or of several people."""
    lifter = case.lifter
    assert lifter is not None
    warnings: list[Problem] = []
    if sets_file is not None:
        sets = read_sets(sets_file, case.catalogue, lifter)
        warnings += sets.warnings
        case = replace(case, sets=filter_lifter(sets.value, lifter, sets_file.name))
    if checkins_file is not None:
        said = read_checkins(checkins_file, lifter.name, case.catalogue)
        warnings += said.warnings
        case = replace(case, checkins=filter_lifter(said.value, lifter, checkins_file.name))
    return Reading(case, tuple(warnings))


@dataclass(frozen=True, slots=True)
class LogFile:
    """A log of sets: a case for each lifter in it, by name."""

    cases: tuple[CoachCase, ...]
    unit: Unit  # What answers are shown in: the lifter's, or of a log all in pounds those
    warnings: tuple[Problem, ...] = ()


def read_log(
    sets_file: Path,
    lifter_file: Path | None = None,
    coach: Path | None = None,
    checkins_file: Path | None = None,
) -> LogFile:
    """A log, perhaps with the lifter it belongs to (or one of several it holds). Raises BadInput
    with every problem of the first file that has any."""
    policy, lifter, catalogue = policy_under(coach), None, builtin_catalogue()
    warnings: list[Problem] = []
    if lifter_file is not None:
        reading = read_lifter(lifter_file, policy)
        lifter = reading.value
        warnings += reading.warnings
        policy = policy.overridden(lifter.policy, "lifter")
        catalogue = catalogue_for(lifter)
    sets = read_sets(sets_file, catalogue, lifter)
    warnings += sets.warnings
    said: Sequence[CheckIn] = ()
    if checkins_file is not None:
        name = None if lifter is None else lifter.name
        checkins = read_checkins(checkins_file, name, catalogue)
        warnings += checkins.warnings
        said = checkins.value
    names = sorted({done.lifter for done in sets.value}, key=lambda name: name or "")
    known = [name for name in names if lifter is not None and _is(lifter, name, len(names))]
    cases = tuple(
        CoachCase(
            lifter=lifter if name in known else None,
            catalogue=catalogue,
            policy=policy,
            read_note=signs_found,
            sets=tuple(done for done in sets.value if done.lifter == name),
            checkins=_of_name(said, name, len(names)),
        )
        for name in names
    )
    entered = {done.entered_unit for done in sets.value}
    unit: Unit = lifter.units if lifter else "lb" if entered == {"lb"} else "kg"
    return LogFile(cases, unit, tuple(warnings))


def _is(lifter: Lifter, name: str | None, people: int) -> bool:
    """Whether rows of this name are the lifter's: a log of one person is, whatever the name."""
    return people == 1 or name is None or name_key(name) == name_key(lifter.name)


def _of_name(said: Sequence[CheckIn], name: str | None, people: int) -> tuple[CheckIn, ...]:
    mine = (None, name) if name is None or people > 1 else {one.lifter for one in said}
    return tuple(replace(one, lifter=None) for one in said if one.lifter in mine)


def filter_lifter(sets: Sequence[Fact], lifter: Lifter, file: str) -> tuple[Fact, ...]:
    """The lifter's own sets (or check-ins), without the name on them. A file of one person is
    taken for the lifter's, whatever the name in it; BadInput when one of several has nobody of
    that name."""
    people = sorted({done.lifter for done in sets if done.lifter is not None})
    name = name_key(lifter.name)
    own = {other for other in people if name_key(other) == name}
    if len(people) > 1 and not own:
        says = f'has rows of {", ".join(people)}, none of "{lifter.name}"'
        mend = "write the lifter's name as in the lifter file"
        raise BadInput.of(says, mend, file=file, column="lifter")
    mine = [done for done in sets if done.lifter is None or done.lifter in own]
    if len(people) == 1 and not mine:
        mine = list(sets)
    return tuple(replace(done, lifter=None) for done in mine)
