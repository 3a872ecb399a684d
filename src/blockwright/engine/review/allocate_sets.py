"""Which lift gains the set: where it disturbs least, never past a limit."""

from dataclasses import replace

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.draft_sets import SetsQuestion, Spot, because
from blockwright.engine.review.evidence import LiftEvidence
from blockwright.engine.review.named_session import day_of
from blockwright.engine.review.week_constraints import newly_broken, overfull


def put_set(question: SetsQuestion, muscle: str) -> Reason | None:
    """Adds one set of a muscle on the board. Returns None when it was done, else the reason why
    nothing fits; the board is then as before."""
    lead = question.case.lifter.emphasis_of(muscle) == "lead"
    spots = [s for s in question.board.spots if muscle in s.lift.direct and s.usable]
    spots.sort(key=lambda each: _disturbance(question, each))
    moved = [s for s in spots if s.lift.name in question.moved_lifts]
    free = [s for s in spots if s not in moved]
    first_against: Reason | None = None
    for spot in [*free, *moved] if lead else free:
        against = _add_together(question, spot)
        if against is None:
            return None
        first_against = first_against or against
    if first_against is None and moved:
        return because("lift_has_changed", {"lift": moved[0].lift.name})
    return first_against or because("no_straight_sets", {"muscle": muscle.replace("_", " ")})


def _add_together(question: SetsQuestion, spot: Spot) -> Reason | None:
    """One set more for the spot and its partner; the first limit it would break, or None."""
    board = question.board
    before = dict(board.sets)
    for each in board.together(spot):
        against = _against(question, each)
        if against is not None:
            board.sets = before
            return against
        board.sets[each.place] += 1
    return None


def _disturbance(question: SetsQuestion, spot: Spot) -> tuple[bool, bool, float, int, int, int]:
    """Where the print adds nothing first, then lifts on their own, then what matched best and
    has the fewest sets."""
    now = question.board.sets[spot.place]
    return (
        spot.printed > spot.was,
        spot.entry.pair is not None,
        -round(_matched(question.case.evidence.lifts.get(spot.lift.name)), 2),
        now,
        spot.session.session,
        spot.entry.order,
    )


def _matched(found: LiftEvidence | None) -> float:
    return 0.5 if found is None or found.matched is None else found.matched


def _against(question: SetsQuestion, spot: Spot) -> Reason | None:
    """The first limit one more set would break, or None."""
    board, policy = question.board, question.case.policy
    facts: dict[str, FactValue] = {
        "lift": spot.lift.name,
        "session": spot.session.session,
        "day": day_of(spot.session, (other.session for other in board.spots)),
    }
    taken_from = board.sets[spot.place] < spot.printed
    if taken_from or not spot.usable or spot.lift.name in question.frozen_lifts:
        return because("lift_held_back", facts)
    if board.sets[spot.place] + 1 - spot.was > policy.whole("review.sets.most_change_a_lift"):
        return because("lift_has_changed", facts, "review.sets.most_change_a_lift")
    if board.sets[spot.place] + 1 > policy.whole("planning.sets_most"):
        return because("lift_full", facts, "planning.sets_most")
    return _muscle_against(question, spot, facts) or _week_against(question, spot, facts)


def _week_against(question: SetsQuestion, spot: Spot, facts: dict[str, FactValue]) -> Reason | None:
    """What the session or the week would have too much of."""
    board, catalogue, policy = question.board, question.case.catalogue, question.case.policy
    before = board.week()
    board.sets[spot.place] += 1
    after = board.week()
    board.sets[spot.place] -= 1
    here = next(s for s in after.sessions if s.session == spot.session.session)
    against = overfull(here, catalogue, policy) or newly_broken(
        before, after, question.case.lifter, catalogue, policy
    )
    return None if against is None else replace(against, facts=facts | dict(against.facts))


def _muscle_against(
    question: SetsQuestion, spot: Spot, facts: dict[str, FactValue]
) -> Reason | None:
    board, policy = question.board, question.case.policy
    for muscle, share in spot.lift.muscles.items():
        if share <= 0:
            continue
        named = facts | {"muscle": muscle.replace("_", " ")}
        climb = board.fractional(muscle) + share - board.was(muscle)
        if climb > policy.number("ramp.sets_per_week") + 1e-9:
            return because("ramp_full", named, "ramp.sets_per_week")
        ceiling = board.upcoming.muscle_sets[muscle].ceiling
        if board.fractional(muscle) + share > max(ceiling, board.was(muscle)) + 1e-9:
            return because("at_the_ceiling", named | {"most": round(ceiling, 1)})
        if share >= 1 and _stays_down(question, muscle):
            return because("other_muscle_not_recovered", named)
    return None


def _stays_down(question: SetsQuestion, muscle: str) -> bool:
    """Whether a muscle may not gain direct sets as a by-product."""
    if question.case.lifter.emphasis_of(muscle) in ("hold", "skip"):
        return True
    found = question.case.evidence.muscles.get(muscle)
    if found is None or found.p_recovered is None:
        return found is not None
    return found.p_recovered < question.case.policy.number("review.sets.up_from")
