"""A load for every entry of the next week that has something to go by."""

from collections.abc import Sequence

from blockwright.engine.rack import SAME_LOAD_KG, rack_for
from blockwright.engine.reasons import Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.evidence import LiftEvidence, MuscleEvidence
from blockwright.engine.review.exposures import Exposure, planned_entries
from blockwright.engine.review.loads import LoadChoice, LoadQuestion, chosen_load
from blockwright.engine.review.named_session import day_of
from blockwright.engine.review.proposals import (
    Proposal,
    RunnerUp,
    To,
    load_facts,
    percent,
    proposal_id,
    sure,
)
from blockwright.engine.review.safety_proposals import pain_caution, pain_facts
from blockwright.engine.review.sets import muscle_facts
from blockwright.engine.training import Entry, Lift, Session, SetPlan, effective_load_kg

PROPOSED = {
    "raise_load": "propose_raise_load",
    "repeat_load": "propose_repeat_load",
    "lower_load": "propose_lower_load",
}


def load_proposals(case: WeekCase) -> list[Proposal]:
    """One proposal an entry, in order of session and entry; never two directions for one lift."""
    if case.window.next_week is None:
        return []
    planned = planned_entries(case.window.next_week, case.catalogue)
    made: list[tuple[int, int, Proposal]] = []
    for name, entries in planned.items():
        lift = case.catalogue.find(name)
        if lift is None or case.stopped(name):
            continue
        questions = [
            (session, entry, _question(case, lift, session, entry)) for session, entry in entries
        ]
        for session, entry, question, choice in _decided(case, lift, questions):
            proposal = _proposal(case, session, question, choice, several=len(entries) > 1)
            made.append((session.session, entry.order, proposal))
    return [proposal for _, _, proposal in sorted(made, key=lambda item: item[:2])]


def _decided(
    case: WeekCase, lift: Lift, questions: Sequence[tuple[Session, Entry, LoadQuestion | None]]
) -> list[tuple[Session, Entry, LoadQuestion, LoadChoice]]:
    decided = []
    for session, entry, question in questions:
        if question is not None:
            held, too_hard = held_back(case, lift)
            choice = chosen_load(question, held, too_hard=too_hard)
            decided.append((session, entry, question, choice))
    if any(choice.kind == "lower_load" for *_, choice in decided):
        lowered = Reason(code="lowered_elsewhere", facts={"lift": lift.name})
        decided = [
            (session, entry, question, chosen_load(question, (lowered,), too_hard=False))
            if choice.kind == "raise_load"
            else (session, entry, question, choice)
            for session, entry, question, choice in decided
        ]
    return decided


def _question(case: WeekCase, lift: Lift, session: Session, entry: Entry) -> LoadQuestion | None:
    belief = case.evidence.belief(lift.name)
    if belief is None:
        return None
    done = comparable(case, lift.name, session, entry)
    before_kg = _present_load(case, lift.name, session, entry, done)
    bodyweight = case.evidence.bodyweight_kg
    if before_kg is None:
        return None
    rack = rack_for(lift, case.lifter.gym, case.policy)
    made = rack.exactly(before_kg)
    # What was typed as 22.68 kg is the kit's 50 lb, and compared as that.
    before_kg = before_kg if made is None else made.load_kg
    again = made or rack.not_harder_than(before_kg)
    loads = (before_kg, again.load_kg if again is not None else None)
    effective = [
        effective_load_kg(lift, load, bodyweight) if load is not None else None for load in loads
    ]
    if again is None or any(kg is None or kg <= 0 for kg in effective):
        return None
    return LoadQuestion(
        lifter=case.lifter,
        lift=lift,
        entry=entry,
        day=session.day,
        week=case.next_number or 0,
        before_kg=before_kg,
        again_kg=again.load_kg,
        done=done,
        belief=belief,
        rack=rack,
        bodyweight_kg=bodyweight,
        policy=case.policy,
    )


def comparable(case: WeekCase, lift: str, session: Session, entry: Entry) -> tuple[Exposure, ...]:
    """Exposures of this block done for the same entry of their week, oldest first; where there
    are none, those in the same zone."""
    mine = [e for e in case.evidence.exposures if e.lift == lift and e.planned is not None]
    same = [e for e in mine if e.session == session.session]
    return tuple(
        same or [e for e in mine if e.planned is not None and e.planned.zone == entry.zone]
    )


def _present_load(
    case: WeekCase, lift: str, session: Session, entry: Entry, done: Sequence[Exposure]
) -> float | None:
    """What the lifter uses now: what was done, else what the block had, else the last of all."""
    if done:
        return done[-1].work_load_kg
    for week in (case.window.week, case.window.next_week):
        for number, planned in planned_entries(week, case.catalogue).get(lift, []) if week else []:
            if number.session == session.session and planned.sets[0].load_kg is not None:
                return planned.sets[0].load_kg
    found = case.evidence.lifts.get(lift)
    return found.latest.work_load_kg if found is not None and found.latest is not None else None


def held_back(case: WeekCase, lift: Lift) -> tuple[tuple[Reason, ...], bool]:
    """Reasons against a raise, strongest first, and whether the load is too high for the effort."""
    found = case.evidence.lifts.get(lift.name)
    reasons = [case.awaits_clearance, _pain_reason(case, lift), _sign_reason(case, lift)]
    too_hard = False
    if found is not None:
        reasons += [_range_reason(found), _effort_reason(found), _watch_reason(found)]
        too_hard = found.beyond_effort >= 2 and not found.range_cut
    reasons += [_recovery_reason(case, lift), _absence_reason(case, found)]
    return tuple(reason for reason in reasons if reason is not None), too_hard


def _pain_reason(case: WeekCase, lift: Lift) -> Reason | None:
    state = case.pain.get(lift.name)
    if state is None:
        return None
    return Reason(
        code="pain_no_progress_reason",
        facts=pain_facts(state, lift.name),
        policy=("safety.pain_carry_on",),
    )


def _sign_reason(case: WeekCase, lift: Lift) -> Reason | None:
    for warning in case.warnings:
        known = case.catalogue.find(warning.lift)
        if known is not None and known.name == lift.name:
            return Reason(code="sign_stops_progress", facts={"signs": warning.sign})
    return None


def _range_reason(found: LiftEvidence) -> Reason | None:
    if not found.range_cut:
        return None
    return Reason(code="range_cut", facts={"lift": found.lift})


def _effort_reason(found: LiftEvidence) -> Reason | None:
    if found.beyond_effort < 2:
        return None
    return Reason(
        code="effort_beyond_target",
        facts={"lift": found.lift, "sessions": found.beyond_effort},
        policy=("review.effort.beyond",),
    )


def _watch_reason(found: LiftEvidence) -> Reason | None:
    if not found.watch_sounded:
        return None
    return Reason(
        code="lift_watch_sounded",
        facts={"lift": found.lift},
        policy=("watch.limit", "watch.slack"),
    )


def _recovery_reason(case: WeekCase, lift: Lift) -> Reason | None:
    """A muscle of the lift that probably has not recovered; soreness alone, short of the policy's
    "not recovered", holds no load."""
    line = case.policy.number("review.load.hold_below")
    low = [
        found
        for muscle in lift.direct
        if (found := case.evidence.muscles.get(muscle)) is not None
        and (p := _p_ready(case, found)) is not None
        and p < line
    ]
    if not low:
        return None
    worst = min(low, key=lambda f: f.p_recovered or 0.0)
    return Reason(
        code="muscle_holds_load", facts=muscle_facts(worst), policy=("review.load.hold_below",)
    )


def _p_ready(case: WeekCase, found: MuscleEvidence) -> float | None:
    sore = found.sore is not None and found.sore >= case.policy.number("review.sore.not_from")
    return found.p_recovered if sore else found.matched


def _absence_reason(case: WeekCase, found: LiftEvidence | None) -> Reason | None:
    if found is None or found.done:
        return None
    latest = found.latest
    days = (case.window.end - latest.day).days if latest is not None else None
    facts = {"lift": found.lift, "days": days}
    if days is not None and days > case.policy.number("review.gap_days"):
        return Reason(code="back_after_a_gap", facts=facts, policy=("review.gap_days",))
    return Reason(code="not_done_this_week", facts=facts)


def _proposal(
    case: WeekCase, session: Session, question: LoadQuestion, choice: LoadChoice, *, several: bool
) -> Proposal:
    lift = question.lift.name
    first = question.entry.sets[0]
    facts = {
        "lift": lift,
        "session": session.session,
        "day": day_of(session, case.next_sessions),
        "date": session.day.isoformat(),
        "reps_low": first.reps_low,
        "reps_high": first.reps_high,
        "rir": first.rir,
        **load_facts(question.before_kg, case.lifter, "before"),
        **load_facts(choice.load_kg, case.lifter, "after"),
    }
    reasons = (*choice.reasons, *_growth(case, lift, choice), *_block_had(case, first, choice))
    pain = case.pain.get(lift)
    other = choice.runner_up
    return Proposal(
        id=proposal_id(case.next_number, choice.kind, lift, session.session if several else None),
        kind=choice.kind,
        week=case.next_number,
        session=session.session,
        lift=lift,
        before=To("load_kg", round(question.before_kg, 6)),
        after=To("load_kg", round(choice.load_kg, 6)),
        says=Reason(code=PROPOSED[choice.kind], facts=facts),
        claim=Reason(code="claim_load_fits", facts=facts),
        reasons=reasons,
        confidence=sure(choice.p_fits),
        runner_up=None
        if other is None
        else RunnerUp(kind=other.kind, after=To("load_kg", round(other.load_kg, 6)), why=other.why),
        cautions=() if pain is None else (pain_caution(pain, lift),),
    )


def _growth(case: WeekCase, lift: str, choice: LoadChoice) -> tuple[Reason, ...]:
    """Repetitions at a load the lifter used, before and after the week, where both are known."""
    found = case.evidence.lifts.get(lift)
    if found is None or found.reps_at is None or choice.kind == "repeat_load":
        return ()
    return (reps_reason(case, found),)


def _block_had(case: WeekCase, planned: SetPlan, choice: LoadChoice) -> tuple[Reason, ...]:
    """The load the block has for the week, where it is another one: what declining leaves."""
    if planned.load_kg is None or abs(planned.load_kg - choice.load_kg) < SAME_LOAD_KG:
        return ()
    return (Reason(code="block_had_load", facts=load_facts(planned.load_kg, case.lifter)),)


def reps_reason(case: WeekCase, found: LiftEvidence) -> Reason:
    """ "at 100 kg: 12 -> 13 to failure"; the caller has checked that both are known."""
    at = found.reps_at
    if at is None:
        raise ValueError(f"nothing is known of {found.lift} at a load")
    return Reason(
        code="reps_at_load",
        facts={
            "lift": found.lift,
            **load_facts(at.load_kg, case.lifter),
            "reps_before": round(at.before, 1),
            "reps_after": round(at.after, 1),
            "matched": "too little to compare it with"
            if found.matched is None
            else f"performance held with probability {percent(found.matched)}",
        },
        policy=("review.meaningful_fall",),
    )
