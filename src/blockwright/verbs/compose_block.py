"""Composes a block from files or from values: lifter, log and the block before in; a block out."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from blockwright.engine.case import CoachCase
from blockwright.engine.errors import Problem
from blockwright.engine.planning import (
    QUICK,
    USUAL,
    Budget,
    Carried,
    GivenFrame,
    Tell,
    compose,
    frame_of,
    what_hurts,
)
from blockwright.engine.review import next_block, seeded
from blockwright.engine.review.case import cleared_days, open_signs
from blockwright.engine.review.holds import new_block_holds
from blockwright.engine.signs import sign_caution
from blockwright.engine.training import Block, CheckIn, Lifter, SetDone
from blockwright.files.block_json import read_block
from blockwright.files.case_files import with_facts
from blockwright.files.catalogue import catalogue_for
from blockwright.files.lifter_file import read_lifter, require_for_plan
from blockwright.files.policy_files import default_policy, policy_under
from blockwright.files.reading import Reading
from blockwright.files.sets_file import in_time_order
from blockwright.files.signs.grammar import signs_found

Search = Literal["quick", "usual"]  # How long to look for a better week


def composed(
    lifter: Lifter,
    facts: Sequence[SetDone] = (),
    checkins: Sequence[CheckIn] = (),
    *,
    previous: Block | None = None,
    frame: GivenFrame | None = None,
    coach_policy: Mapping[str, float | str | bool] = MappingProxyType({}),
    budget: Budget | None = None,
    tell: Tell | None = None,
) -> Block:
    """The block, revision 1. `facts` are the lifter's own sets before the start; `frame` has the
    patterns by day and heavy exposures to keep. Raises BadInput and Clash. The same arguments give
    the same bytes."""
    require_for_plan(lifter)
    assert lifter.start is not None
    coach = default_policy().overridden(coach_policy, "coach")
    policy = coach.overridden(lifter.policy, "lifter")
    catalogue = catalogue_for(lifter)
    case = CoachCase(
        lifter=lifter,
        block=previous,
        catalogue=catalogue,
        policy=policy,
        read_note=signs_found,
        sets=in_time_order(list(facts)),
        checkins=tuple(checkins),
    )
    seeds = next_block(case, lifter) if previous is not None and case.sets else None
    kept = () if previous is None else lifts_of(previous) if seeds is None else seeds.kept
    if frame is None and previous is not None and not facts:
        # Kept where nothing speaks against it; a log says more than a print.
        frame = replace(frame_of(previous, catalogue), fixed=False)
    assert case.lifter is not None
    steady, out = new_block_holds(case, lifter.start)
    block = compose(
        case.lifter,
        catalogue,
        policy,
        beliefs=case.beliefs() if case.taught else None,
        ceilings=None if seeds is None else seeds.ceilings,
        facts=case.sets,
        frame=frame,
        carried=Carried(
            kept=frozenset(kept),
            left_out=out.union(() if seeds is None else (*seeds.left_out, *seeds.twins)),
            steady=steady,
            spared=what_hurts(
                lifter, case.sets, case.checkins, catalogue, policy, cleared_days(case)
            ),
        ),
        budget=budget or USUAL,
        tell=tell,
    )
    if seeds is not None and previous is not None:
        block = seeded(block, lifter, seeds, previous, catalogue, policy)
    told = map(sign_caution, open_signs(case, lifter.start))
    return replace(block, coach_policy=dict(coach_policy), cautions=(*told, *block.cautions))


def lifts_of(block: Block) -> tuple[str, ...]:
    """The lifts of a block's last build week, sorted."""
    return tuple(sorted({e.lift for week in block.builds[-1:] for e in week.entries}))


def budget_called(search: Search) -> Budget:
    return QUICK if search == "quick" else USUAL


def plan_block(
    lifter: Path,
    facts: Path | None = None,
    checkins: Path | None = None,
    *,
    previous: Path | None = None,
    frame: Path | None = None,
    coach: Path | None = None,
    budget: Budget | None = None,
    tell: Tell | None = None,
) -> Reading[Block]:
    """The block for a lifter file. Raises BadInput and Clash; warnings come beside the block."""
    policy = policy_under(coach)
    read = read_lifter(lifter, policy)
    who = read.value
    require_for_plan(who)
    case = CoachCase(lifter=who, catalogue=catalogue_for(who), policy=policy, read_note=signs_found)
    log = with_facts(case, facts, checkins)
    before = [s for s in log.value.sets if who.start is None or s.moment.day < who.start]
    block = composed(
        who,
        before,
        log.value.checkins,
        previous=read_block(previous) if previous is not None else None,
        frame=None if frame is None else frame_of(read_block(frame), case.catalogue),
        coach_policy=policy.set_by("coach"),
        budget=budget,
        tell=tell,
    )
    return Reading(block, (*read.warnings, *log.warnings, *_too_late(log.value, before, facts)))


def _too_late(
    case: CoachCase, before: Sequence[SetDone], facts: Path | None
) -> tuple[Problem, ...]:
    """A warning of the sets that a plan leaves out because they come after its start."""
    late = len(case.sets) - len(before)
    if not late or facts is None or case.lifter is None:
        return ()
    says = (
        f"{late} of {len(case.sets)} sets are not before the block's start on {case.lifter.start}"
    )
    mend = "they count for nothing here; write a later start in the lifter file if they should"
    return (Problem(file=facts.name, says=says, mend=mend),)
