"""The review: a week's facts to next week's proposals, in the order of their force.

Safety, then pain and range of motion, then the watch, then recovery, then gain. A pure function of
block, facts and policy: the same inputs give the same proposals."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from blockwright.engine.case import CoachCase, derived
from blockwright.engine.errors import BadInput
from blockwright.engine.reasons import Caution, Reason, each_once
from blockwright.engine.screening import as_on
from blockwright.engine.training import MUSCLES
from blockwright.engine.volume import ceiling_prior
from .case import WeekCase, cleared_days, open_signs, pain_said, signs_of
from .evidence import gathered
from .exposures import Exposure, exposures_in, lifts_in_use, planned_entries, window_of
from .load_holds import HURTS, WATCH, held_back, on_bad_days
from .load_proposals import NOT_YET, SPARED, loads_read
from .proposals import Proposal, Stay, distinct
from .read_weeks import read_weeks
from .recovery import history_of
from .safety import pain_by_lift, pain_elsewhere
from .safety_proposals import pain_caution, safety_proposals, stays_in_pain
from .set_proposals import leads_in_pain, sets_read
from .settle import Question, questions_of
from .training_facts import done_text, with_training_facts
from .tried_again import tried_again
from .verdict import verdict_of
from .week_answer import NOT_WEAK, answer_to, extension_proposal, missed_and_kept
from .week_facts import weeks_of
from .week_notes import week_notes
from .week_state import bad_days, state_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Review:
    """What a week said and what is proposed for the next."""

    case: WeekCase
    through: date
    week: int | None  # The week the proposals are for; None when the block is over
    verdict: Reason  # How the week went, one sentence
    proposals: tuple[Proposal, ...]  # Changes against the next week as printed
    stays: tuple[Stay, ...]
    settle: tuple[Question, ...]
    notes: tuple[Reason, ...]
    cautions: tuple[Caution, ...]


def review(known: CoachCase, through: date) -> Review:
    """Reads the last week begun by `through` and proposes the one after it.

    Facts after `through` are left out. Raises BadInput when no week of the block has begun."""
    case = week_case(known.until(through))
    changes, stays = _read(case)
    proposals = with_training_facts(case, distinct(changes))
    return Review(
        case=case,
        through=case.window.through,
        week=case.next_number,
        verdict=verdict_of(case, proposals),
        proposals=proposals,
        stays=tuple(stays),
        settle=questions_of(case, proposals, stays),
        notes=week_notes(case),
        cautions=_cautions(case, proposals),
    )


@derived
def week_case(case: CoachCase) -> WeekCase:
    """Everything the review looks at, of a case as it was known on a day; see `review`."""
    if case.block is None or case.through is None:
        raise ValueError("a review needs a block and a last day")
    through = case.through
    block = as_on(case.block, through, case.policy)
    window = window_of(block, case.sets, through)
    if window is None:
        says = f"nothing of this block has begun by {through}: it starts on {block.start}"
        raise BadInput.of(says, "give a day in or after its first week", column="through")
    policy, exposures = case.policy, exposures_in(case)
    history = history_of(
        case.sets, case.checkins, case.catalogue, policy, monday=block.start, through=through
    )
    reading = read_weeks(
        weeks_of(case, block, window, exposures, history),
        {
            m: ceiling_prior(m, block.lifter.experience, block.lifter.energy, policy)
            for m in MUSCLES
        },
        policy,
        through=through,
    )
    state = state_of(reading.states, window.start)
    here, bad = history.get(window.start, {}), bad_days(state, policy)
    cleared = cleared_days(case)
    said, until = pain_said(case), (case.catalogue, policy, window.end, cleared)
    in_use = lifts_in_use(exposures, window, case.catalogue)
    earlier = (sign for sign in open_signs(case, through) if sign.day < window.start)
    warnings = (*earlier, *(sign for sign in signs_of(case) if window.holds(sign.day)))
    return WeekCase(
        facts=case,
        block=block,
        window=window,
        evidence=gathered(case, block, window, exposures, here, state, bad),
        ceilings=reading.ceilings,
        pain=pain_by_lift(said, in_use, *until),
        pain_elsewhere=pain_elsewhere(said, *until),
        warnings=warnings,
        states=reading.states,
    )


def _read(case: WeekCase) -> tuple[list[Proposal], list[Stay]]:
    """What changes against the print, strongest first, and what stays."""
    made = [*safety_proposals(case), *tried_again(case)]
    upcoming = case.window.next_week
    if upcoming is None:
        return made, []
    if upcoming.kind == "deload":
        extension = extension_proposal(case)
        return made if extension is None else [*made, extension], []
    waits = case.awaits_clearance
    if waits is not None:
        planned = planned_entries(upcoming, case.catalogue)
        return made, [Stay(lift=lift, why=waits) for lift in planned]
    answer = answer_to(case)
    loads, stays = loads_read(case)
    gone = {p.lift for p in made if p.kind in ("swap_lift", "stop_lift")}
    kept = [p for p in loads if p.lift not in gone]
    if answer is not None and not case.declined(answer):
        spared = [stay for stay in stays if stay.why.code in SPARED and stay.lift not in case.pain]
        weak = answer.reasons[0].code not in NOT_WEAK
        beside = [] if weak else [p for p in kept if _lowered_beside(answer, p)]
        failed = [stay for stay in stays if stay.why.code == "first_set_failed"]
        spared += missed_and_kept(case) if weak else failed
        spared = spared or _put_off(kept) or (stays if case.done else [])
        return [*made, answer, *beside], [*stays_in_pain(case), *spared]
    no_gain = None if answer is None else answer.reasons[0]
    down = {p.lift for p in loads if p.kind in ("lower_load", "swap_lift")}
    too_heavy = ("lightest_too_heavy", "band_too_weak")
    down |= {stay.lift for stay in stays if stay.why.code in too_heavy}
    moved = [p.lift for p in loads if p.lift is not None]
    out = {p.lift for p in made if p.kind == "stop_lift"}
    sets, left = sets_read(case, no_gain, _nothing_beyond(case), _frozen(case, down), moved, out)
    changes = [one for one in (*kept, *sets)
               if not case.declined(one) or any(r.code in HURTS for r in one.reasons)]  # fmt: skip
    told = [Stay(lift=one.lift, session=one.session, why=Reason(code="declined_before"))
            for one in (*kept, *sets) if one not in changes]  # fmt: skip
    held = leads_in_pain(case, [*made, *changes])
    stays = [*held, *stays_in_pain(case), *told, *stays, *left]
    unsaid = _down_unsaid(case, [*made, *changes], stays)
    lifts = {stay.lift for stay in unsaid}
    return [*made, *changes], [*unsaid, *(stay for stay in stays if stay.lift not in lifts)]


def _put_off(loads: Sequence[Proposal]) -> list[Stay]:
    """The lifts whose loads an answer for the whole week keeps from going up."""
    return [Stay(lift=one.lift, session=one.session, why=Reason(
        code="week_first", facts={"lift": str(one.lift)}))
        for one in loads if one.kind == "raise_load"]  # fmt: skip


def _down_unsaid(case: WeekCase, changes: Sequence[Proposal], stays: Sequence[Stay]) -> list[Stay]:
    """A line for each lift that the sentence of the week says is down and no other line names; what
    its next step waits for is none."""
    said = {one.lift for one in changes} | {s.lift for s in stays if s.why.code not in NOT_YET}
    return [
        Stay(lift=f.lift, why=Reason(code="down_once" if f.likely_fell else WATCH[0], facts={
            "lift": f.lift, "done": done_text(f.done[-1], case.lifter.units)}))
        for f in case.evidence.lifts.values()
        if (f.likely_fell or f.watch_sounded) and f.done and f.lift not in said
    ]  # fmt: skip


def _lowered_beside(answer: Proposal, one: Proposal) -> bool:
    """Whether a load comes down beside the week's answer: weeks that nobody did climbed in print
    only, and a week done again asks for no load that was missed."""
    if one.kind != "lower_load":
        return False
    again = answer.after is not None and answer.after.value == "repeat"
    missed = any(reason.code == "first_set_failed" for reason in one.reasons)
    return answer.reasons[0].code == "back_from_a_week_off" or (again and missed)


def _nothing_beyond(case: WeekCase) -> Reason | None:
    """Why no set is added beyond the print at all."""
    if not case.known_before:
        return Reason(code="first_numbers")
    if case.pain_referred:
        return Reason(code="pain_first", policy=("safety.refer_after_reports",))
    if case.lower:
        return Reason(code="weak_week", policy=("review.read.weak_two_weeks",))
    return None


def _frozen(case: WeekCase, down: set[str | None]) -> list[str]:
    """Lifts that may not gain a set: held back for their own sake, seen on a bad day only, ended
    short, coming down in load, or loading what hurts at all."""
    own = ("range_cut", "effort_beyond_target", "sign_stops_progress", *WATCH)
    frozen = {*down, *case.pain}
    most = case.policy.number("review.sets.later_short")
    for name, found in case.evidence.lifts.items():
        doubted = found.done and found.done[-1].is_in_doubt
        short = found.done and _ended_short(found.done[-1], most)
        says_nothing = not found.done or on_bad_days(case, found.lift, found.done)
        if says_nothing or found.fell or doubted or short:
            frozen.add(name)
        lift = case.catalogue.find(name)
        near = lift is not None and case.near_pain(lift) is not None
        if lift is not None and (near or any(r.code in own for r in held_back(case, lift)[0])):
            frozen.add(lift.name)
    return sorted(name for name in frozen if name is not None)


def _ended_short(last: Exposure, most: float) -> bool:
    """Whether a later set ended over `most` repetitions under its range: one more would, too."""
    asked = last.target
    return asked is not None and any(
        one.first_reps < asked.reps_low - most for one in last.sets[1:]
    )


def _cautions(case: WeekCase, proposals: Sequence[Proposal]) -> tuple[Caution, ...]:
    """Every caution of the proposals, and of painful lifts that no proposal names."""
    found = [caution for proposal in proposals for caution in proposal.cautions]
    if case.window.next_week is not None:
        found += [pain_caution(state, lift) for lift, state in case.pain.items()]
    return each_once(found)
