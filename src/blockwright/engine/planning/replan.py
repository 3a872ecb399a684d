"""`replan`: life happens to one session; the smallest change that keeps most of the stimulus.

One weighted solve over what is left of the week: keep or shorten what is planned today, put a
like lift in a missing one's place, move dropped sets to later sessions of the same week. Every
change has a price, no muscle gets more than the week had planned, all rules of the week hold.
It starts from the naive answer (drop what does not fit) and is never worse than it.
"""

from collections.abc import Collection, Iterable
from dataclasses import replace

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.problem import Item, WeekPlan, week_plan
from blockwright.engine.planning.replan_later import within_ramp
from blockwright.engine.planning.replan_model import Free, lost, solved_week
from blockwright.engine.planning.replan_say import losses, replan_reasons
from blockwright.engine.planning.replan_week import (
    WeekAtHand,
    rebuilt_week,
    seconds_of,
    week_at_hand,
)
from blockwright.engine.planning.stand_ins import stand_ins
from blockwright.engine.planning.trouble import Trouble
from blockwright.engine.planning.week_figures import counted
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution, Reason
from blockwright.engine.training import Block, Catalogue


def replan(
    block: Block,
    trouble: Trouble,
    catalogue: Catalogue,
    policy: Policy,
    *,
    over: Collection[int] = (),
) -> Block:
    """A new revision of `block` with the trouble met; earlier weeks are as they were, later ones
    too, within the ramp.

    `over` are sessions of the week into which nothing is carried. Raises BadInput when the session
    has nothing to change (missed already, lift not there).
    """
    week = next(w for w in block.weeks if w.week == trouble.week)
    hand = week_at_hand(block, week, trouble.session, catalogue, policy, over=over)
    _refuse_nonsense(hand, trouble)
    hand = replace(hand, missed=trouble.missed)
    left = [item for item in hand.plan if item.slot in (hand.slot, *hand.later)]
    lifts = [hand.problem.options[item.option].lift.name for item in left]
    best = best_week(hand, trouble)
    if trouble.minutes is not None and all(item.slot != hand.slot for item in best):
        says = f"no lift of the session on {hand.session.day} fits into {trouble.minutes} minutes"
        raise BadInput(Problem(says=says, mend="say that the session is missed instead"))
    made = rebuilt_week(hand, best, trouble.minutes, missed=trouble.missed)
    new_week = counted(made, catalogue)
    weeks = tuple(new_week if w.week == week.week else w for w in block.weeks)
    block, later = within_ramp(replace(block, weeks=weeks), week, catalogue, policy)
    return replace(
        block,
        revision=block.revision + 1,
        reasons=(
            *replan_reasons(hand, trouble, best),
            *_where(hand, trouble, best),
            *_held(lifts, trouble),
            *losses(week, new_week, block.lifter),
            *later,
            *block.reasons,
        ),
        cautions=_with_pain(block.cautions, filter(trouble.pains, lifts)),
    )


def _where(hand: WeekAtHand, trouble: Trouble, best: WeekPlan) -> list[Reason]:
    """That a stand-in may be found when the place is said, where none came in."""
    planned = {item.option for item in hand.plan}
    if not trouble.hurts or trouble.region or any(item.option not in planned for item in best):
        return []
    return [Reason(code="replan_where", facts={"lifts": ", ".join(trouble.hurts)})]


def _held(lifts: Iterable[str], trouble: Trouble) -> list[Reason]:
    """Which lifts of what is left of the week gain nothing, by the log; or that there is none."""
    if not trouble.logged:
        return [Reason(code="replan_no_log")]
    held = [name for name in dict.fromkeys(lifts) if name in trouble.held - trouble.stopped]
    return [Reason(code="replan_held", facts={"lifts": ", ".join(held)})] if held else []


def _with_pain(cautions: tuple[Caution, ...], lifts: Iterable[str]) -> tuple[Caution, ...]:
    """What belongs beside a lift left out for pain, said once."""
    found = (Caution(code="left_for_pain", facts={"lift": name}) for name in dict.fromkeys(lifts))
    return (*cautions, *(caution for caution in found if caution not in cautions))


def best_week(hand: WeekAtHand, trouble: Trouble) -> WeekPlan:
    """The smallest good change: the solver's, or the naive one where that loses as little."""
    naive = naive_week(hand, trouble)
    if hand.week.kind == "deload":
        return naive
    free = _free(hand, trouble)
    found = _solved(hand, trouble, free, naive)
    if found is None or lost(hand, found, free.swaps) >= lost(hand, naive, free.swaps):
        return naive
    return found


def _refuse_nonsense(hand: WeekAtHand, trouble: Trouble) -> None:
    session = hand.session
    if session.missed or not session.entries:
        raise BadInput(
            Problem(
                says=f"the session on {session.day} has nothing left to change",
                mend="pick another session",
            )
        )
    here = {entry.lift for entry in session.entries}
    absent = [name for name in (*trouble.without, *trouble.hurts) if name not in here]
    if absent:
        raise BadInput(
            Problem(
                column="without" if trouble.without else "hurts",
                says=f"{', '.join(absent)} is not in the session on {session.day}",
                mend="it has " + ", ".join(entry.lift for entry in session.entries),
            )
        )


# ----------------------------------------------------------------------- the naive answer


def naive_week(hand: WeekAtHand, trouble: Trouble) -> WeekPlan:
    """Drops what cannot stay, from the end of the session, pinned lifts last; touches nothing
    else."""
    today = [item for item in hand.in_order if not _gone(hand, item.option, trouble)]
    today = _less_sore(hand, today, trouble.sore)
    if trouble.minutes is not None:
        while today and seconds_of(hand, today) > 60 * trouble.minutes:
            loose = [item for item in today if item.option not in hand.pinned]
            today.remove((loose or today)[-1])
    rest = [i for i in hand.plan if i.slot != hand.slot and not _hurts_later(hand, i, trouble)]
    return week_plan({(i.slot, i.option): i.sets for i in [*rest, *today]})


def _less_sore(hand: WeekAtHand, today: list[Item], sore: Collection[str]) -> list[Item]:
    """Direct sets of sore muscles cut to their share, whole lifts from the end first."""
    options = hand.problem.options
    for muscle in sorted(sore):
        most = hand.sore_most(muscle)
        for item in reversed([i for i in today if muscle in options[i.option].direct]):
            total = sum(i.sets for i in today if muscle in options[i.option].direct)
            if total <= most:
                break
            left = item.sets - (total - most)
            place = today.index(item)
            today[place : place + 1] = [replace(item, sets=left)] if left >= 2 else []
    return today


# ----------------------------------------------------------------------------- the solve


def _solved(hand: WeekAtHand, trouble: Trouble, free: Free, naive: WeekPlan) -> WeekPlan | None:
    """The best week within the rules, or None when none is found.

    Minutes short of pairs are met in a second round: pairs first, their minutes given back.
    """
    plan = solved_week(hand, free, naive, hand.budget_s(trouble.minutes), trouble.sore)
    if plan is None or trouble.minutes is None or not hand.block.lifter.allow.supersets:
        return plan
    more = hand.minutes_back(plan)
    if not more:
        return plan
    sets = {(i.slot, i.option): i.sets for i in plan}
    pairs = {pair: (sets[pair], sets[pair]) for pair in hand.paired_today(plan)}
    held = replace(free, sets={**free.sets, **pairs})
    budget_s = hand.budget_s(trouble.minutes, more_s=more)
    second = solved_week(hand, held, plan, budget_s, trouble.sore)
    if second is None:
        return plan
    today = [item for item in second if item.slot == hand.slot]
    return second if seconds_of(hand, today, repair=True) <= 60 * trouble.minutes else plan


def _free(hand: WeekAtHand, trouble: Trouble) -> Free:
    """What may change of the week, and between how many sets; and what stays as it is."""
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    # a machine that is taken is no reason to cut the lifts that are there
    whole = bool(trouble.without or trouble.hurts)
    free: dict[tuple[int, int], tuple[int, int]] = {}
    fixed: list[Item] = []
    for item in hand.plan:
        today, pair = item.slot == hand.slot, (item.slot, item.option)
        if _gone(hand, item.option, trouble) if today else _hurts_later(hand, item, trouble):
            continue
        small = not hand.problem.options[item.option].is_main
        if today and not whole:
            free[pair] = (0, item.sets)
        elif (today or item.slot in hand.later) and pair not in hand.paired and not hand.is_easy:
            # a small lift of a later day makes room for what the week would lack
            least = 0 if small and not today else item.sets
            free[pair] = (least, _most(hand, item, trouble))
        else:
            fixed.append(item)
    for slot in () if hand.is_easy else hand.later:
        for item in hand.in_order:
            lift = hand.problem.options[item.option].lift
            fits = trouble.lets_grow(lift, hand.catalogue)
            if fits and hand.may_carry(item, slot, trouble.sore, missed=trouble.missed):
                most = min(item.sets, hand.grown(slot, item.option, 0))
                if (slot, item.option) not in planned:
                    free.setdefault((slot, item.option), (0, most))
    swaps = stand_ins(hand, trouble)
    for option in swaps:
        free.setdefault((hand.slot, option), (0, hand.grown(hand.slot, option, 0)))
    gone = sum(_gone(hand, item.option, trouble) for item in hand.in_order)
    return Free(free, tuple(fixed), swaps, gone)


def _most(hand: WeekAtHand, item: Item, trouble: Trouble) -> int:
    """Sets an entry that stays may have: what loads a place that hurts gains none."""
    if not trouble.lets_grow(hand.problem.options[item.option].lift, hand.catalogue):
        return item.sets
    most = item.sets + hand.policy.whole("replan.sets_grow")
    return min(most, hand.grown(item.slot, item.option, item.sets))


def _gone(hand: WeekAtHand, option: int, trouble: Trouble) -> bool:
    return trouble.takes(hand.problem.options[option].lift.name)


def _hurts_later(hand: WeekAtHand, item: Item, trouble: Trouble) -> bool:
    """Whether an item of a later session is a lift that hurts today."""
    return item.slot in hand.later and trouble.pains(hand.problem.options[item.option].lift.name)
