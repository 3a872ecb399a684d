"""Proposals that come before all others: refer, stop a lift, offer another one."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from textwrap import shorten

from blockwright.engine.planning.loads import kept_load_kg
from blockwright.engine.planning.replan_week import pinned_on
from blockwright.engine.published.safety import RIEBE_2015
from blockwright.engine.rack import rack_for
from blockwright.engine.reasons import Caution, FactValue, Reason, and_listed
from blockwright.engine.signs import SIGN_SOURCE, WHOLE_BODY_SIGNS, Warning
from blockwright.engine.tolerated_load import tolerated_load
from blockwright.engine.training import Lift
from .case import WeekCase, cleared_days, pain_said
from .decisions import SCREENING
from .exposures import planned_entries
from .proposals import Kind, Proposal, RunnerUp, Stay, To, load_facts, proposal_id, sure
from .safety import PAIN_SOURCE, PainState
from .swaps import opening, pain_swap_caution, stand_in

LICENSED = "a licensed professional"


def safety_proposals(case: WeekCase) -> list[Proposal]:
    """Referrals first, then lifts to stop, then swaps offered."""
    referrals = [_screening(case)] if case.block.status == "refer" else []
    referrals += [_sign(case, warning) for warning in case.warnings]
    referrals += _pain_referrals(case)
    stops = [_stop(case, lift, state) for lift, state in _live(case) if state.band == "stop"]
    stops += _stopped_by_signs(case, {stop.lift for stop in stops})
    swaps = (swap for _, _, swap in _swaps(case) if swap is not None)
    outs = (_nothing_left(case, *held) for held in _unspared(case) if _is_out(case, held[0]))
    return [*referrals, *stops, *swaps, *outs]


def stays_in_pain(case: WeekCase) -> list[Stay]:
    """Painful lifts of a build week for which nothing stands in: said, not left out."""
    return [
        Stay(lift=lift.name, why=Reason(code="no_stand_in", facts=_kept_facts(case, lift, state)))
        for lift, state in _unspared(case)
        if not _is_out(case, lift)
    ]


def _unspared(case: WeekCase) -> Iterator[tuple[Lift, PainState]]:
    week = case.window.next_week
    if week is not None and week.kind == "build":
        yield from ((lift, state) for lift, state, swap in _swaps(case) if swap is None)


def unspared_facts(stays: Sequence[Stay]) -> dict[str, FactValue]:
    """The painful lifts that stay for want of another, what hurts and what they keep."""
    held = [stay for stay in stays if stay.why.code == "no_stand_in"]
    places = {str(stay.why.facts["where"]).strip() for stay in held}
    where = f"the {places.pop()}" if len(places) == 1 and places != {""} else "what hurts"
    keeps = str(held[0].why.facts["keeps"]) if len(held) == 1 else "their loads"
    lifts = and_listed([str(stay.lift) for stay in held]) if held else ""
    return {"lifts": lifts, "where": where, "keeps": keeps}


def kept_in_pain(case: WeekCase, lift: Lift) -> tuple[bool, float | None]:
    """Whether sets of the lift hurt, and the load that the sheet then keeps; None: it is out."""
    facts = case.facts
    hurt = tolerated_load(lift, facts.beliefs().sets, case.policy, cleared_days(facts))
    rack = rack_for(lift, case.lifter.gym, case.policy)
    return hurt is not None, None if hurt is None else kept_load_kg(rack, hurt)


def _is_out(case: WeekCase, lift: Lift) -> bool:
    return kept_in_pain(case, lift) == (True, None) or case.hurts_lighter_too(lift)


def _nothing_left(case: WeekCase, lift: Lift, state: PainState) -> Proposal:
    """Out, as on the sheet: every load worth lifting hurts; or it hurt with less load too."""
    facts = pain_facts(state, lift.name)
    policy = ("safety.pain_least_share", "safety.pain_carry_on")
    lighter = kept_in_pain(case, lift) != (True, None)
    code = "pain_with_less_too" if lighter else "pain_at_every_load"
    reason = Reason(code=code, facts=facts, policy=policy)
    return _out(case, lift, reason, pain_caution(state, lift.name))


def _kept_facts(case: WeekCase, lift: Lift, state: PainState) -> dict[str, FactValue]:
    _, load_kg = kept_in_pain(case, lift)
    told = load_facts(load_kg, case.lifter, "keeps", lift)["keeps"]
    return {**pain_facts(state, lift.name), "keeps": "its load" if load_kg is None else told}


def _swaps(case: WeekCase) -> Iterator[tuple[Lift, PainState, Proposal | None]]:
    """Each lift that is watched, with what stands in for it; two never lead to the same. A pinned
    one is asked about instead: nobody swaps it before the coach has answered."""
    taken: set[str] = set()
    pinned = pinned_next(case)
    for lift, state in _watched(case):
        if lift.name in pinned:
            continue
        swap = _swap(case, lift, state, taken)
        if swap is not None and swap.after is not None:
            taken.add(str(swap.after.value))
        yield lift, state, swap


def _watched(case: WeekCase) -> list[tuple[Lift, PainState]]:
    """Lifts that hurt themselves, none too much and without a sign that leaves them out: what
    would spare a pain that has not been looked at, nobody knows."""
    return [
        (lift, state)
        for lift, state in _live(case)
        if state.band == "watchful" and state.own and case.sign_of(lift.name) is None
    ]


def pinned_next(case: WeekCase) -> frozenset[str]:
    """Lifts of next week that the coach has pinned to their day."""
    return frozenset(
        entry.lift
        for session in case.next_sessions
        for entry in session.entries
        if entry.sets and entry.lift in pinned_on(case.lifter, session, case.catalogue)
    )


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
    where = state.latest.lift
    return {
        "lift": lift or state.about,
        "about": state.about,
        "where": "" if lift in (None, state.about) else f"{state.about} ",
        "pain": state.latest.pain,
        "at": "" if lift is None or where in ("", lift, state.about) else f" in {where}",
        "carry_on": state.carry_on,
        "date": state.latest.day.isoformat(),
        "reports_in_a_row": state.in_a_row,
    }


def _said(case: WeekCase, state: PainState, lifts: Sequence[str]) -> str:
    """ "4 of 10", of the last report; "up to 5 of 10" where one of its lifts hurt more."""
    worst = max([state.latest.pain, *(pain_said(case.facts)[lift][-1].pain for lift in lifts)])
    return f"{'up to ' if worst > state.latest.pain else ''}{worst:g} of 10"


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
    week = case.window.next_week
    here = To("week_kind", week.kind) if week is not None else None
    return Proposal(
        id=proposal_id(case.next_number, "refer", subject),
        kind="refer",
        week=case.next_number,
        lift=lift,
        before=here if lift is None else To("lift", lift),
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
        source=str(RIEBE_2015),
    )
    caution = Caution(code="screening_not_cleared", source=str(RIEBE_2015))
    return _refer(case, SCREENING, {"about": "the screening answers"}, reason, caution, None)


def _sign(case: WeekCase, warning: Warning) -> Proposal:
    facts = _sign_facts(warning)
    reason = "sign_was_written" if warning.sure else "sign_in_doubt"
    made = _refer(
        case,
        f"{warning.sign} {warning.day}",
        facts,
        Reason(code=reason, facts=facts | {"quoted": _quoted(warning.words)}, source=SIGN_SOURCE),
        _sign_caution(warning),
        None if warning.sign in WHOLE_BODY_SIGNS else warning.lift,
    )
    says = Reason(code="propose_refer_sign", facts=made.says.facts)
    return replace(made, says=says)


def _quoted(words: str) -> str:
    """The words a coach judges a doubt by, as many as a line holds."""
    return f': "{shorten(words, 60, placeholder=" ...")}"' if words.strip() else ""


def _sign_caution(warning: Warning) -> Caution:
    code = "warning_sign" if warning.sign in WHOLE_BODY_SIGNS else "warning_sign_lift"
    if warning.asks is not None:
        code = "warning_sign_in_doubt"
    return Caution(code=code, facts=_sign_facts(warning), source=SIGN_SOURCE)


def _sign_facts(warning: Warning) -> dict[str, FactValue]:
    facts: dict[str, FactValue] = {
        "about": warning.sign,
        "sign": warning.sign,
        "date": warning.day.isoformat(),
        "iso": warning.day.isoformat(),
        "lift": warning.lift,
        "sure": warning.sure,
    }
    return facts if warning.asks is None else facts | {"asks": warning.asks}


def _pain_referrals(case: WeekCase) -> list[Proposal]:
    found: dict[str, Proposal] = {}
    states = [*case.pain.values(), *case.pain_elsewhere.values()]
    several = len({state.about for state in states if state.refer}) > 1
    for state in states:
        if state.about in found:
            continue
        if not state.refer:
            if state in case.pain_unplaced:
                found[state.about] = _unplaced(case, state)
            continue
        alike = [n for n, one in case.pain.items() if one.own and one.about == state.about != n]
        if alike and state.latest.lift not in ("", *alike):
            alike.append(state.latest.lift)
        day = state.latest.day
        facts = pain_facts(state) | {
            "said": _said(case, state, alike),
            "lifts": f" in {', '.join(alike)}" if alike and not several else "",
            "often": state.often,
            "last": "" if case.window.holds(day) else f", last on {day.day} {day:%b}",
            "again": "; sent before: seen by somebody yet?" if _was_sent(case, state) else "",
        }
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


def _was_sent(case: WeekCase, state: PainState) -> bool:
    """Whether a letter of this block has sent it to a professional already."""
    return any(one.kind == "refer" and one.verdict != "declined"
               and one.change.get("about") == state.about
               for one in case.block.decisions)  # fmt: skip


def _unplaced(case: WeekCase, state: PainState) -> Proposal:
    """One report is enough where the words name nothing that could be spared."""
    facts = pain_facts(state)
    caution = pain_caution(state, state.about)
    return _refer(case, state.about, facts, _above_stop(facts), caution, None)


def _above_stop(facts: Mapping[str, FactValue]) -> Reason:
    policy = ("safety.pain_stop_above",)
    return Reason(code="pain_above_stop", facts=facts, policy=policy, source=PAIN_SOURCE)


def _stop(case: WeekCase, lift: Lift, state: PainState) -> Proposal:
    other = stand_in(case, lift, state)
    runner_up = None
    if other is not None:
        why = Reason(code="lost_stop_first", facts={"lift": lift.name, "other": other.name})
        runner_up = RunnerUp(kind="swap_lift", after=To("lift", other.name), why=why)
    stop = _out(
        case, lift, _above_stop(pain_facts(state, lift.name)), pain_caution(state, lift.name)
    )
    return replace(stop, runner_up=runner_up)


def _stopped_by_signs(case: WeekCase, stopped: Collection[str | None]) -> list[Proposal]:
    """Lifts with an open sign of their own: out until somebody licensed has looked at it."""
    week = case.window.next_week
    planned = {} if week is None else planned_entries(week, case.catalogue)
    return [
        _out(case, case.catalogue.lifts[name],
             Reason(code="sign_stops_progress", facts={"signs": sign.sign}, source=SIGN_SOURCE),
             _sign_caution(sign))
        for name in planned
        if name not in stopped and (sign := case.sign_of(name)) is not None
    ]  # fmt: skip


def _out(case: WeekCase, lift: Lift, reason: Reason, caution: Caution) -> Proposal:
    says = Reason(code="propose_stop_lift", facts={**reason.facts, "lift": lift.name})
    return in_place_of(case, lift, None, says, reason, (caution,))


def in_place_of(
    case: WeekCase,
    lift: Lift,
    other: Lift | None,
    says: Reason,
    reason: Reason,
    cautions: tuple[Caution, ...],
) -> Proposal:
    """`other` (nothing where None) in the place of a lift."""
    kind: Kind = "stop_lift" if other is None else "swap_lift"
    claim, sureness = ("claim_pain_again", "pain_again")
    if other is not None:
        claim, sureness = ("claim_swap_helps", "swap_helps")
        says = replace(says, facts={**says.facts, "opens": opening(case, lift, other)})
    return Proposal(
        id=proposal_id(case.next_number, kind, lift.name),
        kind=kind,
        week=case.next_number,
        lift=lift.name,
        before=To("lift", lift.name),
        after=None if other is None else To("lift", other.name),
        says=says,
        claim=Reason(code=claim, facts=says.facts),
        reasons=(reason,),
        confidence=sure(case.policy.number(f"review.confidence.{sureness}")),
        loses=_loses(case, lift, other),
        cautions=cautions,
    )


def _swap(case: WeekCase, lift: Lift, state: PainState, taken: Collection[str]) -> Proposal | None:
    other = stand_in(case, lift, state, taken)
    if other is None or case.window.next_week is None or case.window.next_week.kind != "build":
        return None
    muscles = [muscle for muscle in lift.direct if muscle in other.direct]
    facts = pain_facts(state, lift.name) | {"other": other.name, "muscles": ", ".join(muscles)}
    policy = ("safety.pain_carry_on", "safety.pain_stop_above")
    swap = in_place_of(
        case,
        lift,
        other,
        Reason(code="propose_swap_lift", facts=facts),
        Reason(code="pain_offers_swap", facts=facts, policy=policy, source=PAIN_SOURCE),
        (pain_caution(state, lift.name), pain_swap_caution(lift, referred=case.pain_referred)),
    )
    lighter = _lighter(case, lift, Reason(code="lost_keep_watching", facts=facts))
    return replace(swap, runner_up=lighter)


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


def _loses(case: WeekCase, lift: Lift, other: Lift | None) -> dict[str, float]:
    """Fractional sets that each muscle loses next week when `lift` stops or `other` takes its
    place."""
    week = case.window.next_week
    if week is None:
        return {}
    lost: dict[str, float] = {}
    for _, entry in planned_entries(week, case.catalogue).get(lift.name, []):
        count = entry.counted
        for muscle, share in lift.muscles.items():
            kept = 0.0 if other is None else other.muscles.get(muscle, 0.0)
            lost[muscle] = lost.get(muscle, 0.0) + count * max(share - kept, 0.0)
    return {muscle: round(sets, 2) for muscle, sets in lost.items() if sets > 0}
