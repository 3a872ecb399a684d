"""Next week's sets against the print: which muscles are cut, held, left as printed, or given one.

The printed climb stands. A muscle that has not recovered gets `review.sets.cut_to` of its sets; one
that waits (very sore, near a lift that hurts, awaiting clearance) keeps last week's. One set beyond
the print goes where it matters: lead muscles first, at most `review.sets.most_muscles` muscles a
week, and only where the expected gain beats the cost of a week above the ceiling.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.allocate_sets import put_set
from blockwright.engine.review.block_weeks import trim
from blockwright.engine.review.draft_sets import Place, SetsQuestion, because
from blockwright.engine.review.evidence import MuscleEvidence
from blockwright.engine.review.proposals import percent
from blockwright.engine.review.training_facts import shortfalls
from blockwright.engine.training import MUSCLES
from blockwright.engine.volume import floor_sets, gain

SMALL = ("calves", "adductors", "forearms", "abs", "spinal_erectors")
"""Muscles that gain nothing beyond the print unless they lead (judgement)."""

Wish = Literal["cut", "hold", "print", "add"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetsChoice:
    """One muscle's decision against the print."""

    muscle: str
    wish: Wish
    moves: Mapping[Place, int]
    """Entries that leave the print, with their new sets."""
    direct_before: int
    direct_after: int
    sets_before: float
    """Fractional sets of the next week as printed."""
    sets_after: float
    reasons: tuple[Reason, ...]
    p_recovered_next: float


def chosen_sets(question: SetsQuestion) -> tuple[SetsChoice, ...]:
    """A decision for every muscle with direct sets next week: cuts first, then holds, then sets
    beyond the print by emphasis and by what one is worth."""
    muscles = [
        muscle
        for muscle in MUSCLES
        if muscle in question.case.evidence.muscles
        and question.case.lifter.emphasis_of(muscle) != "skip"
        and question.board.direct(muscle) > 0
    ]
    asked = {muscle: _gate(question, question.case.evidence.muscles[muscle]) for muscle in muscles}
    made = [
        _taken(question, muscle, wish, reason)
        for wanted in ("cut", "hold")
        for muscle, (wish, reason) in asked.items()
        if wish == wanted
    ]
    left = most = question.case.policy.whole("review.sets.most_muscles")
    for muscle in sorted(muscles, key=lambda m: _precedence(question, m)):
        wish, reason = asked[muscle]
        if wish in ("cut", "hold"):
            continue
        if wish == "add" and left == 0:
            wish, reason = "print", because("others_first", {"most": most})
        choice = _added(question, muscle, reason) if wish == "add" else None
        choice = choice or _as_printed(question, muscle, (reason,))
        left -= choice.wish == "add"
        made.append(choice)
    return tuple(made)


def _precedence(question: SetsQuestion, muscle: str) -> tuple[bool, float, int]:
    lead = question.case.lifter.emphasis_of(muscle) == "lead"
    return (not lead, -_worth(question, muscle), MUSCLES.index(muscle))


def _worth(question: SetsQuestion, muscle: str) -> float:
    """What one set beyond the print is worth (SMD): expected gain by emphasis, less the cost of
    the higher probability that the week lies above the ceiling."""
    policy, ceiling = question.case.policy, question.case.ceilings[muscle]
    now = question.board.fractional(muscle)
    weight = policy.number(f"review.sets.gain_weight.{question.case.lifter.emphasis_of(muscle)}")
    risk = ceiling.p_overshoots(now + 1) - ceiling.p_overshoots(now)
    cost = policy.number("review.sets.overshoot_cost")
    return weight * gain(now, now + 1, policy).mean - risk * cost


def _gate(question: SetsQuestion, found: MuscleEvidence) -> tuple[Wish, Reason]:
    """What the evidence lets through, and its strongest reason."""
    policy = question.case.policy
    facts = muscle_facts(found)
    if found.muscle in question.case.overreached:
        shown = shortfalls(question.case, found.muscle).removeprefix(": ")
        facts |= {"too_much": shown or "its lifts down together"}
        return "cut", because("muscle_not_recovered", facts, "review.read.act_from")
    if question.no_gain is not None:
        return "hold", question.no_gain
    if found.muscle in question.case.hurting:
        return "hold", because("muscle_near_pain", facts, "safety.pain_stop_above")
    if found.sore is not None and found.sore >= policy.number("review.sore.not_from"):
        return "hold", because("muscle_still_sore", facts, "review.sore.not_from")
    return _more(question, found, facts)


def _more(
    question: SetsQuestion, found: MuscleEvidence, facts: dict[str, FactValue]
) -> tuple[Wish, Reason]:
    """Whether a set beyond the print may be asked for."""
    policy, p = question.case.policy, found.p_recovered
    if question.case.lifter.emphasis_of(found.muscle) == "hold":
        return "print", because("muscle_on_hold", facts)
    if p is None:
        return "print", because("muscle_unknown", facts)
    if question.nothing_beyond is not None:
        return "print", question.nothing_beyond
    if found.sets_done < policy.number("review.sets.done_share") * found.sets_planned:
        if found.sets_logged >= found.sets_planned - 1e-9:
            return "print", because("sets_too_easy", facts, "volume.hard_within_rir")
        return "print", because("sets_left_undone", facts, "review.sets.done_share")
    if found.judged_by_plan:
        return "print", because("muscle_unknown", facts)
    lead = question.case.lifter.emphasis_of(found.muscle) == "lead"
    if not lead and found.muscle in SMALL:
        return "print", because("others_first", {"most": policy.whole("review.sets.most_muscles")})
    if p < policy.number("review.sets.up_from"):
        return "print", because("muscle_in_doubt", facts, "review.sets.up_from")
    key = "review.sets.short_of_energy_up_from"
    if question.case.evidence.lifter.short_of_energy and p < policy.number(key):
        cutting = question.case.lifter.energy == "deficit"
        energy = {"energy": "cutting" if cutting else "losing weight"}
        return "print", because("short_of_energy", facts | energy, key)
    if _worth(question, found.muscle) <= 0:
        return "print", _ceiling_reason(question, found.muscle)
    return "add", because("muscle_recovered", facts, "review.sets.up_from")


def _taken(question: SetsQuestion, muscle: str, wish: Wish, reason: Reason) -> SetsChoice:
    """Sets taken off the print: to a share of it for a cut, to last week's for a hold; a muscle is
    not cut below the floor."""
    board, policy = question.board, question.case.policy
    spots = [spot for spot in board.spots if muscle in spot.lift.direct]
    printed, before, sets_before = (
        board.direct(muscle),
        dict(board.sets),
        board.fractional(muscle),
    )
    if wish == "cut":
        wanted = round(policy.number("review.sets.cut_to") * printed)
        spare = int(max(sets_before - floor_sets(policy), 0.0) + 1e-9)
        target = min(printed, max(wanted, printed - spare))
    elif muscle in question.case.hurting and sets_before <= _last_planned(question, muscle):
        target = printed  # the lift that is out took enough
    else:
        target = sum(min(spot.was, board.sets[spot.place]) for spot in spots)
    taken = trim({spot.place: (board.sets[spot.place], spot.was) for spot in spots}, target)
    board.sets |= taken
    moves = {place: sets for place, sets in taken.items() if sets != before[place]}
    return SetsChoice(
        muscle=muscle,
        wish=wish,
        moves=moves,
        direct_before=printed,
        direct_after=board.direct(muscle),
        sets_before=sets_before,
        sets_after=board.fractional(muscle),
        reasons=(reason,),
        p_recovered_next=_p_recovered(question, muscle),
    )


def _p_recovered(question: SetsQuestion, muscle: str) -> float:
    """P(the muscle recovers from next week's sets as the board stands)."""
    sets, case = question.board.fractional(muscle), question.case
    return case.ceilings[muscle].p_recovered(sets, case.policy)


def _last_planned(question: SetsQuestion, muscle: str) -> float:
    return question.case.evidence.muscles[muscle].sets_planned + 1e-9


def _added(question: SetsQuestion, muscle: str, reason: Reason) -> SetsChoice | None:
    """One set beyond the print where it disturbs least; as printed, with why, where none fits."""
    board = question.board
    before, sets_before = dict(board.sets), board.fractional(muscle)
    direct = board.direct(muscle)
    blocked = put_set(question, muscle)
    if blocked is not None:
        return _as_printed(question, muscle, (blocked,))
    after = board.fractional(muscle)
    return SetsChoice(
        muscle=muscle,
        wish="add",
        moves={place: sets for place, sets in board.sets.items() if sets != before[place]},
        direct_before=direct,
        direct_after=board.direct(muscle),
        sets_before=sets_before,
        sets_after=after,
        reasons=(reason, _ceiling_reason(question, muscle)),
        p_recovered_next=_p_recovered(question, muscle),
    )


def _as_printed(question: SetsQuestion, muscle: str, reasons: tuple[Reason, ...]) -> SetsChoice:
    board = question.board
    direct, sets = board.direct(muscle), board.fractional(muscle)
    return SetsChoice(
        muscle=muscle,
        wish="print",
        moves={},
        direct_before=direct,
        direct_after=direct,
        sets_before=sets,
        sets_after=sets,
        reasons=reasons,
        p_recovered_next=_p_recovered(question, muscle),
    )


def muscle_facts(found: MuscleEvidence) -> dict[str, FactValue]:
    """A muscle's week as facts, with words for what may be missing."""
    p = found.p_recovered
    return {
        "muscle": found.muscle.replace("_", " "),
        "sets_done": round(found.sets_done, 2),
        "sets_planned": round(found.sets_planned, 2),
        "p_recovered": None if p is None else round(p, 3),
        "p_recovered_said": "unknown" if p is None else percent(p),
        "p_matched": None if found.matched is None else round(found.matched, 3),
        "matched": _matched_words(found),
        "sore": found.sore,
        "sore_words": "nobody said how sore it was"
        if found.sore is None
        else f"soreness {found.sore:g} of 10 at the next session",
        "week_said": _week_words(found),
    }


def _week_words(found: MuscleEvidence) -> str:
    """A muscle's week as a coach says it: "matched, not sore"."""
    if found.matched is None:
        said = "nothing to compare with"
    elif found.matched >= 0.5:
        said = "did what was planned" if found.judged_by_plan else "held"
    else:
        said = "short of what was planned" if found.judged_by_plan else "below last week"
    if found.sore is None:
        return said
    return f"{said}, {'not' if found.sore < 1 else f'{found.sore:g} of 10'} sore"


def _matched_words(found: MuscleEvidence) -> str:
    if found.matched is None:
        return "nothing to compare its lifts with"
    if found.judged_by_plan:
        return "its lifts did what was planned, with nothing earlier to compare with"
    return f"its lifts matched with probability {percent(found.matched)}"


def _ceiling_reason(question: SetsQuestion, muscle: str) -> Reason:
    ceiling, sets = question.case.ceilings[muscle], question.board.fractional(muscle)
    at_least = ceiling.at_least
    p_overshoots = ceiling.p_overshoots(sets)
    return Reason(
        code="ceiling_belief",
        facts={
            "muscle": muscle.replace("_", " "),
            "sets_after": round(sets, 2),
            "ceiling_median": round(ceiling.median, 1),
            "ceiling_words": f"at least {at_least:.0f}"
            if at_least is not None
            else f"about {ceiling.median:.0f}",
            "p_overshoots": round(p_overshoots, 3),
            "p_overshoots_said": percent(p_overshoots),
        },
        policy=("review.sets.overshoot_cost", "volume.ceiling.prior_sets"),
        source="benefit: Pelland et al. 2025 and Steele et al. 2026 (preprint) disagree; see "
        "volume.benefit.slope",
    )
