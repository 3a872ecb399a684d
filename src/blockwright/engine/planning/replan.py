"""`replan`: life happens to one session; the smallest change that keeps most of the stimulus.

One weighted solve over what is left of the week: keep or shorten what is planned today, put a like
lift in a missing one's place, move dropped sets to later sessions of the same week. Every change
has a price, no muscle gets more than the week had planned, all rules of the week hold. It starts
from the naive answer (drop what does not fit) and is never worse than it."""

from collections.abc import Collection, Iterable
from dataclasses import replace

from blockwright.engine.errors import BadInput
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution, FactValue, Reason, because
from blockwright.engine.training import Block, Catalogue, Lifter, Week
from blockwright.engine.units import number_text, spoken
from .disruption import Disruption
from .patterns import ALONG
from .problem import Place, Plan, plan_of
from .rebuilt_week import rebuilt_week
from .replan_later import within_ramp
from .replan_model import Bounds, lost, solved_week
from .replan_week import WeekAtHand, in_slot, saved_s, week_at_hand
from .week_figures import counted


def replan(
    block: Block,
    trouble: Disruption,
    catalogue: Catalogue,
    policy: Policy,
    *,
    over: Collection[int] = (),
) -> Block:
    """A new revision of `block` with the trouble met; earlier weeks are as they were, later ones
    too, within the ramp.

    `over` are sessions of the week into which nothing is carried. Raises BadInput when the session
    has nothing to change (missed already, lift not there)."""
    week = next(w for w in block.weeks if w.week == trouble.week)
    hand = week_at_hand(block, week, trouble, catalogue, policy, over=over)
    _refuse_nonsense(hand)
    left = [place for place in hand.plan if place.slot in (hand.slot, *hand.later)]
    lifts = [hand.option(place).lift.name for place in left]
    best = best_week(hand)
    if trouble.minutes is not None and not in_slot(best, hand.slot):
        says = f"no lift of the session on {hand.session.day} fits into {trouble.minutes} minutes"
        raise BadInput.of(says, "say that the session is missed instead")
    new_week = counted(rebuilt_week(hand, best), catalogue)
    weeks = tuple(new_week if w.week == week.week else w for w in block.weeks)
    block, later = within_ramp(replace(block, weeks=weeks), week, catalogue, policy)
    return replace(
        block,
        revision=block.revision + 1,
        reasons=(
            *_changes(hand, best),
            *_where(hand, best),
            *_held(lifts, trouble),
            *_losses(week, new_week, block.lifter),
            *later,
            *block.reasons,
        ),
        cautions=_with_pain(block.cautions, filter(trouble.pains, lifts)),
    )


def best_week(hand: WeekAtHand) -> Plan:
    """The smallest good change: the solver's, or the naive one where that loses as little."""
    naive = naive_week(hand)
    if hand.week.kind == "deload":
        return naive
    found = _solved(hand, naive)
    return naive if found is None or lost(hand, found) >= lost(hand, naive) else found


def _refuse_nonsense(hand: WeekAtHand) -> None:
    session, trouble = hand.session, hand.trouble
    if session.missed or not session.entries:
        says = f"the session on {session.day} has nothing left to change"
        raise BadInput.of(says, "pick another session")
    here = [entry.lift for entry in session.entries]
    absent = [name for name in (*trouble.without, *trouble.hurts) if name not in here]
    if absent:
        column = "without" if trouble.without else "hurts"
        says = f"{', '.join(absent)} is not in the session on {session.day}"
        raise BadInput.of(says, f"it has {', '.join(here)}", column=column)


# ----------------------------------------------------------------------- the naive answer


def naive_week(hand: WeekAtHand) -> Plan:
    """Drops what cannot stay, from the end of the session, pinned lifts last; touches nothing
    else."""
    today = {place: hand.plan[place] for place in hand.today if not hand.is_gone(place)}
    for muscle in sorted(hand.trouble.sore):
        _spare_sore(hand, today, muscle)
    if hand.trouble.minutes is not None:
        while today and hand.seconds(today) > 60 * hand.trouble.minutes:
            loose = [place for place in today if place.option not in hand.pinned]
            del today[(loose or list(today))[-1]]
    rest = {p: n for p, n in hand.plan.items() if p.slot != hand.slot and not hand.is_gone(p)}
    return plan_of(rest | today)


def _spare_sore(hand: WeekAtHand, today: dict[Place, int], muscle: str) -> None:
    """Direct sets of a sore muscle cut to their share, whole lifts from the end first."""
    direct = [place for place in today if muscle in hand.option(place).direct]
    for place in reversed(direct):
        more = sum(today.get(one, 0) for one in direct) - hand.sore_most(muscle)
        if more <= 0:
            break
        today[place] -= more
        if today[place] < 2:
            del today[place]


# ----------------------------------------------------------------------------- the solve


def _solved(hand: WeekAtHand, naive: Plan) -> Plan | None:
    """The best week within the rules, or None when none is found.

    Minutes short of pairs are met in a second round: pairs first, their minutes given back."""
    bounds = _bounds(hand)
    plan = solved_week(hand, bounds, naive, hand.budget_s())
    if plan is None or hand.trouble.minutes is None:
        return plan
    pairs = hand.new_pairs(plan)
    more = saved_s(pairs, plan)
    if not more:
        return plan
    held = {place: (plan[place], plan[place]) for one, two, _ in pairs for place in (one, two)}
    second = solved_week(hand, {**bounds, **held}, plan, hand.budget_s(more_s=more))
    if second is None:
        return plan
    fits = hand.seconds(in_slot(second, hand.slot), anew=True) <= 60 * hand.trouble.minutes
    return second if fits else plan


def _bounds(hand: WeekAtHand) -> Bounds:
    """Between how many sets each place may have, those included that may come in."""
    trouble, bounds = hand.trouble, dict[Place, tuple[int, int]]()
    # a machine that is taken is no reason to cut the lifts that are there
    whole = bool(trouble.without or trouble.hurts)
    for place, sets in hand.plan.items():
        today, alone = place.slot == hand.slot, hand.entries[place].pair is None
        bounds[place] = (sets, sets)
        if hand.is_gone(place):
            bounds[place] = (0, 0)
        elif today and not whole:
            bounds[place] = (0, sets)
        elif (today or place.slot in hand.later) and alone and not hand.is_easy:
            # a small lift of a later day makes room for what the week would lack
            least = sets if today or hand.option(place).is_main else 0
            bounds[place] = (least, _most(hand, place))
    for slot in () if hand.is_easy else hand.later:
        for place in hand.today:
            there = Place(slot, place.option)
            fits = trouble.lets_grow(hand.option(place).lift, hand.catalogue)
            if fits and there not in hand.plan and hand.may_carry(place, slot):
                bounds[there] = (0, min(hand.plan[place], hand.grown(there, 0)))
    for option in hand.swaps:
        there = Place(hand.slot, option)
        bounds[there] = (0, hand.grown(there, 0))
    return bounds


def _most(hand: WeekAtHand, place: Place) -> int:
    """Sets an entry that stays may have: what loads a place that hurts gains none."""
    sets = hand.plan[place]
    if not hand.trouble.lets_grow(hand.option(place).lift, hand.catalogue):
        return sets
    return min(sets + hand.policy.whole("replan.sets_grow"), hand.grown(place, sets))


# -------------------------------------------------------------------------- what it changed


def _changes(hand: WeekAtHand, best: Plan) -> list[Reason]:
    """The trouble first, then every lift that changed, and what was let go."""
    code, said = hand.trouble.words
    day = hand.session.day.isoformat()
    reasons = [Reason(code=code, facts={"day": day, **said})]
    for place in sorted(hand.plan.keys() | best.keys()):
        was, now = hand.plan.get(place, 0), best.get(place, 0)
        if was == now:
            continue
        lift = hand.option(place).lift.name
        facts: dict[str, FactValue] = {
            "day": hand.problem.slots[place.slot].day,
            "from_day": day,
            "lift": lift,
            "before_sets": was,
            "after_sets": now,
            "sets": abs(now - was),
        }
        if place.slot == hand.slot:
            code = "replan_dropped" if now == 0 else "replan_shortened"
            code = "replan_swapped_in" if was == 0 else code
        else:
            less = "replan_dropped_later" if hand.trouble.pains(lift) else "replan_made_room"
            code = "replan_carried" if now > was else less
        reasons.append(Reason(code=code, facts=facts))
    if len(reasons) == 1:
        reasons.append(Reason(code="replan_nothing", facts={"day": day}))
    dropped = sum(hand.plan.values()) - sum(best.values())
    if dropped > 0:
        why = "replan_let_go_easy" if hand.is_easy else "replan_let_go"
        reasons.append(Reason(code=why, facts={"day": day, "sets": dropped}))
    return reasons


def _where(hand: WeekAtHand, best: Plan) -> list[Reason]:
    """That a stand-in may be found when the place is said, where none came in."""
    trouble, planned = hand.trouble, {place.option for place in hand.plan}
    if not trouble.hurts or trouble.region or any(p.option not in planned for p in best):
        return []
    return [Reason(code="replan_where", facts={"lifts": ", ".join(trouble.hurts)})]


def _held(lifts: Iterable[str], trouble: Disruption) -> list[Reason]:
    """Which lifts of what is left of the week gain nothing, by the log; or that there is none."""
    if not trouble.logged:
        return [Reason(code="replan_no_log")]
    held = [name for name in dict.fromkeys(lifts) if name in trouble.held - trouble.stopped]
    return [Reason(code="replan_held", facts={"lifts": ", ".join(held)})] if held else []


def _losses(before: Week, after: Week, lifter: Lifter) -> list[Reason]:
    """What muscles lose in this week, and which the change has put below the floor."""
    lost: list[str] = []
    fallen: list[str] = []
    floor = 0.0
    for muscle, sets in after.muscle_sets.items():
        was, now = before.muscle_sets[muscle].fractional, sets.fractional
        if lifter.emphasis_of(muscle) == "skip":
            continue
        name = spoken(muscle)
        if was - now >= 1 and muscle not in ALONG:
            lost.append(f"{name} {number_text(was)} to {number_text(now)}")
        if now < min(sets.floor, was):
            fallen.append(f"{name} ({number_text(now)})")
            floor = sets.floor
    reasons = []
    if lost:
        reasons.append(Reason(code="replan_loses", facts={"muscles": ", ".join(lost)}))
    if fallen and after.kind != "deload":
        names = ", ".join(fallen)
        told = because("replan_below_floor", week=after.week, muscles=names, floor_sets=floor)
        reasons.append(told)
    return reasons


def _with_pain(cautions: tuple[Caution, ...], lifts: Iterable[str]) -> tuple[Caution, ...]:
    """What belongs beside a lift left out for pain, said once."""
    found = (Caution(code="left_for_pain", facts={"lift": name}) for name in dict.fromkeys(lifts))
    return (*cautions, *(caution for caution in found if caution not in cautions))
