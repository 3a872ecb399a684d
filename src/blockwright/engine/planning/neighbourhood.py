"""Making a week better: tear a part out and rebuild it, first by gain, then by the solver.

Both keep the best week seen and never hand back a worse one. All limits are counts and
deterministic seconds, so the same request gives the same week on every run.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.planning.board import BROKEN_POINTS, Board, board_of
from blockwright.engine.planning.dice import Dice
from blockwright.engine.planning.greedy import build_up, place_pins
from blockwright.engine.planning.linear import solve
from blockwright.engine.planning.model import Pair, WeekModel, telling_pairs, week_model
from blockwright.engine.planning.request import Item, Request, WeekPlan


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """How much search a week is worth."""

    rebuilds: int
    """Ruin-and-recreate rounds."""
    solves: int
    """Rounds of the solver on a part of the week."""
    solve_s: float
    """Deterministic seconds of each."""
    whole_s: float = 0.0
    """Deterministic seconds for the whole week at once, worth it for small weeks."""
    ramp_s: float = 1.0
    """Deterministic seconds for the model over the weeks."""


QUICK = Budget(rebuilds=100, solves=10, solve_s=0.1, ramp_s=0.5)
USUAL = Budget(rebuilds=250, solves=45, solve_s=0.15, whole_s=1.0)
LONG = Budget(rebuilds=800, solves=200, solve_s=0.25, whole_s=4.0)

_REPAIR_S = 2.0
_BEST_OPTIONS = 6
"""By slot, main muscle and zone, in a round of ruin and recreate."""
_OFFERED = 80
"""New (slot, option) pairs offered to the solver in a round: few enough to be searched through."""
_FREED = 6
"""Lifts set free at a time where the part is no whole slot or muscle."""
_LUCK_POINTS = 60.0
"""By how much luck may better an offer, on average: so that rounds differ."""

Worth = NDArray[np.float64]
"""(S, O): what placing an option in a slot brings at the relaxation's prices."""

Tell = Callable[[str], None]
"""Called with a few words now and then; the command line shows them."""


def standing(board: Board) -> int:
    """Points with the price of broken "at least" rules: what the search compares."""
    return board.points() - round(BROKEN_POINTS * board.broken())


def better(
    request: Request, one: WeekPlan, two: WeekPlan, budget_s: tuple[int, ...] | None = None
) -> WeekPlan:
    """The better of two weeks, the first when they are equal."""
    first, second = board_of(request, one, budget_s), board_of(request, two, budget_s)
    return two if standing(second) > standing(first) else one


def rebuilt(
    request: Request,
    start: WeekPlan,
    rounds: int,
    *,
    seed: int = 1,
    budget_s: tuple[int, ...] | None = None,
    frozen: frozenset[Item] = frozenset(),
) -> WeekPlan:
    """`start` after `rounds` of ruin and recreate, or better. `frozen` items stay."""
    dice = Dice(seed)
    board = board_of(request, start, budget_s)
    board.frozen = frozenset((item.slot, item.option) for item in frozen)
    _keep_the_best(board)
    best, best_points = start, standing(board)
    current, points = best, best_points
    for round_number in range(rounds):
        board.clear()
        board.fill(current)
        _ruin(board, dice)
        place_pins(board)
        weigh_time = (0.0, 0.5, 1.0)[dice.below(3)]
        build_up(board, noise=0.15, per_second=weigh_time, dice=dice)
        reached = standing(board)
        # a little patience early lets the search leave a dead end
        patience = 0.002 * max(abs(best_points), 1000) * (1 - round_number / rounds)
        if reached > points - patience:
            current, points = board.plan(), reached
            if points > best_points:
                best, best_points = current, points
    return best


def _keep_the_best(board: Board) -> None:
    """Leaves the board the best options of every main muscle to build from: quick rounds. The
    solver's rounds are offered all."""
    request = board.request
    empty = board_of(request, ())
    least = request.numbers.sets_least
    gain = empty.gain(board.pair_slot, board.pair_option, least, new=True).astype(np.float64)
    seconds = least * request.per_set_s[board.pair_option] + request.fixed_s[board.pair_option]
    order = np.argsort(-gain / np.maximum(seconds, 30.0) ** 0.5, kind="stable")
    seen: dict[tuple[int, int, int], int] = {}
    kept = np.zeros(len(order), dtype=bool)
    for index in order.tolist():
        option = int(board.pair_option[index])
        place = (
            int(board.pair_slot[index]),
            int(request.main_of[option]),
            int(request.zone[option]),
        )
        seen[place] = seen.get(place, 0) + 1
        kept[index] = seen[place] <= _BEST_OPTIONS
    board.pair_slot, board.pair_option = board.pair_slot[kept], board.pair_option[kept]


def _ruin(board: Board, dice: Dice) -> None:
    """Takes out one to three lifts, a slot or two, what trains a muscle, or a share of all."""
    items = tuple(i for i in board.plan() if (i.slot, i.option) not in board.frozen)
    if not items:
        return
    kind = dice.below(8)
    chosen = items[dice.below(len(items))]
    main = int(board.request.main_of[chosen.option])
    other = dice.below(len(board.request.slots))
    part = 0.1 + 0.2 * float(dice.shares(1)[0])
    luck = dice.shares(len(items))
    few = set(np.argsort(luck, kind="stable")[: 1 + dice.below(3)].tolist())
    for index, item in enumerate(items):
        gone = (
            (kind == 0 and item.slot == chosen.slot)
            or (kind == 1 and item.slot in (chosen.slot, other))
            or (kind == 2 and board.request.share_q[item.option, main] > 0)
            or (kind == 3 and luck[index] < part)
            or (kind >= 4 and index in few)
        )
        if gone:
            board.take(item.slot, item.option)


def resolved(
    request: Request,
    start: WeekPlan,
    budget: Budget,
    worth: Worth | None,
    *,
    seed: int = 1,
    budget_s: tuple[int, ...] | None = None,
    frozen: frozenset[Item] = frozenset(),
    tell: Tell | None = None,
) -> WeekPlan:
    """`start` after rounds of the solver on parts of the week, or better. `frozen` stay.

    `worth` says which lifts a round is offered.
    """
    dice = Dice(seed + 77)
    best, best_points = start, standing(board_of(request, start, budget_s))
    held = {(item.slot, item.option) for item in frozen}
    for round_number in range(budget.solves if start else 0):
        free_slots, torn = _part(request, best, round_number, dice)
        loose = {(i.slot, i.option) for i in torn} - held
        kept = tuple(i for i in best if (i.slot, i.option) not in loose)
        pairs = _promising(request, kept, free_slots, dice, worth) | loose
        found = _solve_part(
            request, kept, pairs, budget.solve_s, seed=seed, hint=best, budget_s=budget_s
        )
        if found is not None:
            reached = standing(board_of(request, found, budget_s))
            if reached > best_points:
                best, best_points = found, reached
        if tell is not None and round_number % 15 == 14:
            tell(f"week: round {round_number + 1} of {budget.solves}")
    return best


def repaired(request: Request, start: WeekPlan, budget: Budget) -> WeekPlan:
    """`start` where every "at least" rule holds; else a week in which more of them do.

    The whole week is set free and offered what the rules are about.
    """
    start = without_short_sessions(request, start)
    if board_of(request, start).broken() <= 0:
        return start
    placed = {(item.slot, item.option) for item in start}
    offered = set(telling_pairs(request)) | _promising(request, start, (), Dice(3), None) | placed
    for priced in (False, True):
        model = week_model(request, sorted(offered), priced=priced)
        solved = solve(
            model.linear,
            deterministic_s=_REPAIR_S + 4 * budget.solve_s,
            hint=hint_values(model, start),
        )
        if solved.values is not None:
            return better(request, start, model.decode(solved.values))
    return start


def without_short_sessions(request: Request, start: WeekPlan) -> WeekPlan:
    """`start` with sessions of too few lifts filled up or left out, whichever is better."""
    plan = start
    pinned = {option for pin in request.pins for option in pin.options}
    for slot in range(len(request.slots)):
        here = [item for item in plan if item.slot == slot]
        if not 0 < len(here) < request.least_lifts[slot]:
            continue
        if any(item.option in pinned for item in here):
            continue
        board = board_of(request, tuple(item for item in plan if item.slot != slot))
        board.closed = frozenset({slot})
        build_up(board)
        plan = better(request, plan, board.plan())
    return plan


def _part(
    request: Request, plan: WeekPlan, round_number: int, dice: Dice
) -> tuple[frozenset[int], frozenset[Item]]:
    """Slots to set free and items to tear out, small enough to be searched through: some lifts,
    a slot, a muscle's lifts, lifts that train alike, or a few slots, in turn."""
    luck = dice.shares(len(plan))
    chosen = plan[dice.below(len(plan))]
    used = sorted({item.slot for item in plan})
    kind, turn = round_number % 5, round_number // 5
    if kind == 0:
        return frozenset(), _first(plan, luck)
    if kind == 1:
        return _freed(plan, {used[turn % len(used)]})
    if kind == 2:
        muscle = int(request.main_of[chosen.option])
        # half a set counts: what trains the muscle at all may have to make room
        trains = request.share_q[:, muscle] >= 2
        return frozenset(), frozenset(item for item in plan if trains[item.option])
    if kind == 3:
        shares = request.share_q[[item.option for item in plan]]
        alike = shares @ request.share_q[chosen.option]
        return frozenset(), _first(plan, -(alike + luck))
    # short sessions are many and small: more of them make a part of the same size
    count = 2 if len(used) <= 6 else 3
    step = 1 + turn // len(used)
    return _freed(plan, {used[(turn + step * number) % len(used)] for number in range(count)})


def _first(plan: WeekPlan, score: NDArray[np.float64]) -> frozenset[Item]:
    """The items with the least score."""
    return frozenset(plan[i] for i in np.argsort(score, kind="stable")[:_FREED].tolist())


def _freed(plan: WeekPlan, slots: set[int]) -> tuple[frozenset[int], frozenset[Item]]:
    return frozenset(slots), frozenset(item for item in plan if item.slot in slots)


def _promising(
    request: Request, kept: WeekPlan, free_slots: Collection[int], dice: Dice, worth: Worth | None
) -> set[Pair]:
    """New (slot, option) pairs worth offering in the slots set free (none: all): the best at the
    relaxation's prices, or by gain where it has not been asked."""
    board = board_of(request, kept)
    inside = np.ones(len(board.pair_slot), dtype=bool)
    if free_slots:
        inside = np.isin(board.pair_slot, sorted(free_slots))
    inside &= board.sets[board.pair_slot, board.pair_option] == 0
    slot, option = board.pair_slot[inside], board.pair_option[inside]
    if not len(slot):
        return set()
    luck = dice.shares(len(slot))
    if worth is None:
        least = request.numbers.sets_least
        gain = board.gain(slot, option, least, new=True).astype(np.float64)
        seconds = least * request.per_set_s[option] + request.fixed_s[option]
        score = gain / np.maximum(seconds, 30.0) ** 0.5
        score = score + 0.3 * np.abs(score) * luck
    else:
        score = worth[slot, option] - _LUCK_POINTS * np.log(np.maximum(luck, 1e-9))
    order = np.argsort(-score, kind="stable")[:_OFFERED]
    return {(int(slot[i]), int(option[i])) for i in order.tolist()}


def _solve_part(
    request: Request,
    kept: WeekPlan,
    free: Collection[Pair],
    deterministic_s: float,
    *,
    seed: int,
    hint: WeekPlan,
    budget_s: tuple[int, ...] | None,
) -> WeekPlan | None:
    model = week_model(request, sorted(free), fixed=kept, budget_s=budget_s)
    solved = solve(
        model.linear,
        deterministic_s=deterministic_s,
        seed=seed,
        hint=hint_values(model, hint),
    )
    return model.decode(solved.values) if solved.values is not None else None


def hint_values(model: WeekModel, plan: WeekPlan) -> dict[int, int]:
    """A starting point for the solver from a plan: every lift's place and sets."""
    sets = {(item.slot, item.option): item.sets for item in plan}
    hint: dict[int, int] = {}
    for pair, index in model.used.items():
        hint[index] = int(pair in sets)
        hint[model.sets[pair]] = sets.get(pair, 0)
    return hint
