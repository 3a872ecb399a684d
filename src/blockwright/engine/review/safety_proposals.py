"""Proposals that come before all others: refer, stop a lift, offer another one."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta

from blockwright.engine.pain import JOINT_MUSCLES, grade_in
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import Caution, FactValue, Reason
from blockwright.engine.review.block_weeks import BlockWeeks, with_other
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.decisions import SCREENING
from blockwright.engine.review.exposures import planned_entries
from blockwright.engine.review.lift_and_week_changes import on_other
from blockwright.engine.review.proposals import (
    Proposal,
    RunnerUp,
    Stay,
    To,
    proposal_id,
    sure,
)
from blockwright.engine.review.safety import MUCH, PAIN_SOURCE, PainState
from blockwright.engine.review.swaps import (
    alternatives_for_pain,
    pain_swap_caution,
    sparing_joint,
)
from blockwright.engine.review.week_constraints import newly_broken, overfull, week_sets
from blockwright.engine.signs import SIGN_SOURCE, WHOLE_BODY_SIGNS, Warning
from blockwright.engine.training import Entry, Lift

LICENSED = "a licensed professional"


def safety_proposals(case: WeekCase) -> list[Proposal]:
    """Referrals first, then lifts to stop, then swaps offered."""
    referrals = [_screening(case)] if case.block.status == "refer" else []
    referrals += [_sign(case, warning) for warning in case.warnings]
    referrals += _pain_referrals(case)
    stops = [_stop(case, lift, state) for lift, state in _live(case) if state.band == "stop"]
    swaps = [
        swap
        for lift, state in _live(case)
        if state.band == "watchful" and state.own and (swap := _swap(case, lift, state)) is not None
    ]
    return [*referrals, *stops, *swaps, *_tried_again(case)]


def stays_in_pain(case: WeekCase) -> list[Stay]:
    """Painful lifts of a build week for which nothing stands in: said, not left out."""
    week = case.window.next_week
    if week is None or week.kind != "build":
        return []
    return [
        Stay(lift=lift.name, why=Reason(code="no_stand_in", facts=pain_facts(state, lift.name)))
        for lift, state in _live(case)
        if state.band == "watchful" and state.own and _swap(case, lift, state) is None
    ]


def _live(case: WeekCase) -> list[tuple[Lift, PainState]]:
    """Painful lifts that the next week has on its sheets."""
    if case.window.next_week is None:
        return []
    planned = planned_entries(case.window.next_week, case.catalogue)
    return [
        (lift, state)
        for name, state in case.pain.items()
        if name in planned and (lift := case.catalogue.find(name)) is not None
    ]


def pain_facts(state: PainState, lift: str | None = None) -> dict[str, FactValue]:
    """A pain state as facts."""
    return {
        "lift": lift or state.about,
        "about": state.about,
        "pain": state.latest.pain,
        "date": state.latest.day.isoformat(),
        "reports_in_a_row": state.in_a_row,
    }


def pain_caution(state: PainState, lift: str) -> Caution:
    """The caution of a painful lift."""
    code = "pain_stop" if state.band == "stop" else "pain_no_progress"
    return Caution(code=code, facts=pain_facts(state, lift), source=PAIN_SOURCE)


def _refer(
    case: WeekCase,
    subject: str,
    says: dict[str, FactValue],
    reason: Reason,
    caution: Caution,
    lift: str | None,
) -> Proposal:
    return Proposal(
        id=proposal_id(case.next_number, "refer", subject),
        kind="refer",
        week=case.next_number,
        lift=lift,
        says=Reason(code="propose_refer", facts=says | {"to": LICENSED}),
        claim=Reason(code="claim_refer", facts=says),
        reasons=(reason,),
        confidence=sure(case.policy.number("review.confidence.pain_again")),
        cautions=(caution,),
    )


def _screening(case: WeekCase) -> Proposal:
    reason = Reason(
        code="awaits_clearance",
        facts={"about": SCREENING},
        source="Riebe et al. 2015, Fig 2 (from memory)",
    )
    caution = Caution(code="screening_not_cleared", source="Riebe et al. 2015 (from memory)")
    return _refer(case, SCREENING, {"about": "the screening answers"}, reason, caution, None)


def _sign(case: WeekCase, warning: Warning) -> Proposal:
    facts: dict[str, FactValue] = {
        "about": warning.sign,
        "sign": warning.sign,
        "date": warning.day.isoformat(),
        "iso": warning.day.isoformat(),
        "lift": warning.lift,
        "sure": warning.sure,
    }
    whole = warning.sign in WHOLE_BODY_SIGNS
    code = "warning_sign" if whole else "warning_sign_lift"
    if warning.asks is not None:
        code, facts = "warning_sign_in_doubt", facts | {"asks": warning.asks}
    reason = "sign_was_written" if warning.sure else "sign_in_doubt"
    made = _refer(
        case,
        f"{warning.sign} {warning.day}",
        facts,
        Reason(code=reason, facts=facts, source=SIGN_SOURCE),
        Caution(code=code, facts=facts, source=SIGN_SOURCE),
        None if whole else warning.lift,
    )
    says = Reason(code="propose_refer_sign", facts=made.says.facts)
    return replace(made, says=says)


def _pain_referrals(case: WeekCase) -> list[Proposal]:
    found: dict[str, Proposal] = {}
    states = [*case.pain.values(), *case.pain_elsewhere.values()]
    for state in states:
        if state.about in found:
            continue
        if not state.refer:
            if state in case.pain_unplaced:
                found[state.about] = _unplaced(case, state)
            continue
        alike = [n for n, one in case.pain.items() if one.own and one.about == state.about != n]
        facts = pain_facts(state) | {"lifts": f" in {', '.join(alike)}" if alike else ""}
        lift = state.about if case.catalogue.find(state.about) is not None else None
        found[state.about] = _refer(
            case,
            state.about,
            facts,
            Reason(
                code="pain_in_a_row",
                facts=facts,
                policy=("safety.refer_after_reports", "safety.pain_carry_on"),
                source=PAIN_SOURCE,
            ),
            Caution(code="pain_refer", facts=facts, source=PAIN_SOURCE),
            lift,
        )
    return list(found.values())


def _unplaced(case: WeekCase, state: PainState) -> Proposal:
    """One report is enough where the words name nothing that could be spared."""
    facts = pain_facts(state)
    caution = pain_caution(state, state.about)
    return _refer(case, state.about, facts, _above_stop(facts), caution, None)


def _above_stop(facts: Mapping[str, FactValue]) -> Reason:
    policy = ("safety.pain_stop_above",)
    return Reason(code="pain_above_stop", facts=facts, policy=policy, source=PAIN_SOURCE)


def _stop(case: WeekCase, lift: Lift, state: PainState) -> Proposal:
    other = _other(case, lift, state)
    runner_up = None
    if other is not None:
        why = Reason(code="lost_stop_first", facts={"lift": lift.name, "other": other.name})
        runner_up = RunnerUp(kind="swap_lift", after=To("lift", other.name), why=why)
    facts = pain_facts(state, lift.name)
    return Proposal(
        id=proposal_id(case.next_number, "stop_lift", lift.name),
        kind="stop_lift",
        week=case.next_number,
        lift=lift.name,
        before=To("lift", lift.name),
        after=None,
        says=Reason(code="propose_stop_lift", facts=facts),
        claim=Reason(code="claim_pain_again", facts=facts),
        reasons=(_above_stop(facts),),
        confidence=sure(case.policy.number("review.confidence.pain_again")),
        runner_up=runner_up,
        loses=_loses(case, lift, None),
        cautions=(pain_caution(state, lift.name),),
    )


def _swap(case: WeekCase, lift: Lift, state: PainState) -> Proposal | None:
    other = _other(case, lift, state)
    if other is None or case.window.next_week is None or case.window.next_week.kind != "build":
        return None
    muscles = [muscle for muscle in lift.direct if muscle in other.direct]
    facts = pain_facts(state, lift.name) | {"other": other.name, "muscles": ", ".join(muscles)}
    return Proposal(
        id=proposal_id(case.next_number, "swap_lift", lift.name),
        kind="swap_lift",
        week=case.next_number,
        lift=lift.name,
        before=To("lift", lift.name),
        after=To("lift", other.name),
        says=Reason(code="propose_swap_lift", facts=facts),
        claim=Reason(code="claim_swap_helps", facts=facts),
        reasons=(
            Reason(
                code="pain_offers_swap",
                facts=facts,
                policy=("safety.pain_carry_on", "safety.pain_stop_above"),
                source=PAIN_SOURCE,
            ),
        ),
        confidence=sure(case.policy.number("review.confidence.swap_helps")),
        runner_up=_lighter(case, lift, Reason(code="lost_keep_watching", facts=facts)),
        loses=_loses(case, lift, other),
        cautions=(pain_caution(state, lift.name), pain_swap_caution(lift)),
    )


def _lighter(case: WeekCase, lift: Lift, why: Reason) -> RunnerUp | None:
    """The same lift a step of the kit lighter than what it was done with last."""
    found = case.evidence.lifts.get(lift.name)
    if found is None or found.latest is None:
        return None
    rack = rack_for(lift, case.lifter.gym, case.policy)
    setting = rack.next_easier(found.latest.work_load_kg)
    if setting is None:
        return None
    return RunnerUp(kind="lower_load", after=To("load_kg", round(setting.load_kg, 6)), why=why)


def _other(case: WeekCase, lift: Lift, state: PainState) -> Lift | None:
    """The best lift to offer: it suits the repetitions and is not in the way next week."""
    week = case.window.next_week or case.window.week
    entry = _entry(case, lift.name)
    in_week = {e.lift for s in week.sessions for e in s.entries} if week is not None else set()
    families = {
        known.family
        for s in (week.sessions if week is not None else ())
        if entry is not None and entry in s.entries
        for e in s.entries
        if e.lift != lift.name and (known := case.catalogue.find(e.lift)) is not None
    }
    joint, avoid = _joint(case, lift, state), {*case.pain, *in_week}
    if joint is not None:
        offered = sparing_joint(lift, joint, case.catalogue, case.lifter, avoid=avoid)
    else:
        places = (state.about, *case.pain_elsewhere)
        found = alternatives_for_pain(
            lift, case.catalogue, case.lifter, case.policy, places=places, avoid=avoid
        )
        offered = found.lifts
    return next(
        (
            other
            for other in offered
            if other.family not in families
            and (entry is None or entry.zone in other.reps)
            and _fits(case, lift, other)
        ),
        None,
    )


def _joint(case: WeekCase, lift: Lift, state: PainState) -> str | None:
    """The joint that hurts, where the reports or two painful lifts name one the lift loads much."""
    others = [
        known
        for name, each in case.pain.items()
        if each.own and name != lift.name and (known := case.catalogue.find(name)) is not None
    ]
    for joint in JOINT_MUSCLES:
        if not lift.regions or grade_in(lift, joint) < MUCH:
            continue
        named = state.about == joint or joint in case.pain_elsewhere
        if named or any(grade_in(other, joint) >= MUCH for other in others):
            return joint
    return None


def _loses(case: WeekCase, lift: Lift, other: Lift | None) -> dict[str, float]:
    """Fractional sets that each muscle loses next week when `lift` stops or `other` takes its
    place."""
    week = case.window.next_week
    if week is None:
        return {}
    lost: dict[str, float] = {}
    for session in week.sessions:
        for entry in session.entries:
            if entry.lift != lift.name:
                continue
            count = sum(planned.counts_as for planned in entry.sets)
            for muscle, share in lift.muscles.items():
                kept = 0.0 if other is None else other.muscles.get(muscle, 0.0)
                lost[muscle] = lost.get(muscle, 0.0) + count * max(share - kept, 0.0)
    return {muscle: round(sets, 2) for muscle, sets in lost.items() if sets > 0}


def _tried_again(case: WeekCase) -> list[Proposal]:
    """What hurt and was swapped, once its reports have ended for `safety.pain_memory_days`: back
    in the place of its stand-in, its load to be found anew from below."""
    week = case.window.next_week
    if week is None or week.kind != "build":
        return []
    planned = planned_entries(week, case.catalogue)
    quiet = case.policy.whole("safety.pain_memory_days")
    made = []
    for decision in case.block.decisions:
        old = case.catalogue.find(str(decision.change.get("lift_was", "")))
        new = case.catalogue.find(str(decision.change.get("lift", "")))
        if decision.kind != "swap_lift" or decision.verdict == "declined":
            continue
        if old is None or new is None or new.name not in planned or old.name in planned:
            continue
        start = case.block.start + timedelta(days=7 * (int(float(decision.change["week"])) - 1))
        days = (case.window.end - start).days
        if old.name in case.pain or case.pain_elsewhere or days < quiet:
            continue
        facts: dict[str, FactValue] = {"lift": new.name, "other": old.name, "days": days}
        made.append(
            Proposal(
                id=proposal_id(case.next_number, "swap_lift", new.name),
                kind="swap_lift",
                week=case.next_number,
                lift=new.name,
                before=To("lift", new.name),
                after=To("lift", old.name),
                says=Reason(code="propose_try_again", facts=facts),
                claim=Reason(code="claim_swap_helps", facts=facts),
                reasons=(
                    Reason(code="quiet_for_days", facts=facts, policy=("safety.pain_memory_days",)),
                ),
                confidence=sure(case.policy.number("review.confidence.swap_helps")),
                loses=_loses(case, new, old),
                cautions=(pain_swap_caution(old),),
            )
        )
    return made


def _fits(case: WeekCase, lift: Lift, other: Lift) -> bool:
    """Whether next week keeps its rules with `other` in every place of `lift`: minutes, ceilings,
    the session's and the week's limits, the ramp, and no more for a muscle that is held."""
    week, done = case.window.next_week, case.window.week
    if week is None or week.kind != "build":
        return True
    weeks = BlockWeeks(case.block, case.catalogue, case.policy)
    trial = week
    for number, session, entry in weeks.entries(week.week, None, lift.name):
        if number == week.week:
            trial = with_other(trial, session.session, entry, on_other(weeks, entry, other))
    if newly_broken(week, trial, case.lifter, case.catalogue, case.policy) is not None:
        return False
    changed = [s for s, old in zip(trial.sessions, week.sessions, strict=True) if s != old]
    if any(overfull(session, case.catalogue, case.policy) is not None for session in changed):
        return False
    before, after, now = (week_sets(each, case.catalogue) for each in (done, trial, week))
    most = case.policy.number("ramp.sets_per_week")
    for muscle, sets in after.items():
        held = case.lifter.emphasis_of(muscle) == "hold"
        room = 0.0 if held else max(before.get(muscle, 0.0) + most - now.get(muscle, 0.0), 0.0)
        if sets > now.get(muscle, 0.0) + room + 1e-9:
            return False
    return True


def _entry(case: WeekCase, lift: str) -> Entry | None:
    week = case.window.next_week or case.window.week
    found = planned_entries(week, case.catalogue).get(lift)
    return found[0][1] if found else None
