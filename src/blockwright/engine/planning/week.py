"""Composing one week, the most demanding of the block: search, pairs, bound."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.planning.board import board_of
from blockwright.engine.planning.greedy import greedy_week
from blockwright.engine.planning.linear import Pair, relax_by_columns, solve
from blockwright.engine.planning.model import WeekModel, all_pairs, week_model
from blockwright.engine.planning.neighbourhood import (
    Budget,
    Tell,
    better,
    hint_values,
    rebuilt,
    repaired,
    resolved,
)
from blockwright.engine.planning.request import Item, Request, WeekPlan
from blockwright.engine.planning.supersets import Pairing, pairs_of, saved_by_slot
from blockwright.engine.policy import Policy

_SMALL_WEEK = 260
"""Up to so many (slot, option) pairs the whole week is given to the solver at once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ComposedWeek:
    """A week, its pairs, and how good it is proven to be."""

    plan: WeekPlan
    pairs: tuple[Pairing, ...]
    budget_s: tuple[int, ...]
    """Seconds for straight work in each slot, the minutes which pairs give back included."""
    points: int
    bound: int
    proven: bool
    broken: float
    """How far "at least" rules of the house had to give way; 0 nearly always. A slot left
    unused counts as 1."""
    unused: int
    """Slots left unused that the policy would use."""


def compose_week(
    request: Request,
    policy: Policy,
    budget: Budget,
    *,
    supersets: bool = False,
    bounded: bool = True,
    tell: Tell | None = None,
) -> ComposedWeek:
    """The best week found for `request` within `budget`, and a bound on any week.

    The bound is the optimum of the relaxation over every lift, for the same minutes; without
    `bounded` it is not asked for (the points stand in), which only a study wants.
    """
    plan, proven = _searched(request, budget, tell)
    budget_s = request.budget_s
    pairs: tuple[Pairing, ...] = ()
    if supersets:
        plan, pairs, budget_s = _with_pairs(request, plan, policy, budget, tell)
        proven = proven and budget_s == request.budget_s
    board = board_of(request, plan, budget_s)
    points, broken = board.points(), board.broken()
    if tell is not None:
        tell("week: bound")
    bound = (
        points if proven or not bounded else week_bound(request, plan, budget_s, priced=broken > 0)
    )
    return ComposedWeek(
        plan=plan,
        pairs=pairs,
        budget_s=budget_s,
        points=points,
        bound=max(bound, points),
        proven=proven or (bounded and bound <= points),
        broken=broken,
        unused=board.unused(),
    )


def week_bound(
    request: Request, plan: WeekPlan, budget_s: tuple[int, ...], *, priced: bool = False
) -> int:
    """No week has more points than this: the relaxation over the untrimmed catalogue.

    `plan` only starts the column generation; the bound does not depend on it. With `priced`
    the house's "at least" rules may give way at their price, as they did in the plan.
    """
    model = week_model(request, all_pairs(request), budget_s=budget_s, priced=priced)
    pairs = [
        Pair(
            used=model.used[pair],
            sets=model.sets[pair],
            least=request.numbers.sets_least,
            most=int(request.most_sets[pair[1]]),
        )
        for pair in sorted(model.used)
    ]
    relaxed = relax_by_columns(model.linear, pairs, _starting_columns(model, plan))
    if relaxed is None:
        raise RuntimeError("a week exists, so its relaxation does")
    # points are whole, so the bound may be rounded down
    return int(relaxed + 1e-6 * abs(relaxed) + 1e-6)


def _starting_columns(model: WeekModel, plan: WeekPlan) -> NDArray[np.bool_]:
    """The plan's pairs, those of pinned and liked lifts, and the best few for every muscle."""
    request = model.request
    active = np.ones(model.linear.size, dtype=bool)
    keep = {(item.slot, item.option) for item in plan}
    wanted = {option for pin in request.pins for option in pin.options}
    wanted |= {
        o for o in range(len(request.options)) if request.lift_points[request.lift_of[o]] > 0
    }
    board = board_of(request, ())
    points = board.gain(board.pair_slot, board.pair_option, request.numbers.sets_least, new=True)
    order = np.argsort(-points, kind="stable")
    seen: dict[tuple[int, int], int] = {}
    for index in order.tolist():
        pair = (int(board.pair_slot[index]), int(board.pair_option[index]))
        main = (pair[0], int(request.main_of[pair[1]]))
        seen[main] = seen.get(main, 0) + 1
        if seen[main] <= 4 or pair[1] in wanted:
            keep.add(pair)
    for pair in model.used:
        if pair not in keep:
            active[model.used[pair]] = active[model.sets[pair]] = False
    return active


def _searched(request: Request, budget: Budget, tell: Tell | None) -> tuple[WeekPlan, bool]:
    plan = greedy_week(request)
    plan = rebuilt(request, plan, budget.rebuilds)
    pairs = all_pairs(request)
    if len(pairs) <= _SMALL_WEEK and budget.whole_s:
        model = week_model(request, pairs)
        solved = solve(model.linear, deterministic_s=budget.whole_s, hint=hint_values(model, plan))
        if solved.values is not None:
            plan = better(request, plan, model.decode(solved.values))
            if solved.proven:
                return plan, True
    plan = repaired(request, plan, budget)
    plan = resolved(request, plan, budget, tell=tell)
    return repaired(request, plan, budget), False


def _with_pairs(
    request: Request, plan: WeekPlan, policy: Policy, budget: Budget, tell: Tell | None
) -> tuple[WeekPlan, tuple[Pairing, ...], tuple[int, ...]]:
    """Pairs lifts, gives the minutes back, improves the rest, and pairs again.

    Paired items stay as they are while the rest is improved, so the minutes they give back
    stay given; every round is a whole week that keeps all rules.
    """
    chosen: tuple[Pairing, ...] = ()
    budget_s = request.budget_s
    for round_number in range(2):
        if tell is not None:
            tell(f"week: pairs, round {round_number + 1} of 2")
        taken = {item for p in chosen for item in (p.first, p.second)}
        free = tuple(item for item in plan if item not in taken)
        more = pairs_of(request, free, policy, plan, budget_s)
        if not more:
            break
        chosen = (*chosen, *more)
        saved = saved_by_slot(chosen, len(request.slots))
        budget_s = tuple(b + s for b, s in zip(request.budget_s, saved, strict=True))
        frozen = frozenset(item for p in chosen for item in (p.first, p.second))
        plan = _improved(request, plan, budget, budget_s, frozen)
    return plan, tuple(sorted(chosen, key=_pair_key)), budget_s


def _improved(
    request: Request,
    plan: WeekPlan,
    budget: Budget,
    budget_s: tuple[int, ...],
    frozen: frozenset[Item],
) -> WeekPlan:
    less = Budget(rebuilds=budget.rebuilds // 3, solves=budget.solves // 3, solve_s=budget.solve_s)
    plan = rebuilt(request, plan, less.rebuilds, seed=5, budget_s=budget_s, frozen=frozen)
    return resolved(request, plan, less, seed=5, budget_s=budget_s, frozen=frozen)


def _pair_key(pairing: Pairing) -> tuple[int, int, int]:
    return (pairing.first.slot, pairing.first.option, pairing.second.option)
