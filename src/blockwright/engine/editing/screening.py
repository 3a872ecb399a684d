"""Screening answered anew while a block runs: what that makes of the block."""

from dataclasses import replace
from typing import Literal

from blockwright.engine.planning.week_figures import settled
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.block_weeks import straight
from blockwright.engine.review.case import waits_for_a_sign
from blockwright.engine.screening import (
    CODES,
    When,
    begins_gently,
    has_pressure,
    inactive_reason,
    least_rir,
    screening_cautions,
    status_of,
)
from blockwright.engine.training import Block, Entry, Lifter, Week
from .edits import CoachWords, EditContext, decision_of, margin_reason

KIND = "coach_screening"
_READY, _WAITS = "ready", "waiting for medical clearance"
_LEAST_RIR = "ramp.least_rir_high_blood_pressure"


def screened_anew(block: Block, lifter: Lifter, context: EditContext) -> Block | None:
    """The revision after `block` with the screening and the year of birth of `lifter`, as they
    stand today; None when the block says the same already. A clearance that has lasted its time
    makes the block wait too.

    High blood pressure, and that somebody was not active, keep the sets to come as far from
    failure as in a new block: its reserve (the first open week as week one), nothing rest-paused,
    nothing dropped. Loads and numbers of sets stay; taken back, the reserve stays too.

    An answer that needs clearance makes the block wait, a clearance written down makes it ready.
    What waits for another reason (an accepted referral for a sign of the whole body) goes on
    waiting: that is cleared where it was referred."""
    screening, born = lifter.screening, lifter.born
    changed = replace(block.lifter, screening=screening, born=born)
    today, policy = context.closed.today, context.policy
    when = When(max(block.start, today), today)
    waits = status_of(changed, when, policy) == "refer" or waits_for_a_sign(block)
    status: Literal["ready", "refer"] = "refer" if waits else "ready"
    answered = (screening, born) != (block.lifter.screening, block.lifter.born)
    if not answered and status == block.status:
        return None
    decision = decision_of(block, KIND, {"then": _WAITS if waits else _READY}, CoachWords())
    told = margin_reason(decision)
    if answered:
        block = _eased(block, changed, context)
    cautions = screening_cautions(changed, when, policy)
    return replace(
        block,
        revision=block.revision + 1,
        status=status,
        lifter=changed,
        decisions=(*block.decisions, decision),
        reasons=(*block.reasons, *([told] if told else [])),
        cautions=(*cautions, *(one for one in block.cautions if one.code not in CODES)),
    )


def _eased(block: Block, changed: Lifter, context: EditContext) -> Block:
    """What an answer that is new to the block asks of the sets to come."""
    policy, before = context.policy, block.lifter
    reasons = []
    if has_pressure(changed.screening, policy) and not has_pressure(before.screening, policy):
        facts: dict[str, FactValue] = {"rir": policy.number(_LEAST_RIR)}
        reasons.append(Reason(code="rir_kept_for_pressure", facts=facts, policy=(_LEAST_RIR,)))
    if begins_gently(changed) and not begins_gently(before):
        reasons.append(inactive_reason(policy))
    if not reasons:
        return block
    open_weeks = [w.week for w in block.weeks if not all(map(context.closed.session, w.sessions))]
    first = min(open_weeks, default=1)
    weeks = tuple(
        _kept_back(week, least_rir(changed, max(1, week.week - first + 1), policy), context)
        for week in block.weeks
    )
    known = {one.code for one in block.reasons}
    told = tuple(one for one in reasons if one.code not in known)
    return replace(block, weeks=weeks, reasons=(*block.reasons, *told))


def _kept_back(week: Week, least: float, context: EditContext) -> Week:
    """The week with its open sessions so; one that is over stays what it was."""
    sessions = tuple(
        session
        if context.closed.session(session)
        else replace(session, entries=tuple(_straight(one, least) for one in session.entries))
        for session in week.sessions
    )
    if sessions == week.sessions:
        return week
    made = replace(week, sessions=sessions, rir=max(week.rir, least))
    return settled(made, week, context.catalogue, context.policy)


def _straight(entry: Entry, least: float) -> Entry:
    sets = (replace(row, rir=max(row.rir, least)) for row in entry.sets)
    return straight(replace(entry, sets=tuple(sets)))
