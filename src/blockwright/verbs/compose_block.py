"""Composes a block from values: the command reads them from files, the site from its store."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

from blockwright.engine.case import CoachCase
from blockwright.engine.training import Block, CheckIn, Lifter, SetDone
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import require_for_plan
from blockwright.files.policy_files import default_policy
from blockwright.files.sets_order import in_time_order

if TYPE_CHECKING:
    from blockwright.engine.planning import Budget, Tell

Search = Literal["quick", "usual", "long"]
"""How long to look for a better week."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockQuestion:
    """What a block is composed from. `facts` are the lifter's own sets before the start."""

    lifter: Lifter
    facts: Sequence[SetDone] = ()
    checkins: Sequence[CheckIn] = ()
    previous: Block | None = None
    coach_policy: Mapping[str, float | str | bool] = field(default_factory=dict)


def composed(
    question: BlockQuestion, *, budget: "Budget | None" = None, tell: "Tell | None" = None
) -> Block:
    """The block, revision 1. Raises BadInput and Clash. The same question gives the same bytes."""
    from blockwright.engine.planning import USUAL, compose
    from blockwright.engine.review import next_block, seeded, without

    lifter, previous = question.lifter, question.previous
    require_for_plan(lifter)
    coach = default_policy().overridden(question.coach_policy, "coach")
    policy = coach.overridden(lifter.policy, "lifter")
    catalogue = catalogue_for(lifter)
    case = CoachCase(
        lifter=lifter,
        block=previous,
        catalogue=catalogue,
        policy=policy,
        sets=in_time_order(list(question.facts)),
        checkins=tuple(question.checkins),
    )
    seeds = next_block(case, lifter) if previous is not None and case.sets else None
    block = compose(
        lifter if seeds is None else without(lifter, seeds),
        catalogue,
        policy,
        beliefs=case.beliefs() if case.sets else None,
        ceilings=None if seeds is None else seeds.ceilings,
        facts=case.sets,
        kept=() if previous is None else lifts_of(previous) if seeds is None else seeds.kept,
        budget=budget or USUAL,
        tell=tell,
    )
    block = block if seeds is None else seeded(block, lifter, seeds, catalogue, policy)
    return replace(block, coach_policy=question.coach_policy)


def lifts_of(block: Block) -> tuple[str, ...]:
    """The lifts of a block's last build week, sorted."""
    builds = [week for week in block.weeks if week.kind == "build"]
    if not builds:
        return ()
    return tuple(sorted({e.lift for s in builds[-1].sessions for e in s.entries}))


def budget_called(search: Search) -> "Budget":
    """How much search a word stands for."""
    from blockwright.engine.planning import LONG, QUICK, USUAL

    return {"quick": QUICK, "usual": USUAL, "long": LONG}[search]
