"""Next week's sets against the print: which muscles are cut, held, left as printed, or given one.

The printed climb stands. A muscle that has not recovered gets `review.sets.cut_to` of its sets; one
that waits (very sore, near a lift that hurts, awaiting clearance) keeps last week's. One set beyond
the print goes where it matters: lead muscles first, at most `review.sets.most_muscles` muscles a
week, and only where the expected gain beats the cost of a week above the ceiling."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from blockwright.engine.reasons import FactValue, Reason, because
from blockwright.engine.training import MUSCLES, Lift
from blockwright.engine.volume import floor_sets, gain
from .block_weeks import FULL, BlockWeeks, trim, with_sets
from .draft_sets import Board, Place, Spot
from .evidence import LiftEvidence, MuscleEvidence
from .exposures import day_of
from .proposals import percent
from .training_facts import shortfalls
from .week_constraints import newly_broken, overfull

SMALL = ("calves", "adductors", "forearms", "abs", "spinal_erectors")
"""Muscles of which no letter asks unless they lead, nor gain anything (judgement)."""

Wish = Literal["cut", "hold", "print", "add"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetsChoice:
    """One muscle's decision against the print."""

    muscle: str
    wish: Wish
    moves: Mapping[Place, int]  # Entries that leave the print, with their new sets
    direct_before: int
    direct_after: int
    sets_before: float  # Fractional sets of the next week as printed
    sets_after: float
    reasons: tuple[Reason, ...]


def chosen_sets(board: Board) -> tuple[SetsChoice, ...]:
    """A decision for every muscle with direct sets next week: cuts first, then holds, then sets
    beyond the print by emphasis and by what one is worth."""
    muscles = [
        muscle
        for muscle in MUSCLES
        if muscle in board.case.evidence.muscles
        and board.case.lifter.emphasis_of(muscle) != "skip"
        and board.direct(muscle) > 0
    ]
    asked = {muscle: _gate(board, board.case.evidence.muscles[muscle]) for muscle in muscles}
    made = [
        _taken(board, muscle, wish, reason)
        for wanted in ("cut", "hold")
        for muscle, (wish, reason) in asked.items()
        if wish == wanted
    ]
    left = board.case.policy.whole("review.sets.most_muscles")
    leads = {m for m in muscles if board.case.lifter.emphasis_of(m) == "lead"}
    for muscle in sorted(muscles, key=lambda m: (m not in leads, -_worth(board, m))):
        wish, reason = asked[muscle]
        if wish in ("cut", "hold"):
            continue
        if wish == "add" and left == 0:
            wish, reason = "print", _others_first(board)
        if wish == "add":
            made.append(_added(board, muscle, reason, left))
        else:
            made.append(_choice(board, muscle, "print", board.sets, reason))
        left -= len(made[-1].moves)  # what gains a set with its partner counts, too
    return tuple(made)


def _others_first(board: Board) -> Reason:
    return because("others_first", most=board.case.policy.whole("review.sets.most_muscles"))


def _worth(board: Board, muscle: str) -> float:
    """What one set beyond the print is worth (SMD): expected gain by emphasis, less the cost of
    the higher probability that the week lies above the ceiling."""
    policy, ceiling = board.case.policy, board.case.ceilings[muscle]
    now = board.fractional(muscle)
    weight = policy.number(f"review.sets.gain_weight.{board.case.lifter.emphasis_of(muscle)}")
    risk = ceiling.p_overshoots(now + 1) - ceiling.p_overshoots(now)
    cost = policy.number("review.sets.overshoot_cost")
    return weight * gain(now, now + 1, policy).mean - risk * cost


def _gate(board: Board, found: MuscleEvidence) -> tuple[Wish, Reason]:
    """What the evidence lets through, and its strongest reason."""
    policy = board.case.policy
    facts = muscle_facts(found)
    if found.muscle in board.case.overreached:
        shown = shortfalls(board.case, found.muscle).removeprefix(": ")
        facts |= {"too_much": shown or "its lifts down together"}
        return "cut", because("muscle_not_recovered", "review.read.act_from", **facts)
    if board.no_gain is not None:
        return "hold", board.no_gain
    if found.muscle in board.case.hurting:
        return "hold", because("muscle_near_pain", "safety.pain_stop_above", **facts)
    if found.sore is not None and found.sore >= policy.number("review.sore.not_from"):
        return "hold", because("muscle_still_sore", "review.sore.not_from", **facts)
    return _more(board, found, facts)


def _more(board: Board, found: MuscleEvidence, facts: dict[str, FactValue]) -> tuple[Wish, Reason]:
    """Whether a set beyond the print may be asked for."""
    policy, p = board.case.policy, found.p_recovered
    if board.case.lifter.emphasis_of(found.muscle) == "hold":
        return "print", because("muscle_on_hold", **facts)
    for lift in board.case.catalogue.known(board.case.evidence.lifts):
        at = board.case.evidence.lifts[lift.name]
        if found.muscle in lift.direct and (at.watch_sounded or any(e.failed for e in at.done)):
            slow = "is down over the last sessions" if at.watch_sounded else "had a short set"
            how = "is down" if at.fell else slow
            return "print", because("other_lift_down", **facts | {"lift": lift.name, "how": how})
    if board.nothing_beyond is not None:
        return "print", board.nothing_beyond
    if p is None:
        return "print", because("muscle_unknown", **facts)
    if found.sets_done < policy.number("review.sets.done_share") * found.sets_planned:
        if found.sets_logged >= found.sets_planned - 1e-9:
            return "print", because("sets_too_easy", "volume.hard_within_rir", **facts)
        return "print", because("sets_left_undone", "review.sets.done_share", **facts)
    doubted = found.sore is not None and found.sore > policy.number("review.sore.none_to")
    if doubted or p < policy.number("review.sets.up_from"):
        return "print", because("muscle_in_doubt", "review.sets.up_from", **facts)
    key = "review.sets.short_of_energy_up_from"
    if board.case.evidence.lifter.short_of_energy and p < policy.number(key):
        cutting = board.case.lifter.energy == "deficit"
        energy = {"energy": "cutting" if cutting else "losing weight"}
        return "print", because("short_of_energy", key, **facts, **energy)
    climb = board.fractional(found.muscle) - board.fractional(found.muscle, board.was)
    if climb + 1 > policy.number("ramp.sets_per_week") + 1e-9:
        return "print", because("ramp_full", "ramp.sets_per_week", **facts)
    if _worth(board, found.muscle) <= 0:
        return "print", _ceiling_reason(board, found.muscle)
    return "add", because("muscle_recovered", "review.sets.up_from", **facts)


def _taken(board: Board, muscle: str, wish: Wish, reason: Reason) -> SetsChoice:
    """Sets taken off the print: to a share of it for a cut, to last week's for a hold; a muscle is
    not cut below the floor."""
    policy = board.case.policy
    last = board.case.evidence.muscles[muscle].sets_planned + 1e-9
    spots = [spot for spot in board.spots if muscle in spot.lift.direct]
    printed, before, sets = board.direct(muscle), dict(board.sets), board.fractional(muscle)
    if wish == "cut":
        wanted = round(policy.number("review.sets.cut_to") * printed)
        spare = int(max(sets - floor_sets(policy), 0.0) + 1e-9)
        target = min(printed, max(wanted, printed - spare))
    elif muscle in board.case.hurting and sets <= last:
        target = printed  # the lift that is out took enough
    else:
        target = sum(min(spot.was, board.sets[spot.place]) for spot in spots)
    board.sets |= trim({spot.place: (board.sets[spot.place], spot.was) for spot in spots}, target)
    return _choice(board, muscle, wish, before, reason)


def _waits_for_others(board: Board, lift: Lift) -> bool:
    """Whether a lift, none of whose muscles leads, gains no set beyond the print: where others
    lead, and else one of one joint or of small muscles."""
    if any(board.case.lifter.emphasis_of(muscle) == "lead" for muscle in lift.direct):
        return False
    others = "lead" in board.case.lifter.emphasis.values()
    return others or not lift.compound or set(lift.direct) <= set(SMALL)


def _added(board: Board, muscle: str, reason: Reason, left: int) -> SetsChoice:
    """One set beyond the print where it disturbs least, of `left` in the week; as printed, with
    why, where none fits."""
    before = dict(board.sets)
    blocked = put_set(board, muscle, left)
    if blocked is not None:
        return _choice(board, muscle, "print", before, blocked)
    return _choice(board, muscle, "add", before, reason, _ceiling_reason(board, muscle))


def _choice(
    board: Board, muscle: str, wish: Wish, before: Mapping[Place, int], *reasons: Reason
) -> SetsChoice:
    """What was decided on a board that was as in `before`."""
    return SetsChoice(
        muscle=muscle,
        wish=wish,
        moves={place: sets for place, sets in board.sets.items() if sets != before[place]},
        direct_before=board.direct(muscle, before),
        direct_after=board.direct(muscle),
        sets_before=board.fractional(muscle, before),
        sets_after=board.fractional(muscle),
        reasons=reasons,
    )


def muscle_facts(found: MuscleEvidence) -> dict[str, FactValue]:
    """A muscle's week as facts, with words for what may be missing."""
    p = found.p_recovered
    return {
        "muscle": found.muscle.replace("_", " "),
        "sets_done": round(found.sets_done, 2),
        "sets_logged": round(found.sets_logged, 2),
        "sets_planned": round(found.sets_planned, 2),
        "p_recovered": None if p is None else round(p, 3),
        "p_recovered_said": "unknown" if p is None else percent(p),
        "sore": found.sore,
        "sore_words": "no answer about soreness"
        if found.sore is None
        else f"soreness {found.sore:g} of 10 at the next session",
        "sore_said": _sore_words(found),
    }


def _sore_words(found: MuscleEvidence) -> str:
    """ ", not sore"; "" where nobody said."""
    if found.sore is None:
        return ""
    return f", {'not' if found.sore < 1 else f'{found.sore:g} of 10'} sore"


def _ceiling_reason(board: Board, muscle: str) -> Reason:
    ceiling, sets = board.case.ceilings[muscle], board.fractional(muscle)
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


# ------------------------------------------------------------- which lift gains the set


def put_set(board: Board, muscle: str, left: int) -> Reason | None:
    """Adds one set of a muscle on the board, and at most `left` with its partner. Returns None when
    it was done, else the reason why nothing fits; the board is then as before."""
    lead = board.case.lifter.emphasis_of(muscle) == "lead"
    spots = [s for s in board.spots if muscle in s.lift.direct and s.usable]
    small = [s for s in spots if _waits_for_others(board, s.lift)]
    spots = sorted((s for s in spots if s not in small), key=lambda s: _disturbance(board, s))
    moved = [s for s in spots if s.lift.name in board.moved_lifts]
    free = [s for s in spots if s not in moved]
    first_against: Reason | None = None
    for spot in [*free, *moved] if lead else free:
        against = _add_together(board, spot, left)
        if against is None:
            return None
        first_against = first_against or against
    if first_against is None and moved:
        return because("lift_has_changed", lift=moved[0].lift.name)
    if first_against is None and small:
        return _others_first(board)
    return first_against or because("no_straight_sets", muscle=muscle.replace("_", " "))


def _add_together(board: Board, spot: Spot, left: int) -> Reason | None:
    """One set more for the spot and its partner; the first limit it would break, or None."""
    before, together = dict(board.sets), board.together(spot)
    if len(together) > left or any(_waits_for_others(board, each.lift) for each in together):
        return _others_first(board)
    for each in together:
        if each.place != spot.place and each.lift.name in board.moved_lifts:
            return because("lift_has_changed", lift=each.lift.name)
    for each in together:
        against = _against(board, each)
        if against is not None:
            board.sets = before
            return against
        board.sets[each.place] += 1
    return None


def _disturbance(board: Board, spot: Spot) -> tuple[bool, bool, float, int, int, int]:
    """Where the print adds nothing first, then lifts on their own, then what matched best and
    has the fewest sets."""
    now = board.sets[spot.place]
    return (
        spot.printed > spot.was,
        spot.entry.pair is not None,
        -round(_matched(board.case.evidence.lifts.get(spot.lift.name)), 2),
        now,
        spot.session.session,
        spot.entry.order,
    )


def _matched(found: LiftEvidence | None) -> float:
    return 0.5 if found is None or found.matched is None else found.matched


def _against(board: Board, spot: Spot) -> Reason | None:
    """The first limit one more set would break, or None."""
    policy = board.case.policy
    facts: dict[str, FactValue] = {
        "lift": spot.lift.name,
        "session": spot.session.session,
        "day": day_of(spot.session, (other.session for other in board.spots)),
    }
    taken_from = board.sets[spot.place] < spot.printed
    if taken_from or not spot.usable or spot.lift.name in board.frozen_lifts:
        return because("lift_held_back", **facts)
    if board.sets[spot.place] + 1 - spot.was > policy.whole("review.sets.most_change_a_lift"):
        return because("lift_has_changed", "review.sets.most_change_a_lift", **facts)
    if board.sets[spot.place] + 1 > policy.whole("planning.sets_most"):
        return because("lift_full", "planning.sets_most", **facts)
    against = _muscle_against(board, spot, facts) or _week_against(board, spot, facts)
    return against or _taken_off_later(board, spot, facts)


def _taken_off_later(board: Board, spot: Spot, facts: dict[str, FactValue]) -> Reason | None:
    """That a later build week has no room for the set and would take it off again."""
    case, wanted = board.case, board.sets[spot.place] + 1
    weeks = BlockWeeks(case.block, case.catalogue, case.policy)
    for week, session, entry in weeks.entries(
        board.upcoming.week + 1, spot.session.session, spot.lift.name
    ):
        made = with_sets(entry, wanted)
        against = weeks.obstacle(week, session.session, made) if len(entry.sets) < wanted else None
        if against is not None and against.code in FULL:
            return because("no_room_later", **facts | {"week": week})
    return None


def _week_against(board: Board, spot: Spot, facts: dict[str, FactValue]) -> Reason | None:
    """What the session or the week would have too much of."""
    catalogue, policy = board.case.catalogue, board.case.policy
    before = board.week()
    board.sets[spot.place] += 1
    after = board.week()
    board.sets[spot.place] -= 1
    here = next(s for s in after.sessions if s.session == spot.session.session)
    against = overfull(here, catalogue, policy) or newly_broken(
        before, after, board.case.lifter, catalogue, policy
    )
    if against is None:
        return None
    own = facts if against.facts.get("session") == facts["session"] else {}
    return replace(against, facts={**facts, **against.facts, **own})


def _muscle_against(board: Board, spot: Spot, facts: dict[str, FactValue]) -> Reason | None:
    policy = board.case.policy
    for muscle, share in spot.lift.muscles.items():
        if share <= 0:
            continue
        named = facts | {"muscle": muscle.replace("_", " ")}
        was = board.fractional(muscle, board.was)
        climb = board.fractional(muscle) + share - was
        if climb > policy.number("ramp.sets_per_week") + 1e-9:
            return because("ramp_full", "ramp.sets_per_week", **named)
        ceiling = board.upcoming.muscle_sets[muscle].ceiling
        if board.fractional(muscle) + share > max(ceiling, was) + 1e-9:
            return because("at_the_ceiling", **named, most=round(ceiling, 1))
        if share >= 1 and _stays_down(board, muscle):
            return because("other_muscle_not_recovered", **named)
    return None


def _stays_down(board: Board, muscle: str) -> bool:
    """Whether a muscle may not gain direct sets as a by-product."""
    if board.case.lifter.emphasis_of(muscle) in ("hold", "skip"):
        return True
    found = board.case.evidence.muscles.get(muscle)
    if found is None or found.p_recovered is None:
        return found is not None
    return found.p_recovered < board.case.policy.number("review.sets.up_from")
