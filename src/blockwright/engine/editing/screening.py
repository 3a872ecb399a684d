"""Screening answered anew while a block runs: what that makes of the block."""

from dataclasses import replace

from blockwright.engine.editing.edits import Said, Setting, decision_of, margin_reason
from blockwright.engine.planning.cautions import screening_cautions, status_of
from blockwright.engine.reasons import Reason
from blockwright.engine.review.derived import counted, timed
from blockwright.engine.signs import WHOLE_BODY_SIGNS
from blockwright.engine.training import Block, Entry, Lifter, Week

KIND = "coach_screening"
_READY, _WAITS = "ready", "waiting for medical clearance"
_LEAST_RIR = "ramp.least_rir_high_blood_pressure"


def screened_anew(block: Block, lifter: Lifter, setting: Setting) -> Block | None:
    """The revision after `block` with the screening and the year of birth of `lifter`; None when
    the block says the same already.

    High blood pressure keeps the sets to come as far from failure as in a new block: its reserve,
    nothing rest-paused, nothing dropped. The loads stay; taken back, the reserve stays too.

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
    pressed = screening.high_blood_pressure and not block.lifter.screening.high_blood_pressure
    if pressed:
        block = _away_from_failure(block, setting)
    return replace(
        block,
        revision=block.revision + 1,
        status="refer" if waits else "ready",
        lifter=changed,
        decisions=(*block.decisions, decision),
        reasons=(*block.reasons, *([told] if told else [])),
        cautions=(*after, *(one for one in block.cautions if one not in (*before, *after))),
    )


def _away_from_failure(block: Block, setting: Setting) -> Block:
    least = setting.policy.number(_LEAST_RIR)
    weeks = tuple(_kept_back(week, least, setting) for week in block.weeks)
    told = Reason(code="rir_kept_for_pressure", facts={"rir": least}, policy=(_LEAST_RIR,))
    known = any(one.code == told.code for one in block.reasons)
    reasons = block.reasons if known else (*block.reasons, told)
    return replace(block, weeks=weeks, reasons=reasons)


def _kept_back(week: Week, least: float, setting: Setting) -> Week:
    """The week with its open sessions so; one that is over stays what it was."""
    sessions = tuple(
        session
        if setting.closed.session(session)
        else replace(session, entries=tuple(_straight(one, least) for one in session.entries))
        for session in week.sessions
    )
    if sessions == week.sessions:
        return week
    made = timed(replace(week, sessions=sessions), week, setting.catalogue, setting.policy)
    return counted(replace(made, rir=max(week.rir, least)), setting.catalogue)


def _straight(entry: Entry, least: float) -> Entry:
    special = entry.method in ("rest-pause", "drop")
    sets = (replace(row, rir=max(row.rir, least)) for row in entry.sets)
    return replace(
        entry,
        method="straight" if special else entry.method,
        sets=tuple(replace(row, counts_as=min(row.counts_as, 1.0)) for row in sets),
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
