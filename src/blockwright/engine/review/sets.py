"""Next week's sets: which muscles gain one, keep theirs or lose one, and on which lift.

Candidates are -2 to +2 direct sets (policy). A recovered muscle may gain, one in doubt is held,
one far from recovered loses. Among the candidates allowed the best is the one with the largest
expected gain, weighted by emphasis, less the cost of the probability that the week then lies
above the ceiling. A set goes where it disturbs least: where the block meant it to go, else
to the lift that matched best and has the fewest sets, never past a limit.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from blockwright.engine.planning.time_model import lift_time
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.evidence import Evidence, LiftEvidence, MuscleEvidence
from blockwright.engine.training import (
    MUSCLES,
    Catalogue,
    Entry,
    Lift,
    Lifter,
    RepRange,
    Session,
    Week,
)
from blockwright.engine.volume import CeilingBelief, floor_sets, gain

Place = tuple[int, str]
"""Number of the session in its week, and the lift."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One entry of the next week that could gain or lose a set."""

    session: Session
    entry: Entry
    lift: Lift
    base: int
    """Sets in the week just done; the starting point."""
    planned: int
    """Sets the block has for the next week."""

    @property
    def place(self) -> Place:
        return (self.session.session, self.entry.lift)

    @property
    def usable(self) -> bool:
        """Rest-pause and drop sets are left as they are."""
        return self.entry.method in ("straight", "superset")


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
    direct: float
    """Direct sets in the week just done."""
    reasons: tuple[Reason, ...]
    p_recovered_next: float
    best: Candidate
    second: Candidate | None
    why_not: Reason | None
    """Why the second lost."""


@dataclass
class Board:
    """Next week's sets as they stand while muscles are decided one after another."""

    spots: Sequence[Spot]
    policy: Policy
    sets: dict[Place, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.sets = {spot.place: spot.base for spot in self.spots}

    def fractional(self, muscle: str, session: int | None = None) -> float:
        """Weekly (or one session's) fractional sets of a muscle as things stand."""
        return sum(
            _credit(spot, self.sets[spot.place]) * spot.lift.muscles.get(muscle, 0.0)
            for spot in self.spots
            if session is None or spot.session.session == session
        )

    def base(self, muscle: str) -> float:
        """The same in the week just done."""
        return sum(_credit(s, s.base) * s.lift.muscles.get(muscle, 0.0) for s in self.spots)

    def direct(self, muscle: str) -> float:
        return sum(_credit(s, s.base) for s in self.spots if muscle in s.lift.direct)

    def minutes(self, session: int) -> float:
        """Minutes of a session as things stand: the planner's, and what each set adds."""
        here = [spot for spot in self.spots if spot.session.session == session]
        extra = sum(
            (self.sets[spot.place] - spot.planned) * set_seconds(spot, self.policy) for spot in here
        )
        return here[0].session.minutes_planned + extra / 60


def _credit(spot: Spot, sets: int) -> float:
    """What so many sets of an entry count as; a rest-pause or drop set keeps its own credit."""
    extra = sum(planned.counts_as - 1.0 for planned in spot.entry.sets)
    return sets + extra


def set_seconds(spot: Spot, policy: Policy) -> float:
    """Seconds one more set takes by the planner's time model."""
    first = spot.entry.sets[0]
    reps = RepRange(low=first.reps_low, high=first.reps_high)
    time = lift_time(spot.lift, spot.entry.zone, reps, policy)
    return time.work_s + max(spot.entry.rest_s, time.rest_s)


def board_for(done: Week, upcoming: Week, catalogue: Catalogue, policy: Policy) -> Board:
    """The board with the sets of the week just done in the next week's entries."""
    before = {
        (session.session, entry.lift): len(entry.sets)
        for session in done.sessions
        for entry in session.entries
    }
    spots = []
    for session in upcoming.sessions:
        for entry in session.entries:
            lift = catalogue.find(entry.lift)
            if lift is not None and entry.sets:
                base = before.get((session.session, entry.lift), len(entry.sets))
                spots.append(
                    Spot(
                        session=session,
                        entry=entry,
                        lift=lift,
                        base=base,
                        planned=len(entry.sets),
                    )
                )
    return Board(spots=spots, policy=policy)


@dataclass
class SetsQuestion:
    """Everything the decision looks at."""

    lifter: Lifter
    evidence: Evidence
    ceilings: Mapping[str, CeilingBelief]
    catalogue: Catalogue
    policy: Policy
    board: Board
    frozen_lifts: frozenset[str]
    """Lifts that may not gain a set: pain, partial range, a watch, a load coming down."""
    no_gain: Reason | None = None
    """A reason that forbids any set more this week."""
    hurting: frozenset[str] = frozenset()
    """Muscles of lifts that pain stops."""


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
        return _reason("muscle_not_recovered", facts, "review.sets.trim_below"), _DOWN
    if found.sore is not None and found.sore >= policy.number("review.sore.not_from"):
        return _reason("muscle_still_sore", facts, "review.sore.not_from"), _HOLD
    if question.no_gain is not None:
        return question.no_gain, _HOLD
    if found.muscle in question.hurting:
        return _reason("muscle_near_pain", facts, "safety.pain_stop_above"), _HOLD
    if p is None:
        return _reason("muscle_unknown", facts), _HOLD
    if found.sets_done < policy.number("review.sets.done_share") * found.sets_planned:
        return _reason("sets_left_undone", facts, "review.sets.done_share"), _HOLD
    if p < policy.number("review.sets.up_from"):
        return _reason("muscle_in_doubt", facts, "review.sets.up_from"), _HOLD
    if question.evidence.lifter.short_of_energy and p < policy.number(
        "review.sets.short_of_energy_up_from"
    ):
        key = "review.sets.short_of_energy_up_from"
        return _reason("short_of_energy", facts, key), _HOLD
    if question.lifter.emphasis_of(found.muscle) == "hold":
        return _reason("muscle_on_hold", facts), _HOLD
    return _reason("muscle_recovered", facts, "review.sets.up_from"), _UP


def muscle_facts(found: MuscleEvidence) -> dict[str, FactValue]:
    """A muscle's week as facts, with words for what may be missing."""
    p = found.p_recovered
    return {
        "muscle": found.muscle.replace("_", " "),
        "sets_done": round(found.sets_done, 2),
        "sets_planned": round(found.sets_planned, 2),
        "p_recovered": None if p is None else round(p, 3),
        "p_recovered_pct": "unknown" if p is None else f"{100 * p:.0f} %",
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
    return f"its lifts matched with probability {100 * found.matched:.0f} %"


def _placed(question: SetsQuestion, asked: _Asked) -> SetsChoice:
    """The asked change put on lifts as far as the limits allow; the board moves with it."""
    board, muscle = question.board, asked.muscle
    before = dict(board.sets)
    blocked: Reason | None = None
    for _ in range(abs(asked.best.change)):
        step = 1 if asked.best.change > 0 else -1
        spot, blocked_by = _best_spot(question, muscle, step)
        if spot is None:
            blocked = blocked_by
            break
        board.sets[spot.place] += step
    moves = {place: sets for place, sets in board.sets.items() if sets != before[place]}
    # what other muscles' sets bring along counts too
    after = board.fractional(muscle)
    changed = sum(board.sets[place] - before[place] for place in moves)
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
        direct=board.direct(muscle),
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
            "p_overshoots_pct": round(100 * best.p_overshoots),
        },
        policy=("review.sets.overshoot_cost", "volume.ceiling.prior_sets"),
        source="benefit: Pelland et al. 2025 and Steele et al. 2026 (preprint) disagree; see "
        "volume.benefit.slope",
    )


def _lost(asked: _Asked, best: Candidate, second: Candidate, blocked: Reason | None) -> Reason:
    facts: dict[str, FactValue] = {
        "change": f"{second.change:+d}",
        "p_overshoots_pct": round(100 * second.p_overshoots),
        "worth_less_smd": f"{best.worth - second.worth:.3f}",
    }
    if blocked is not None and second.change > best.change:
        return Reason(code="lost_no_room", facts=facts)
    if second.worth > best.worth:
        return Reason(code="lost_by_recovery", facts=facts)
    return Reason(code="lost_by_worth", facts=facts)


def _best_spot(question: SetsQuestion, muscle: str, step: int) -> tuple[Spot | None, Reason | None]:
    spots = [s for s in question.board.spots if muscle in s.lift.direct and s.usable]
    if step < 0:
        return _spot_to_trim(question, muscle, spots)
    reasons = {spot.place: _against(question, spot) for spot in spots}
    fit = [spot for spot in spots if reasons[spot.place] is None]
    if not fit:
        first = next((r for r in reasons.values() if r is not None), None)
        return None, first or _reason("no_straight_sets", {"muscle": muscle.replace("_", " ")})
    board = question.board

    def disturbance(spot: Spot) -> tuple[bool, bool, float, int, int, int]:
        meant = board.sets[spot.place] < spot.planned
        matched = _matched(question.evidence.lifts.get(spot.lift.name))
        return (
            not meant,
            spot.entry.pair is not None,
            -round(matched, 2),
            board.sets[spot.place],
            spot.session.session,
            spot.entry.order,
        )

    return min(fit, key=disturbance), None


def _matched(found: LiftEvidence | None) -> float:
    return 0.5 if found is None or found.matched is None else found.matched


def _against(question: SetsQuestion, spot: Spot) -> Reason | None:
    """The first limit one more set would break, or None."""
    board, policy = question.board, question.policy
    facts: dict[str, FactValue] = {
        "lift": spot.lift.name,
        "session": spot.session.session,
    }
    if spot.lift.name in question.frozen_lifts:
        return _reason("lift_held_back", facts)
    if board.sets[spot.place] + 1 - spot.base > policy.whole("review.sets.most_change_a_lift"):
        return _reason("lift_has_changed", facts, "review.sets.most_change_a_lift")
    if board.sets[spot.place] + 1 > policy.whole("planning.sets_most"):
        return _reason("lift_full", facts, "planning.sets_most")
    number = spot.session.session
    if board.minutes(number) + set_seconds(spot, policy) / 60 > spot.session.minutes_available:
        return _reason("no_minutes", facts, "time.session_start")
    for muscle, share in spot.lift.muscles.items():
        facts_m = facts | {"muscle": muscle.replace("_", " ")}
        limit = policy.number("review.sets.session_limit")
        if share > 0 and board.fractional(muscle, number) + share > limit:
            return _reason("session_full", facts_m, "review.sets.session_limit")
        climb = board.fractional(muscle) + share - board.base(muscle)
        if share > 0 and climb > policy.number("ramp.sets_per_week") + 1e-9:
            return _reason("ramp_full", facts_m, "ramp.sets_per_week")
        if share >= 1 and _stays_down(question, muscle):
            return _reason("other_muscle_not_recovered", facts_m)
    return None


def _stays_down(question: SetsQuestion, muscle: str) -> bool:
    """Whether a muscle may not gain direct sets as a by-product."""
    if question.lifter.emphasis_of(muscle) in ("hold", "skip"):
        return True
    found = question.evidence.muscles.get(muscle)
    if found is None or found.p_recovered is None:
        return found is not None
    return found.p_recovered < question.policy.number("review.sets.up_from")


def _spot_to_trim(
    question: SetsQuestion, muscle: str, spots: Sequence[Spot]
) -> tuple[Spot | None, Reason | None]:
    board = question.board
    facts: dict[str, FactValue] = {"muscle": muscle.replace("_", " ")}
    if board.fractional(muscle) - 1 < floor_sets(question.policy):
        return None, _reason("at_the_floor", facts, "volume.floor_sets")
    least = question.policy.whole("planning.sets_least")
    most = question.policy.whole("review.sets.most_change_a_lift")
    fit = [
        spot
        for spot in spots
        if board.sets[spot.place] > least and spot.base - board.sets[spot.place] < most
    ]
    if not fit:
        return None, _reason("no_set_to_trim", facts, "planning.sets_least")

    def preference(spot: Spot) -> tuple[float, bool, int, int, int]:
        matched = _matched(question.evidence.lifts.get(spot.lift.name))
        return (
            round(matched, 2),
            spot.entry.pair is not None,
            -board.sets[spot.place],
            -spot.session.session,
            -spot.entry.order,
        )

    return min(fit, key=preference), None


def _reason(code: str, facts: Mapping[str, FactValue], *policy: str) -> Reason:
    return Reason(code=code, facts=facts, policy=policy)
