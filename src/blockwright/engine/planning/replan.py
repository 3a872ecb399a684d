"""`replan`: life happens to one session; the smallest change that keeps most of the stimulus.

One weighted solve over what is left of the week: keep or shorten what is planned today, put a
like lift in a missing one's place, move dropped sets to later sessions of the same week. Every
change has a price, no muscle gets more than the week had planned, all rules of the week hold.
It starts from the naive answer (drop what does not fit) and is never worse than it.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.benefit import points_of
from blockwright.engine.planning.block import muscle_sets
from blockwright.engine.planning.problem import Item, Option, WeekPlan, week_plan
from blockwright.engine.planning.replan_model import Free, solved_week
from blockwright.engine.planning.replan_say import below_floor, replan_reasons
from blockwright.engine.planning.replan_week import (
    WeekAtHand,
    rebuilt_week,
    seconds_of,
    week_at_hand,
)
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution
from blockwright.engine.training import Block, Catalogue, MuscleSets, Week
from blockwright.engine.volume import CeilingBelief

_GROWS = 2
"""Sets a later entry may take over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What happened to one session. Exactly one of `minutes`, `missed`, `without`, `sore` and
    `hurts` is given."""

    week: int
    session: int
    minutes: int | None = None
    missed: bool = False
    without: tuple[str, ...] = ()
    """Canonical lift names."""
    sore: tuple[str, ...] = ()
    """Muscles."""
    hurts: tuple[str, ...] = ()
    """Canonical lift names: left out for the rest of the week, never carried."""
    stand_ins: tuple[str, ...] = ()
    """Lifts that may come in for those that hurt."""

    def takes(self, lift: str) -> bool:
        """Whether a lift of the session cannot be done today."""
        return self.missed or lift in self.without or lift in self.hurts


def replan(
    block: Block,
    trouble: Trouble,
    catalogue: Catalogue,
    policy: Policy,
    *,
    ceilings: Mapping[str, CeilingBelief] | None = None,
) -> Block:
    """A new revision of `block` with the trouble met; other weeks are as they were.

    Raises BadInput when the session has nothing to change (missed already, lift not there).
    """
    week = next(w for w in block.weeks if w.week == trouble.week)
    hand = week_at_hand(block, week, trouble.session, catalogue, policy, ceilings)
    _refuse_nonsense(hand, trouble)
    best = best_week(hand, trouble, policy)
    new_week = rebuilt_week(hand, best, trouble.minutes, missed=trouble.missed)
    counted = muscle_sets(new_week.sessions, block.lifter, catalogue, policy, ceilings)
    new_week = replace(new_week, muscle_sets=_as_believed(counted, week))
    return replace(
        block,
        revision=block.revision + 1,
        weeks=tuple(new_week if w.week == week.week else w for w in block.weeks),
        reasons=(
            *replan_reasons(hand, trouble_words(trouble), best),
            *below_floor(week, new_week, block.lifter),
            *block.reasons,
        ),
        cautions=_with_pain(block.cautions, trouble),
    )


def _as_believed(counted: Mapping[str, MuscleSets], before: Week) -> dict[str, MuscleSets]:
    """The counts with the floors and ceilings the week was planned with, where it names them."""
    return {
        muscle: sets
        if (was := before.muscle_sets.get(muscle)) is None
        else replace(sets, floor=was.floor, ceiling=was.ceiling)
        for muscle, sets in counted.items()
    }


def _with_pain(cautions: tuple[Caution, ...], trouble: Trouble) -> tuple[Caution, ...]:
    """What belongs beside a lift left out for pain, said once."""
    found = [Caution(code="left_for_pain", facts={"lift": name}) for name in trouble.hurts]
    return (*cautions, *(caution for caution in found if caution not in cautions))


def best_week(hand: WeekAtHand, trouble: Trouble, policy: Policy) -> WeekPlan:
    """The smallest good change: the solver's, or the naive one where that is worth as much."""
    naive = naive_week(hand, trouble)
    if hand.only_drops:
        return naive
    found = _solved(hand, trouble, naive, policy)
    if found is None or week_value(hand, found, policy) <= week_value(hand, naive, policy):
        return naive
    return found


def trouble_words(trouble: Trouble) -> tuple[str, dict[str, str | int]]:
    """A code and facts that say what happened."""
    if trouble.missed:
        return "replan_missed", {}
    if trouble.minutes is not None:
        return "replan_minutes", {"minutes": trouble.minutes}
    if trouble.without:
        return "replan_without", {"lifts": ", ".join(trouble.without)}
    if trouble.hurts:
        return "replan_hurts", {"lifts": ", ".join(trouble.hurts)}
    return "replan_sore", {"muscles": ", ".join(m.replace("_", " ") for m in trouble.sore)}


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
                column="--without" if trouble.without else "--hurts",
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


def _solved(hand: WeekAtHand, trouble: Trouble, naive: WeekPlan, policy: Policy) -> WeekPlan | None:
    """The best week within the rules, or None when none is found.

    Minutes short of pairs are met in a second round: pairs first, their minutes given back.
    """
    free = _free(hand, trouble)
    plan = solved_week(hand, free, naive, hand.budget_s(trouble.minutes), trouble.sore)
    if plan is None or trouble.minutes is None or not hand.block.lifter.allow.supersets:
        return plan
    more = hand.minutes_back(plan)
    if not more:
        return plan
    sets = {(i.slot, i.option): i.sets for i in plan}
    pairs = {pair: (sets[pair], sets[pair]) for pair in hand.paired_today(plan)}
    held = Free({**free.sets, **pairs}, free.fixed)
    budget_s = hand.budget_s(trouble.minutes, more_s=more)
    second = solved_week(hand, held, plan, budget_s, trouble.sore)
    if second is None:
        return plan
    today = [item for item in second if item.slot == hand.slot]
    return second if seconds_of(hand, today, repair=True) <= 60 * trouble.minutes else plan


def _free(hand: WeekAtHand, trouble: Trouble) -> Free:
    """What may change of the week, and between how many sets; and what stays as it is."""
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    free: dict[tuple[int, int], tuple[int, int]] = {}
    for item in hand.plan:
        pair = (item.slot, item.option)
        if item.slot == hand.slot:
            if not _gone(hand, item.option, trouble):
                # a machine that is taken is no reason to cut the lifts that are there
                kept = bool(trouble.without or trouble.hurts)
                free[pair] = (item.sets if kept else 0, item.sets)
        elif _hurts_later(hand, item, trouble):
            continue
        elif item.slot in hand.later and pair not in hand.paired:
            most = min(item.sets + _GROWS, hand.grown(item.option, item.sets))
            free[pair] = (item.sets, most)
    for slot in hand.later:
        for item in hand.in_order:
            name = hand.problem.options[item.option].lift.name
            fits = name not in trouble.hurts and hand.may_carry(item, slot, trouble.sore)
            if (slot, item.option) not in planned and fits:
                free.setdefault((slot, item.option), (0, item.sets))
    for option in _substitutes(hand, trouble):
        free.setdefault((hand.slot, option), (0, hand.grown(option, 0)))
    fixed = tuple(
        i
        for i in hand.plan
        if (i.slot, i.option) not in free
        and i.slot != hand.slot
        and not _hurts_later(hand, i, trouble)
    )
    return Free(free, fixed)


def _gone(hand: WeekAtHand, option: int, trouble: Trouble) -> bool:
    return trouble.takes(hand.problem.options[option].lift.name)


def _hurts_later(hand: WeekAtHand, item: Item, trouble: Trouble) -> bool:
    """Whether an item of a later session is a lift that hurts today."""
    return item.slot in hand.later and (
        hand.problem.options[item.option].lift.name in trouble.hurts
    )


def _substitutes(hand: WeekAtHand, trouble: Trouble) -> list[int]:
    """Lifts for the main muscle of a missing one, in its zone, that the week does not have; for
    one that hurts only those that may stand in for it."""
    options = hand.problem.options
    in_week = {options[i.option].lift.name for i in hand.plan}
    found: list[int] = []
    for item in hand.in_order:
        gone = options[item.option]
        if gone.lift.name in (*trouble.without, *trouble.hurts):
            found += [
                index
                for index, option in enumerate(options)
                if option.zone == gone.zone
                and option.lift.name not in in_week
                and _may_replace(option, gone, trouble)
            ]
    return found


def _may_replace(other: Option, gone: Option, trouble: Trouble) -> bool:
    if gone.lift.name in trouble.hurts:
        return other.lift.name in trouble.stand_ins and not gone.direct.isdisjoint(other.direct)
    return other.muscle == gone.muscle and other.is_main == gone.is_main


def week_value(hand: WeekAtHand, plan: WeekPlan, policy: Policy) -> float:
    """The week's points less the price of every change."""
    changed = policy.number("replan.price.changed")
    swapped = policy.number("replan.price.swapped")
    pinned = policy.number("replan.price.pinned")
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    now = {(i.slot, i.option): i.sets for i in plan}
    value = 0.0
    sums: dict[str, int] = {}
    for (_, option), sets in now.items():
        for muscle, quarters in hand.problem.options[option].quarters.items():
            sums[muscle] = sums.get(muscle, 0) + quarters * sets
    for muscle, quarters in sums.items():
        value += points_of(hand.points[muscle], quarters)
    for pair in sorted(planned.keys() | now.keys()):
        was, sets = planned.get(pair, 0), now.get(pair, 0)
        value -= changed * abs(sets - was)
        if sets and not was:
            value -= swapped
        if was and not sets and pair[0] == hand.slot and pair[1] in hand.pinned:
            value -= pinned
    return value
