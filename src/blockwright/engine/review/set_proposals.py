"""Sets that leave the print: muscles cut or held, lifts that gain a set; and what stays."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from typing import Literal

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.units import number_text
from .block_weeks import remade
from .case import WeekCase
from .draft_sets import Board, Place
from .exposures import day_of, planned_entries
from .load_holds import sets_near_pain
from .proposals import Proposal, Stay, To, proposal_id, sure
from .sets import SetsChoice, chosen_sets
from .short_sets import ended_short


def sets_read(
    case: WeekCase,
    no_gain: Reason | None,
    nothing_beyond: Reason | None,
    frozen_lifts: Collection[str],
    moved_lifts: Collection[str],
    out_lifts: Collection[str | None],
) -> tuple[list[Proposal], list[Stay]]:
    """What changes against the print, and what a coach may have expected to change.

    A line for every muscle that is cut or held, one for every entry that gains a set; stays for
    lead muscles, and for those held for a reason of their own. Lifts that go out (`out_lifts`) have
    no set left to give."""
    upcoming = case.window.next_week
    if upcoming is None:
        return [], []
    upcoming = remade(upcoming, lambda _, entry: [] if entry.lift in out_lifts else [entry])
    board = Board(
        case=case,
        upcoming=upcoming,
        frozen_lifts=frozen_lifts,
        moved_lifts=moved_lifts,
        no_gain=no_gain,
        nothing_beyond=nothing_beyond,
    )
    spared = held_sets(board)
    changes: list[Proposal] = []
    stays: list[Stay] = []
    for choice in chosen_sets(board):
        if choice.wish == "add":
            changes += [_added(case, board, choice, place) for place in sorted(choice.moves)]
        elif choice.direct_after < choice.direct_before:
            changes.append(_taken(case, board, choice))
        elif choice.reasons[0].code in ("first_numbers", "pain_first"):
            continue  # the verdict says it, or the referral
        elif choice.wish == "hold" or case.lifter.emphasis_of(choice.muscle) == "lead":
            stays.append(Stay(muscle=choice.muscle, why=choice.reasons[0]))
    held = [_spared(case, board, place, reason) for place, (sets, reason) in spared.items()
            if board.sets[place] == sets]  # fmt: skip
    return _one_an_entry([*held, *changes]), stays


def held_sets(board: Board) -> dict[Place, tuple[int, Reason]]:
    """Takes printed sets back to last week's where a sore joint is loaded, by a small lift at all,
    by another much, and where last week's ended short; to one more where it is quiet again. What is
    left of each place, and why."""
    found: dict[Place, tuple[int, Reason]] = {}
    for spot in board.spots:
        more, reason = 0, sets_near_pain(board.case, spot.lift)
        if reason is None and spot.entry.waits and spot.lift.name not in board.case.pain:
            more, reason = 1, Reason(code="sets_come_back", facts={"lift": spot.lift.name})
        reason = reason or ended_short(board.case, spot.lift, spot.session.session)
        if reason is None or spot.printed <= spot.was + more:
            continue
        for each in board.together(spot):
            board.sets[each.place] = min(each.was + more, board.sets[each.place])
            own = each.place == spot.place
            why = reason if own else _with_its_pair(each.lift.name)
            if board.sets[each.place] < each.printed and (own or each.place not in found):
                found[each.place] = (board.sets[each.place], why)
    return found


def leads_in_pain(case: WeekCase, proposals: Sequence[Proposal]) -> list[Stay]:
    """Of a lead that climbs no more for what hurts, how many of its printed sets are left."""
    week = case.window.next_week
    if week is None or week.kind != "build":
        return []
    lost: Counter[str] = Counter()
    for one in proposals:
        lost.update(one.loses)
    places: dict[str, str] = {}
    for lift in case.catalogue.known(planned_entries(week, case.catalogue)):
        hurts = case.pain.get(lift.name)
        near = hurts is None and sets_near_pain(case, lift)
        about = hurts.about if hurts is not None else near and near.facts["about"]
        for muscle in lift.direct if about else ():
            if case.lifter.emphasis_of(muscle) == "lead" and muscle in week.muscle_sets:
                places.setdefault(muscle, str(about))
    found = []
    for muscle, about in places.items():
        printed, done = (
            week.muscle_sets[muscle].fractional,
            case.window.week.muscle_sets.get(muscle),
        )
        sets = round(printed - lost[muscle], 1)
        if done is not None and sets > done.fractional + 0.1:
            continue
        facts: dict[str, FactValue] = {"muscle": muscle.replace("_", " "), "about": about}
        facts |= {"sets": sets, "of": f" of {number_text(printed)}" if printed > sets else ""}
        found.append(Stay(muscle=muscle, why=Reason(code="lead_in_pain", facts=facts)))
    return found


def _one_an_entry(proposals: list[Proposal]) -> list[Proposal]:
    """Two muscles may move one entry (squats for quads and glutes): said once."""
    seen: set[tuple[int | None, str | None]] = set()
    kept = []
    for proposal in proposals:
        key = (proposal.session, proposal.lift)
        if proposal.lift is None or key not in seen:
            kept.append(proposal)
        seen.add(key)
    return kept


def _added(case: WeekCase, board: Board, choice: SetsChoice, place: Place) -> Proposal:
    muscle, reasons, sums = choice.muscle, choice.reasons, (choice.sets_before, choice.sets_after)
    direct = case.catalogue.lifts[place[1]].direct
    if muscle not in direct:
        # the partner of a pair gains the set with it
        muscle, sums = direct[0], _sums(board, direct[0])
        reasons = (_with_its_pair(place[1]),)
    return _of_entry(case, board, "add_set", place, muscle, sums, reasons)


def _with_its_pair(lift: str) -> Reason:
    return Reason(code="goes_with_its_pair", facts={"lift": lift})


def _spared(case: WeekCase, board: Board, place: Place, reason: Reason) -> Proposal:
    muscle = case.catalogue.lifts[place[1]].direct[0]
    return _of_entry(case, board, "trim_sets", place, muscle, _sums(board, muscle), (reason,))


def _sums(board: Board, muscle: str) -> tuple[float, float]:
    """Fractional sets of the next week, as printed and as things stand."""
    return board.fractional(muscle, board.printed), board.fractional(muscle)


def _of_entry(
    case: WeekCase,
    board: Board,
    kind: Literal["add_set", "trim_sets"],
    place: Place,
    muscle: str,
    sums: tuple[float, float],
    reasons: tuple[Reason, ...],
) -> Proposal:
    session, lift = place
    before, after = board.printed[place], board.sets[place]
    here = next(one for one in case.next_sessions if one.session == session)
    facts = _muscle_sets(muscle, *sums) | {
        "lift": lift,
        "session": session,
        "day": day_of(here, case.next_sessions),
        "before": before,
        "after": after,
        "was": board.was[place],
    }
    several = sum(other == lift for _, other in board.sets) > 1
    code = "propose_add_set" if kind == "add_set" else "propose_hold_set"
    return Proposal(
        id=proposal_id(case.next_number, kind, lift, session if several else None),
        kind=kind,
        week=case.next_number,
        session=session,
        lift=lift,
        muscle=muscle,
        before=To("sets", before),
        after=To("sets", after),
        says=Reason(code=code, facts=facts),
        claim=Reason(code="claim_recovered", facts=facts),
        reasons=reasons,
        confidence=sure(case.ceilings[muscle].p_recovered(sums[1], case.policy)),
        loses=_lost(board, {place: after}),
    )


def _taken(case: WeekCase, board: Board, choice: SetsChoice) -> Proposal:
    facts = _muscle_sets(choice.muscle, choice.sets_before, choice.sets_after)
    facts |= {"before": choice.direct_before, "after": choice.direct_after}
    code = "propose_cut_sets" if choice.wish == "cut" else "propose_hold_sets"
    return Proposal(
        id=proposal_id(case.next_number, "trim_sets", choice.muscle),
        kind="trim_sets",
        week=case.next_number,
        muscle=choice.muscle,
        before=To("sets", choice.direct_before),
        after=To("sets", choice.direct_after),
        says=Reason(code=code, facts=facts),
        claim=Reason(code="claim_recovered", facts=facts),
        reasons=choice.reasons,
        confidence=sure(_p_mended(case, choice)),
        loses=_lost(board, choice.moves),
    )


def _p_mended(case: WeekCase, choice: SetsChoice) -> float:
    """P(the muscle recovers from the sets that are left): what the week did to it is not gone at
    once, and as surely as it was too much the ceiling lies lower than believed so far."""
    muscle, policy = choice.muscle, case.policy
    found = case.evidence.muscles[muscle]
    had = 0.0 if found.p_recovered is None else 1 - found.p_recovered
    if (found.sore or 0.0) >= policy.number("review.sore.not_from"):
        had = max(had, policy.number("review.read.sore_overreach"))
    lower = case.ceilings[muscle].updated(found.sets_done, 1 - had, policy)
    stays_down = had * policy.number("review.read.after_cut")
    return lower.p_recovered(choice.sets_after, policy) * (1 - stays_down)


def _lost(board: Board, moves: Mapping[Place, int]) -> Mapping[str, float]:
    """What every muscle of the trimmed lifts loses, fractional sets of the week."""
    lost: dict[str, float] = {}
    for spot in board.spots:
        if spot.place in moves:
            fewer = spot.printed - moves[spot.place]
            for muscle, share in spot.lift.muscles.items():
                lost[muscle] = round(lost.get(muscle, 0.0) + fewer * share, 2)
    return {muscle: sets for muscle, sets in lost.items() if sets > 0}


def _muscle_sets(muscle: str, before: float, after: float) -> dict[str, FactValue]:
    return {
        "muscle": muscle.replace("_", " "),
        "week_sets_before": round(before, 2),
        "week_sets_after": round(after, 2),
    }
