"""Next week's sets: which muscles gain one, keep theirs or lose one, and on which lift.

Candidates are -2 to +2 direct sets (policy). A recovered muscle may gain, one in doubt is held,
one far from recovered loses. Among the candidates allowed the best is the one with the largest
expected gain, weighted by emphasis, less the cost of the probability that the week then lies
above the ceiling. A set goes where it disturbs least: where the block meant it to go, else
to the lift that matched best and has the fewest sets, never past a limit.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.allocate_sets import put_set
from blockwright.engine.review.draft_sets import Place, SetsQuestion, because
from blockwright.engine.review.evidence import MuscleEvidence
from blockwright.engine.review.proposals import percent
from blockwright.engine.training import MUSCLES
from blockwright.engine.volume import gain


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One change of a muscle's direct sets, with what it is worth (SMD)."""

    change: int
    worth: float
    p_overshoots: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SetsChoice:
    """One muscle's decision. `moves` are the entries that change, with their new sets."""

    muscle: str
    moves: Mapping[Place, int]
    sets_before: float
    """Fractional weekly sets as planned for the week just done."""
    sets_after: float
    reasons: tuple[Reason, ...]
    p_recovered_next: float
    best: Candidate
    second: Candidate | None
    why_not: Reason | None
    """Why the second lost."""


def chosen_sets(question: SetsQuestion) -> tuple[SetsChoice, ...]:
    """A decision for every muscle with direct sets next week, those that lose sets first, then
    lead muscles, then by what a set is worth."""
    muscles = [
        muscle
        for muscle in MUSCLES
        if muscle in question.evidence.muscles
        and question.lifter.emphasis_of(muscle) != "skip"
        and question.board.direct(muscle) > 0
    ]
    asked = {muscle: _asked(question, muscle) for muscle in muscles}
    order = sorted(
        muscles,
        key=lambda m: (asked[m].best.change >= 0, -asked[m].best.worth, MUSCLES.index(m)),
    )
    made = {muscle: _placed(question, asked[muscle]) for muscle in order}
    return tuple(made[muscle] for muscle in order)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What a muscle's own evidence asks for, before lifts and minutes are looked at."""

    muscle: str
    best: Candidate
    rest: tuple[Candidate, ...]
    gate: Reason
    """What allowed or forbade a change."""


def _asked(question: SetsQuestion, muscle: str) -> _Asked:
    found = question.evidence.muscles[muscle]
    policy = question.policy
    gate, allowed = _gate(question, found)
    most = policy.whole("review.sets.most_change")
    candidates = [_candidate(question, muscle, change) for change in range(-most, most + 1)]
    fit = [c for c in candidates if c.change in allowed(most)]
    best = max(fit, key=lambda c: (c.worth, -abs(c.change)))
    rest = sorted(
        (c for c in candidates if c.change != best.change), key=lambda c: (-c.worth, abs(c.change))
    )
    return _Asked(muscle=muscle, best=best, rest=tuple(rest), gate=gate)


def _candidate(question: SetsQuestion, muscle: str, change: int) -> Candidate:
    policy = question.policy
    now = question.board.base(muscle)
    then = max(now + change, 0.0)
    emphasis = question.lifter.emphasis_of(muscle)
    weight = policy.number(f"review.sets.gain_weight.{emphasis}")
    p_over = question.ceilings[muscle].p_overshoots(then)
    worth = weight * gain(now, then, policy).mean - p_over * policy.number(
        "review.sets.overshoot_cost"
    )
    return Candidate(change=change, worth=worth, p_overshoots=p_over)


class _Allowed:
    """Which changes a gate lets through."""

    def __init__(self, low: int, high: int) -> None:
        self.low, self.high = low, high

    def __call__(self, most: int) -> range:
        return range(max(self.low, -most), min(self.high, most) + 1)


_HOLD, _UP, _DOWN = _Allowed(0, 0), _Allowed(0, 9), _Allowed(-9, -1)


def _gate(question: SetsQuestion, found: MuscleEvidence) -> tuple[Reason, _Allowed]:
    """Recovered, in doubt, or not: what the evidence lets through, strongest reason."""
    policy, p = question.policy, found.p_recovered
    facts = muscle_facts(found)
    if p is not None and p < policy.number("review.sets.trim_below"):
        return because("muscle_not_recovered", facts, "review.sets.trim_below"), _DOWN
    if found.sore is not None and found.sore >= policy.number("review.sore.not_from"):
        return because("muscle_still_sore", facts, "review.sore.not_from"), _HOLD
    if question.no_gain is not None:
        return question.no_gain, _HOLD
    if found.muscle in question.hurting:
        return because("muscle_near_pain", facts, "safety.pain_stop_above"), _HOLD
    if p is None:
        return because("muscle_unknown", facts), _HOLD
    if found.sets_done < policy.number("review.sets.done_share") * found.sets_planned:
        return because("sets_left_undone", facts, "review.sets.done_share"), _HOLD
    if p < policy.number("review.sets.up_from"):
        return because("muscle_in_doubt", facts, "review.sets.up_from"), _HOLD
    if question.evidence.lifter.short_of_energy and p < policy.number(
        "review.sets.short_of_energy_up_from"
    ):
        key = "review.sets.short_of_energy_up_from"
        return because("short_of_energy", facts, key), _HOLD
    if question.lifter.emphasis_of(found.muscle) == "hold":
        return because("muscle_on_hold", facts), _HOLD
    return because("muscle_recovered", facts, "review.sets.up_from"), _UP


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
    }


def _matched_words(found: MuscleEvidence) -> str:
    if found.matched is None:
        return "nothing to compare its lifts with"
    if found.judged_by_plan:
        return "its lifts did what was planned, with nothing earlier to compare with"
    return f"its lifts matched with probability {percent(found.matched)}"


def _placed(question: SetsQuestion, asked: _Asked) -> SetsChoice:
    """The asked change put on lifts as far as the limits allow; the board moves with it."""
    board, muscle = question.board, asked.muscle
    before = dict(board.sets)
    blocked: Reason | None = None
    for _ in range(abs(asked.best.change)):
        blocked = put_set(question, muscle, 1 if asked.best.change > 0 else -1)
        if blocked is not None:
            break
    moves = {place: sets for place, sets in board.sets.items() if sets != before[place]}
    # what other muscles' sets bring along counts too
    after = board.fractional(muscle)
    mine = {spot.place for spot in board.spots if muscle in spot.lift.direct}
    changed = sum(board.sets[place] - before[place] for place in moves if place in mine)
    best = next((c for c in (asked.best, *asked.rest) if c.change == changed), asked.best)
    reasons = (asked.gate,) if blocked is None else (asked.gate, blocked)
    if best.change or asked.best.change == 0:
        reasons = (*reasons, _worth_reason(question, muscle, best, after))
    second = next((c for c in asked.rest if c.change != best.change), None)
    return SetsChoice(
        muscle=muscle,
        moves=moves,
        sets_before=board.base(muscle),
        sets_after=after,
        reasons=reasons,
        p_recovered_next=question.ceilings[muscle].p_recovered(after, question.policy),
        best=best,
        second=second,
        why_not=None if second is None else _lost(asked, best, second, blocked),
    )


def _worth_reason(question: SetsQuestion, muscle: str, best: Candidate, after: float) -> Reason:
    ceiling = question.ceilings[muscle]
    at_least = ceiling.at_least
    return Reason(
        code="ceiling_belief",
        facts={
            "muscle": muscle.replace("_", " "),
            "sets_after": round(after, 2),
            "ceiling_median": round(ceiling.median, 1),
            "ceiling_words": f"at least {at_least:.0f}"
            if at_least is not None
            else f"about {ceiling.median:.0f}",
            "p_overshoots": round(best.p_overshoots, 3),
            "p_overshoots_said": percent(best.p_overshoots),
        },
        policy=("review.sets.overshoot_cost", "volume.ceiling.prior_sets"),
        source="benefit: Pelland et al. 2025 and Steele et al. 2026 (preprint) disagree; see "
        "volume.benefit.slope",
    )


def _change_words(change: int) -> str:
    if not change:
        return "the same sets"
    sets = "one set" if abs(change) == 1 else f"{abs(change)} sets"
    return f"{sets} {'more' if change > 0 else 'fewer'}"


def _lost(asked: _Asked, best: Candidate, second: Candidate, blocked: Reason | None) -> Reason:
    facts: dict[str, FactValue] = {
        "change": f"{second.change:+d}",
        "change_words": _change_words(second.change),
        "p_overshoots_said": percent(second.p_overshoots),
        "worth_less_smd": f"{best.worth - second.worth:.3f}",
    }
    if blocked is not None and second.change > best.change:
        return Reason(code="lost_no_room", facts=facts)
    if second.worth > best.worth:
        return Reason(code="lost_by_recovery", facts=facts)
    return Reason(code="lost_by_worth", facts=facts)
