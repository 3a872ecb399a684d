"""`replan`: life happens to one session; the smallest change that keeps most of the stimulus.

One weighted solve over what is left of the week: keep or shorten what is planned today, put a
like lift in a missing one's place, move dropped sets to later sessions of the same week. Every
change has a price, no muscle gets more than the week had planned, all rules of the week hold.
It starts from the naive answer (drop what does not fit) and is never worse than it.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.block import muscle_sets
from blockwright.engine.planning.board import board_of
from blockwright.engine.planning.linear import solve
from blockwright.engine.planning.model import WeekModel, week_model
from blockwright.engine.planning.neighbourhood import hint_values, standing
from blockwright.engine.planning.replan_say import below_floor, replan_reasons
from blockwright.engine.planning.replan_week import (
    WeekAtHand,
    rebuilt_week,
    seconds_of,
    week_at_hand,
)
from blockwright.engine.planning.request import Item, WeekPlan, main_muscle, week_plan
from blockwright.engine.policy import Policy
from blockwright.engine.reasons import Caution
from blockwright.engine.training import MUSCLES, Block, Catalogue, Lift, MuscleSets, Week
from blockwright.engine.volume import CeilingBelief

_SOLVE_S = 0.5
"""Deterministic seconds of the one solve."""
_SUBSTITUTES = 10
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
    for muscle in sorted(sore):
        at = MUSCLES.index(muscle)
        most = hand.sore_most(at)
        for item in reversed([i for i in today if hand.request.direct[i.option, at]]):
            total = sum(i.sets for i in today if hand.request.direct[i.option, at])
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
    model = _model(hand, trouble, policy, hand.budget_s(trouble.minutes))
    solved = solve(model.linear, deterministic_s=_SOLVE_S, hint=hint_values(model, naive))
    if solved.values is None:
        return None
    plan = model.decode(solved.values)
    if trouble.minutes is None or not hand.block.lifter.allow.supersets:
        return plan
    more = hand.minutes_back(plan)
    if not more:
        return plan
    model = _model(hand, trouble, policy, hand.budget_s(trouble.minutes, more_s=more))
    for pair in hand.paired_today(plan):
        model.linear.row([(model.sets[pair], 1)], low=_sets_of(plan, pair))
        model.linear.row([(model.sets[pair], 1)], high=_sets_of(plan, pair))
    solved = solve(model.linear, deterministic_s=_SOLVE_S, hint=hint_values(model, plan))
    if solved.values is None:
        return plan
    second = model.decode(solved.values)
    today = [item for item in second if item.slot == hand.slot]
    return second if seconds_of(hand, today, repair=True) <= 60 * trouble.minutes else plan


def _sets_of(plan: WeekPlan, pair: tuple[int, int]) -> int:
    return next(i.sets for i in plan if (i.slot, i.option) == pair)


def _model(
    hand: WeekAtHand, trouble: Trouble, policy: Policy, budget_s: tuple[int, ...]
) -> WeekModel:
    request = hand.request
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    free: dict[tuple[int, int], tuple[int, int]] = {}
    """(slot, option): least and most sets."""
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
            free[pair] = (item.sets, min(item.sets + _GROWS, hand.grown(item.option, item.sets)))
    for slot in hand.later:
        for item in hand.in_order:
            name = request.options[item.option].lift.name
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
    model = week_model(request, sorted(free), fixed=fixed, budget_s=budget_s)
    _price_changes(hand, model, free, planned, policy)
    _never_more(hand, model, trouble)
    return model


def _gone(hand: WeekAtHand, option: int, trouble: Trouble) -> bool:
    return trouble.takes(hand.request.options[option].lift.name)


def _hurts_later(hand: WeekAtHand, item: Item, trouble: Trouble) -> bool:
    """Whether an item of a later session is a lift that hurts today."""
    return item.slot in hand.later and (
        hand.request.options[item.option].lift.name in trouble.hurts
    )


def _substitutes(hand: WeekAtHand, trouble: Trouble) -> list[int]:
    """Lifts for the main muscle of a missing one, in its zone, that the week does not have; for
    one that hurts only those that may stand in for it."""
    request = hand.request
    in_week = {request.options[i.option].lift.name for i in hand.plan}
    found: list[int] = []
    for item in hand.in_order:
        gone = request.options[item.option]
        if gone.lift.name not in (*trouble.without, *trouble.hurts):
            continue
        like = [
            index
            for index, option in enumerate(request.options)
            if option.zone == gone.zone
            and option.lift.name not in in_week
            and request.allowed[hand.slot, index]
            and _may_replace(option.lift, gone.lift, trouble)
        ]
        familiar = [index for index in like if not request.unfamiliar[index]]
        like = familiar or like
        like.sort(key=lambda o: (int(request.unfamiliar[o]), abs(_unlike(hand, o, item.option)), o))
        found += like[:_SUBSTITUTES]
    return found


def _may_replace(other: Lift, gone: Lift, trouble: Trouble) -> bool:
    if gone.name in trouble.hurts:
        trained = set(gone.direct)
        return other.name in trouble.stand_ins and not trained.isdisjoint(other.direct)
    same = main_muscle(other) == main_muscle(gone)
    return same and other.compound == gone.compound


def _unlike(hand: WeekAtHand, one: int, two: int) -> int:
    difference = hand.request.share_q[one] - hand.request.share_q[two]
    return int(abs(difference).sum())


def _price_changes(
    hand: WeekAtHand,
    model: WeekModel,
    free: Mapping[tuple[int, int], tuple[int, int]],
    planned: Mapping[tuple[int, int], int],
    policy: Policy,
) -> None:
    """A price on every set that differs from the plan, and on every lift put in anew."""
    changed = round(policy.number("replan.price.changed"))
    swapped = round(policy.number("replan.price.swapped"))
    pinned = round(policy.number("replan.price.pinned"))
    linear = model.linear
    for pair, (least, most) in sorted(free.items()):
        sets, used = model.sets[pair], model.used[pair]
        linear.high[sets] = most
        if least:
            linear.low[sets] = least
            linear.low[used] = 1
        if pair in planned and pair[0] == hand.slot:
            # fewer sets than planned: each kept set earns the price back
            linear.points[sets] += changed
            if pair[1] in hand.pinned:
                linear.points[used] += pinned
        else:
            linear.points[sets] -= changed
            if pair not in planned:
                linear.points[used] -= swapped


def _never_more(hand: WeekAtHand, model: WeekModel, trouble: Trouble) -> None:
    """No muscle gets more than planned in the week; a sore one its share today."""
    request = hand.request
    board = board_of(request, hand.plan)
    for at in range(len(MUSCLES)):
        terms = [(index, 1) for (_, m), index in sorted(model.volume.items()) if m == at]
        if terms:
            model.linear.row(terms, high=int(board.volume[:, at].sum()))
    for muscle in trouble.sore:
        at = MUSCLES.index(muscle)
        direct = [
            (model.sets[pair], 1)
            for pair in sorted(model.sets)
            if pair[0] == hand.slot and request.direct[pair[1], at]
        ]
        if direct:
            model.linear.row(direct, high=hand.sore_most(at))


def week_value(hand: WeekAtHand, plan: WeekPlan, policy: Policy) -> float:
    """The week's points less the price of every change."""
    changed = policy.number("replan.price.changed")
    swapped = policy.number("replan.price.swapped")
    planned = {(i.slot, i.option): i.sets for i in hand.plan}
    now = {(i.slot, i.option): i.sets for i in plan}
    cost = 0.0
    for pair in sorted(planned.keys() | now.keys()):
        cost += changed * abs(planned.get(pair, 0) - now.get(pair, 0))
        if pair not in planned:
            cost += swapped
        if pair not in now and pair[0] == hand.slot and pair[1] in hand.pinned:
            cost += policy.number("replan.price.pinned")
    return standing(board_of(hand.request, plan)) - cost
