"""Sets for every muscle of the next week: one more, the same, fewer."""

from collections.abc import Collection, Sequence

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.draft_sets import Board, Place, SetsQuestion, board_for
from blockwright.engine.review.named_session import day_of
from blockwright.engine.review.proposals import (
    Kind,
    Proposal,
    RunnerUp,
    To,
    proposal_id,
    sure,
)
from blockwright.engine.review.sets import SetsChoice, chosen_sets

PROPOSED: dict[Kind, str] = {
    "add_set": "propose_add_set",
    "hold_sets": "propose_hold_sets",
    "trim_sets": "propose_trim_sets",
}


def set_proposals(
    case: WeekCase, no_gain: Reason | None, frozen_lifts: Collection[str]
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
    moved = {place for choice in choices for place in choice.moves}
    made: list[Proposal] = []
    for choice in choices:
        if choice.moves:
            made += [
                _move(case, question, choice, place, base[place]) for place in sorted(choice.moves)
            ]
        elif kept := _kept(board, choice.muscle, moved):
            made.append(_hold(case, board, choice, kept))
    return _one_an_entry(made)


def _kept(board: Board, muscle: str, moved: Collection[Place]) -> list[Place]:
    """Entries that train a muscle directly and that no proposal changes."""
    return [
        spot.place for spot in board.spots if muscle in spot.lift.direct and spot.place not in moved
    ]


def _block_had(board: Board, places: Collection[Place], sets: int) -> tuple[Reason, ...]:
    """The sets the block has for the week, where they are others: what declining leaves."""
    planned = sum(spot.planned for spot in board.spots if spot.place in places)
    return () if planned == sets else (Reason(code="block_had_sets", facts={"sets": planned}),)


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
    case: WeekCase, question: SetsQuestion, choice: SetsChoice, place: Place, before: int
) -> Proposal:
    session, lift = place
    after = choice.moves[place]
    kind: Kind = "add_set" if after > before else "trim_sets"
    muscle, reasons, p_recovered = choice.muscle, choice.reasons, choice.p_recovered_next
    facts = _facts(choice)
    direct = case.catalogue.lifts[lift].direct
    if muscle not in direct:
        # the partner of a pair gains and loses sets with it
        board = question.board
        muscle, sets = direct[0], board.fractional(direct[0])
        p_recovered = question.ceilings[muscle].p_recovered(sets, case.policy)
        facts = _muscle_sets(muscle, board.base(muscle), sets)
        reasons = (Reason(code="goes_with_its_pair", facts={"lift": lift}),)
    here = next(one for one in case.next_sessions if one.session == session)
    facts |= {
        "lift": lift,
        "session": session,
        "day": day_of(here, case.next_sessions),
        "before": before,
        "after": after,
    }
    several = sum(other == lift for _, other in question.board.sets) > 1
    return Proposal(
        id=proposal_id(case.next_number, kind, lift, session if several else None),
        kind=kind,
        week=case.next_number,
        session=session,
        lift=lift,
        muscle=muscle,
        before=To("sets", before),
        after=To("sets", after),
        says=Reason(code=PROPOSED[kind], facts=facts),
        claim=Reason(code="claim_recovered", facts=facts),
        reasons=(*reasons, *_block_had(question.board, [place], after)),
        confidence=sure(p_recovered),
        runner_up=_runner_up(choice, before) if muscle == choice.muscle else None,
    )


def _hold(case: WeekCase, board: Board, choice: SetsChoice, places: Collection[Place]) -> Proposal:
    sets = sum(spot.base for spot in board.spots if spot.place in places)
    facts = _facts(choice) | {"direct": sets}
    return Proposal(
        id=proposal_id(case.next_number, "hold_sets", choice.muscle),
        kind="hold_sets",
        week=case.next_number,
        muscle=choice.muscle,
        before=To("sets", sets),
        after=To("sets", sets),
        says=Reason(code=PROPOSED["hold_sets"], facts=facts),
        claim=Reason(code="claim_recovered", facts=facts),
        reasons=(*choice.reasons, *_block_had(board, places, sets)),
        confidence=sure(choice.p_recovered_next),
        runner_up=_runner_up(choice, sets),
    )


def _facts(choice: SetsChoice) -> dict[str, FactValue]:
    return _muscle_sets(choice.muscle, choice.sets_before, choice.sets_after)


def _muscle_sets(muscle: str, before: float, after: float) -> dict[str, FactValue]:
    return {
        "muscle": muscle.replace("_", " "),
        "week_sets_before": round(before, 2),
        "week_sets_after": round(after, 2),
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
