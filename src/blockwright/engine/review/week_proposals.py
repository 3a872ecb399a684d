"""Proposals about whole weeks: the deload now, or one more build week."""

from datetime import timedelta

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.deload import WeekChange, deload_now, extend_block
from blockwright.engine.review.proposals import Proposal, To, proposal_id, sure


def deload_proposal(case: WeekCase) -> Proposal | None:
    """The next week as the deload, or None."""
    upcoming = case.window.next_week
    if upcoming is None or upcoming.kind != "build" or case.window.week.kind != "build":
        return None
    change = deload_now(case.block, case.evidence, case.catalogue, case.policy)
    if change is None:
        return None
    facts: dict[str, FactValue] = {
        "week": upcoming.week,
        "date": case.window.next_start.isoformat(),
    }
    return Proposal(
        id=proposal_id(upcoming.week, "deload_now"),
        kind="deload_now",
        week=upcoming.week,
        before=To("week_kind", "build"),
        after=To("week_kind", "deload", then="end"),
        says=Reason(code="propose_deload_now", facts=facts),
        claim=Reason(code="claim_down", facts=facts),
        reasons=change.reasons,
        confidence=sure(change.confidence),
    )


def extension_proposal(case: WeekCase) -> Proposal | None:
    """One more build week before the deload, or None."""
    upcoming, week = case.window.next_week, case.window.week
    at_the_end = upcoming is not None and upcoming is case.block.weeks[-1] and week.kind == "build"
    if not at_the_end or case.awaits_clearance is not None or case.pain:
        return None
    change = extend_block(case.block, case.evidence, case.ceilings, case.policy)
    return None if change is None else _extension(case, change)


def _extension(case: WeekCase, change: WeekChange) -> Proposal:
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
        reasons=change.reasons,
        confidence=sure(change.confidence),
    )
