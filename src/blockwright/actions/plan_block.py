"""Composes a block: lifter, log and the block before in; a block out."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from blockwright.actions.own_sets import own_sets
from blockwright.engine.errors import Problem
from blockwright.engine.training import Block, CheckIn, Lifter, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.catalogue import catalogue_for
from blockwright.files.checkins_file import read_checkins
from blockwright.files.lifter_file import read_lifter, require_for_plan
from blockwright.files.policy_files import default_policy
from blockwright.files.reading import Reading
from blockwright.files.sets_file import read_sets

if TYPE_CHECKING:
    from blockwright.engine.planning import Budget, Tell
    from blockwright.engine.policy import Policy
    from blockwright.engine.review import NextBlock


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanQuestion:
    """What a plan is made from."""

    lifter: Path
    facts: Path | None = None
    checkins: Path | None = None
    previous: Path | None = None


def plan_block(
    question: PlanQuestion,
    *,
    budget: "Budget | None" = None,
    tell: "Tell | None" = None,
) -> Reading[Block]:
    """The block for a lifter file. Raises BadInput and Clash; warnings come beside the block."""
    from blockwright.engine.planning import USUAL, compose
    from blockwright.engine.review import seeded, without
    from blockwright.engine.strength.beliefs import replay
    from blockwright.engine.strength.columns import Bodyweights

    read = read_lifter(question.lifter)
    lifter, warnings = read.value, list(read.warnings)
    require_for_plan(lifter)
    policy = default_policy().overridden(lifter.policy, "lifter")
    catalogue = catalogue_for(lifter)
    facts: tuple[SetDone, ...] = ()
    if question.facts is not None:
        sets = read_sets(question.facts, catalogue, lifter)
        warnings += sets.warnings
        facts = facts_before(sets.value, lifter, question.facts.name)
    checkins = _checkins(question.checkins, lifter, warnings)
    weights = Bodyweights(usual_kg=lifter.bodyweight_kg, weigh_ins=checkins)
    previous = read_block(question.previous) if question.previous is not None else None
    seeds = _seeds(previous, facts, checkins, lifter, policy)
    block = compose(
        lifter if seeds is None else without(lifter, seeds),
        catalogue,
        policy,
        beliefs=replay(facts, catalogue, policy, bodyweights=weights) if facts else None,
        ceilings=None if seeds is None else seeds.ceilings,
        facts=facts,
        kept=() if previous is None else lifts_of(previous) if seeds is None else seeds.kept,
        budget=budget or USUAL,
        tell=tell,
    )
    if seeds is not None:
        block = seeded(block, lifter, seeds, catalogue, policy)
    return Reading(block, tuple(warnings))


def _seeds(
    previous: Block | None,
    facts: Sequence[SetDone],
    checkins: Sequence[CheckIn],
    lifter: Lifter,
    policy: "Policy",
) -> "NextBlock | None":
    """What the block before teaches; None without one, or without facts to learn from."""
    if previous is None or not facts:
        return None
    from blockwright.engine.review import next_block

    return next_block(previous, facts, checkins, catalogue_for(lifter), policy, lifter)


def facts_before(sets: Sequence[SetDone], lifter: Lifter, file: str) -> tuple[SetDone, ...]:
    """The lifter's own sets before the block starts; BadInput when a file of several people
    has nobody of that name."""
    start = lifter.start
    mine = own_sets(sets, lifter, file)
    return tuple(done for done in mine if start is None or done.moment.day < start)


def _checkins(path: Path | None, lifter: Lifter, warnings: list[Problem]) -> tuple[CheckIn, ...]:
    if path is None:
        return ()
    read = read_checkins(path)
    warnings += read.warnings
    return own_sets(read.value, lifter, path.name)


def lifts_of(block: Block) -> tuple[str, ...]:
    """The lifts of a block's last build week, sorted."""
    builds = [week for week in block.weeks if week.kind == "build"]
    if not builds:
        return ()
    return tuple(sorted({e.lift for s in builds[-1].sessions for e in s.entries}))


def budget_called(search: Literal["quick", "usual", "long"]) -> "Budget":
    """How much search a word stands for."""
    from blockwright.engine.planning import LONG, QUICK, USUAL

    return {"quick": QUICK, "usual": USUAL, "long": LONG}[search]
