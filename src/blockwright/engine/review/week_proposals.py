"""One more build week before the deload, while recovery is high and no ceiling is near."""

from collections.abc import Sequence
from datetime import timedelta
from math import prod

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.evidence import MuscleEvidence
from blockwright.engine.review.proposals import Proposal, To, percent, proposal_id, sure


def extension_proposal(case: WeekCase) -> Proposal | None:
    """One more build week before the deload, or None."""
    upcoming, week = case.window.next_week, case.window.week
    at_the_end = upcoming is not None and upcoming is case.block.weeks[-1] and week.kind == "build"
    if not at_the_end or case.awaits_clearance is not None or case.pain:
        return None
    known = _recovered(case)
    made = None if known is None else _extension(case, known)
    enough = case.policy.number("review.extend.all_from")
    return None if made is None or made.confidence < enough else made


def _extension(case: WeekCase, known: Sequence[MuscleEvidence]) -> Proposal:
    lowest = min(known, key=lambda f: f.p_recovered or 0.0)
    weeks = sum(week.kind == "build" for week in case.block.weeks)
    facts: dict[str, FactValue] = {
        "weeks_before": weeks,
        "weeks_after": weeks + 1,
        "deload_date": (case.window.next_start + timedelta(days=7)).isoformat(),
    }
    return Proposal(
        id=proposal_id(case.next_number, "extend_block"),
        kind="extend_block",
        week=case.next_number,
        before=To("weeks", weeks),
        after=To("weeks", weeks + 1),
        says=Reason(code="propose_extend_block", facts=facts),
        claim=Reason(code="claim_recovers_longer", facts=facts),
        reasons=(
            Reason(
                code="recovery_holds",
                facts={
                    "muscles": len(known),
                    "lowest": lowest.muscle.replace("_", " "),
                    "lowest_said": percent(lowest.p_recovered or 0.0),
                },
                policy=("review.extend.recovered_from", "review.extend.ceiling_share"),
            ),
        ),
        confidence=sure(
            prod(  # all of them, not the least sure alone
                case.ceilings[f.muscle].p_recovered(f.sets_done, case.policy)
                for f in known
                if f.sets_done > 0
            )
        ),
    )


def _recovered(case: WeekCase) -> list[MuscleEvidence] | None:
    """The lead and normal muscles, where each has recovered; None where one has not, is near its
    ceiling or is unknown, where a session was missed, or where the block is long enough."""
    policy, evidence = case.policy, case.evidence
    builds = sum(week.kind == "build" for week in case.block.weeks)
    if builds >= policy.whole("review.extend.most_weeks") or evidence.missed:
        return None
    wanted = policy.number("review.extend.recovered_from")
    known = [
        found
        for muscle, found in evidence.muscles.items()
        if case.lifter.emphasis_of(muscle) in ("lead", "normal") and found.sets_planned > 0
    ]
    if not known or any(f.p_recovered is None or f.p_recovered < wanted for f in known):
        return None
    share = policy.number("review.extend.ceiling_share")
    for found in known:
        lead = case.lifter.emphasis_of(found.muscle) == "lead"
        if lead and found.sets_done > share * case.ceilings[found.muscle].median:
            return None
    return known
