"""Screening answered anew while a block runs: what that makes of the block."""

from dataclasses import replace

from blockwright.engine.editing.edits import Said, decision_of, margin_reason
from blockwright.engine.planning.cautions import screening_cautions, status_of
from blockwright.engine.review.case import WHOLE_BODY_SIGNS
from blockwright.engine.training import Block, Lifter

KIND = "coach_screening"
_READY, _WAITS = "ready", "waiting for medical clearance"


def screened_anew(block: Block, lifter: Lifter) -> Block | None:
    """The revision after `block` with the screening and the year of birth of `lifter`; None when
    the block says the same already.

    An answer that needs clearance makes the block wait, a clearance written down makes it ready.
    What waits for another reason (an accepted referral for a sign of the whole body) goes on
    waiting: that is cleared where it was referred.
    """
    screening, born = lifter.screening, lifter.born
    if (screening, born) == (block.lifter.screening, block.lifter.born):
        return None
    changed = replace(block.lifter, screening=screening, born=born)
    before = screening_cautions(block.lifter, block.start)
    after = screening_cautions(changed, block.start)
    waits = status_of(changed, after) == "refer" or _waits_for_a_sign(block)
    decision = decision_of(block, KIND, {"then": _WAITS if waits else _READY}, Said())
    told = margin_reason(decision)
    return replace(
        block,
        revision=block.revision + 1,
        status="refer" if waits else "ready",
        lifter=changed,
        decisions=(*block.decisions, decision),
        reasons=(*block.reasons, *([told] if told else [])),
        cautions=(*after, *(one for one in block.cautions if one not in (*before, *after))),
    )


def _waits_for_a_sign(block: Block) -> bool:
    last = {
        str(one.change.get("about")): one
        for one in block.decisions
        if one.kind == "refer" and one.change.get("about") in WHOLE_BODY_SIGNS
    }
    return block.status == "refer" and any(
        one.verdict != "declined" and "cleared_on" not in one.change for one in last.values()
    )
