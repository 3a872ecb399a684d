"""Composes a block from files: lifter, log and the block before in; a block out."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from blockwright.engine.errors import Problem
from blockwright.engine.training import Block, CheckIn, Lifter, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.case_files import filter_lifter
from blockwright.files.catalogue import catalogue_for
from blockwright.files.checkins_file import read_checkins
from blockwright.files.lifter_file import read_lifter, require_for_plan
from blockwright.files.policy_files import policy_under
from blockwright.files.reading import Reading
from blockwright.files.sets_file import read_sets
from blockwright.verbs.compose_block import BlockQuestion, composed

if TYPE_CHECKING:
    from blockwright.engine.planning import Budget, GivenFrame, Tell


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanQuestion:
    """What a plan is made from."""

    lifter: Path
    facts: Path | None = None
    checkins: Path | None = None
    previous: Path | None = None
    frame: Path | None = None
    coach: Path | None = None


def plan_block(
    question: PlanQuestion,
    *,
    budget: "Budget | None" = None,
    tell: "Tell | None" = None,
) -> Reading[Block]:
    """The block for a lifter file. Raises BadInput and Clash; warnings come beside the block."""
    coach = policy_under(question.coach)
    read = read_lifter(question.lifter, coach)
    lifter, warnings = read.value, list(read.warnings)
    require_for_plan(lifter)
    facts: tuple[SetDone, ...] = ()
    if question.facts is not None:
        sets = read_sets(question.facts, catalogue_for(lifter), lifter)
        warnings += sets.warnings
        facts = facts_before(sets.value, lifter, question.facts.name)
    asked = BlockQuestion(
        lifter=lifter,
        facts=facts,
        checkins=_checkins(question.checkins, lifter, warnings),
        previous=read_block(question.previous) if question.previous is not None else None,
        frame=_frame(question.frame, lifter),
        coach_policy=coach.set_by("coach"),
    )
    return Reading(composed(asked, budget=budget, tell=tell), tuple(warnings))


def _frame(path: Path | None, lifter: Lifter) -> "GivenFrame | None":
    if path is None:
        return None
    from blockwright.engine.planning import frame_of

    return frame_of(read_block(path), catalogue_for(lifter))


def facts_before(sets: Sequence[SetDone], lifter: Lifter, file: str) -> tuple[SetDone, ...]:
    """The lifter's own sets before the block starts; BadInput when a file of several people
    has nobody of that name."""
    start = lifter.start
    mine = filter_lifter(sets, lifter, file)
    return tuple(done for done in mine if start is None or done.moment.day < start)


def _checkins(path: Path | None, lifter: Lifter, warnings: list[Problem]) -> tuple[CheckIn, ...]:
    if path is None:
        return ()
    read = read_checkins(path, lifter.name)
    warnings += read.warnings
    return filter_lifter(read.value, lifter, path.name)
