"""Reviews a week: a block and the facts in, proposals for the week after out."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from blockwright.engine.errors import Problem
from blockwright.engine.review import Review, review
from blockwright.engine.signs import Warning
from blockwright.engine.training import Block, Catalogue, CheckIn, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.checkins_file import read_checkins
from blockwright.files.policy_files import block_policy, under_coach
from blockwright.files.reading import Reading
from blockwright.files.sets_file import read_sets
from blockwright.verbs.filter_lifter import filter_lifter


@dataclass(frozen=True, slots=True, kw_only=True)
class ReviewQuestion:
    """What a review is made from."""

    block: Path
    facts: Path
    checkins: Path | None = None
    through: date
    coach: Path | None = None


def review_week(question: ReviewQuestion) -> Reading[Review]:
    """The review of the last week begun by `through`. Raises BadInput; warnings come beside."""
    block = under_coach(read_block(question.block), question.coach)
    catalogue = catalogue_for(block.lifter)
    sets = read_sets(question.facts, catalogue, block.lifter)
    warnings: list[Problem] = list(sets.warnings)
    mine = filter_lifter(sets.value, block.lifter, question.facts.name)
    said: Sequence[CheckIn] = ()
    if question.checkins is not None:
        checkins = read_checkins(question.checkins, block.lifter.name, catalogue)
        warnings += checkins.warnings
        said = filter_lifter(checkins.value, block.lifter, question.checkins.name)
    found = reviewed(block, mine, said, catalogue, question.through)
    return Reading(found, tuple(warnings))


def reviewed(
    block: Block,
    sets: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    catalogue: Catalogue,
    through: date,
    signs: tuple[Warning, ...] = (),
) -> Review:
    """The review under the policy the block stands under; see `engine.review.review`."""
    return review(block, sets, checkins, catalogue, block_policy(block), through, signs=signs)
