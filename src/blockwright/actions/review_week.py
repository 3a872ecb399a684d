"""Reviews a week: a block and the facts in, proposals for the week after out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TypeVar

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.review import Review, review
from blockwright.engine.training import Block, CheckIn, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.checkins_file import read_checkins
from blockwright.files.policy_files import default_policy
from blockwright.files.reading import Reading
from blockwright.files.sets_file import read_sets

Fact = TypeVar("Fact", SetDone, CheckIn)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReviewQuestion:
    """What a review is made from."""

    block: Path
    facts: Path
    checkins: Path | None = None
    through: date


def review_week(question: ReviewQuestion) -> Reading[Review]:
    """The review of the last week begun by `through`. Raises BadInput; warnings come beside."""
    block = read_block(question.block)
    catalogue = catalogue_for(block.lifter)
    sets = read_sets(question.facts, catalogue, block.lifter)
    warnings = list(sets.warnings)
    mine = facts_of(sets.value, block, question.facts.name)
    said: Sequence[CheckIn] = ()
    if question.checkins is not None:
        checkins = read_checkins(question.checkins)
        warnings += checkins.warnings
        said = facts_of(checkins.value, block, question.checkins.name)
    policy = default_policy().overridden(block.lifter.policy, "lifter")
    found = review(block, mine, said, catalogue, policy, question.through)
    return Reading(found, tuple(warnings))


def facts_of(facts: Sequence[Fact], block: Block, file: str) -> list[Fact]:
    """The facts of the block's lifter in a file; a file of one person only is theirs.

    Raises BadInput when a file of several people has nobody of that name.
    """
    name = block.lifter.name.strip().casefold()
    people = {fact.lifter.strip().casefold(): fact.lifter for fact in facts if fact.lifter}
    if len(people) > 1 and name not in people:
        raise BadInput(
            Problem(
                file=file,
                column="lifter",
                says=f"has facts of {', '.join(sorted(people.values()))}, none of "
                f'"{block.lifter.name}"',
                mend="write the lifter's name as in the block",
            )
        )
    alone = len(people) <= 1
    return [
        replace(fact, lifter=None)
        for fact in facts
        if alone or not fact.lifter or fact.lifter.strip().casefold() == name
    ]
