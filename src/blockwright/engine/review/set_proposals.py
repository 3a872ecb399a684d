"""Sets for every muscle of the next week: one more, the same, fewer."""

from collections.abc import Collection, Sequence

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import Case
from blockwright.engine.review.proposals import (
    Kind,
    Proposal,
    RunnerUp,
    To,
    proposal_id,
    sure,
)
from blockwright.engine.review.sets import (
    Place,
    SetsChoice,
    SetsQuestion,
    board_for,
    chosen_sets,
)

PROPOSED: dict[Kind, str] = {
    "add_set": "propose_add_set",
    "hold_sets": "propose_hold_sets",
    "trim_sets": "propose_trim_sets",
}


def set_proposals(
    case: Case, no_gain: Reason | None, frozen_lifts: Collection[str]
) -> list[Proposal]:
    """One proposal for every entry that changes, and one for every muscle that keeps its sets."""
    upcoming = case.window.next_week
    if upcoming is None:
        return []
    board = board_for(case.window.week, upcoming, case.catalogue, case.policy)
    question = SetsQuestion(
        lifter=case.lifter,
        evidence=case.evidence,
        ceilings=case.ceilings,
        catalogue=case.catalogue,
        policy=case.policy,
        board=board,
        frozen_lifts=frozenset(frozen_lifts),
        no_gain=case.awaits_clearance or no_gain,
        hurting=frozenset(
            muscle
            for name in case.pain
            if case.stopped(name) and (lift := case.catalogue.find(name)) is not None
            for muscle in lift.direct
        ),
    )
    choices = chosen_sets(question)
    base = {spot.place: spot.base for spot in board.spots}
    often = _lifts_in_several(board.sets)
    made: list[Proposal] = []
    for choice in choices:
        if choice.moves:
            made += [
                _move(case, choice, place, base[place], sets, several=place[1] in often)
                for place, sets in sorted(choice.moves.items())
            ]
        elif not _carried_along(choice, choices, question):
            made.append(_hold(case, choice))
    return _one_an_entry(made)


def _lifts_in_several(places: Collection[Place]) -> frozenset[str]:
    lifts = [lift for _, lift in places]
    return frozenset(lift for lift in lifts if lifts.count(lift) > 1)


def _carried_along(
    choice: SetsChoice, choices: Sequence[SetsChoice], question: SetsQuestion
) -> bool:
    """Whether another muscle's change moved this muscle's direct sets already."""
    moved = {place for other in choices for place in other.moves}
    return any(
        spot.place in moved and choice.muscle in spot.lift.direct for spot in question.board.spots
    )


def _one_an_entry(proposals: Sequence[Proposal]) -> list[Proposal]:
    """Two muscles may move one entry (squats for quads and glutes): the last word, said once."""
    last: dict[tuple[int | None, str | None], Proposal] = {}
    kept: list[Proposal] = []
    for proposal in proposals:
        if proposal.lift is None:
            kept.append(proposal)
            continue
        key = (proposal.session, proposal.lift)
        if key in last:
            kept.remove(last[key])
        last[key] = proposal
        kept.append(proposal)
    return kept


def _move(
    case: Case, choice: SetsChoice, place: Place, before: int, after: int, *, several: bool
) -> Proposal:
    session, lift = place
    kind: Kind = "add_set" if after > before else "trim_sets"
    facts = _facts(choice) | {
        "lift": lift,
        "session": session,
        "before": before,
        "after": after,
    }
    return Proposal(
        id=proposal_id(case.next_number, kind, lift, session if several else None),
        kind=kind,
        week=case.next_number,
        session=session,
        lift=lift,
        muscle=choice.muscle,
        before=To("sets", before),
        after=To("sets", after),
        says=Reason(code=PROPOSED[kind], facts=facts),
        claim=Reason(code="claim_recovered", facts=facts),
        reasons=choice.reasons,
        confidence=sure(choice.p_recovered_next),
        runner_up=_runner_up(choice, before),
    )


def _hold(case: Case, choice: SetsChoice) -> Proposal:
    facts = _facts(choice)
    return Proposal(
        id=proposal_id(case.next_number, "hold_sets", choice.muscle),
        kind="hold_sets",
        week=case.next_number,
        muscle=choice.muscle,
        before=To("sets", choice.direct),
        after=To("sets", choice.direct),
        says=Reason(code=PROPOSED["hold_sets"], facts=facts),
        claim=Reason(code="claim_recovered", facts=facts),
        reasons=choice.reasons,
        confidence=sure(choice.p_recovered_next),
        runner_up=_runner_up(choice, choice.direct),
    )


def _facts(choice: SetsChoice) -> dict[str, FactValue]:
    return {
        "muscle": choice.muscle.replace("_", " "),
        "week_sets_before": round(choice.sets_before, 2),
        "week_sets_after": round(choice.sets_after, 2),
        "direct": round(choice.direct, 2),
    }


def _runner_up(choice: SetsChoice, base: float) -> RunnerUp | None:
    """The second best change; its `after` counts what the proposal's own `after` counts."""
    second, why = choice.second, choice.why_not
    if second is None or why is None:
        return None
    other: Kind = "hold_sets"
    if second.change:
        other = "add_set" if second.change > 0 else "trim_sets"
    return RunnerUp(kind=other, after=To("sets", max(base + second.change, 0)), why=why)
