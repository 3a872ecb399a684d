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
    Worth,
    better,
    hint_values,
    rebuilt,
    repaired,
    resolved,
)
from blockwright.engine.planning.request import Item, Request, WeekPlan
from blockwright.engine.planning.supersets import Pairing, pairs_of, saved_by_slot
from blockwright.engine.policy import Policy

_NEARLY_POINTS = 50.0
"""So close to paying, a pair is worth starting the next relaxation with."""
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
    plan, worth, proven = _searched(request, budget, tell)
    budget_s = request.budget_s
    pairs: tuple[Pairing, ...] = ()
    if supersets:
        plan, pairs, budget_s = _with_pairs(request, plan, worth, policy, budget, tell)
        proven = proven and budget_s == request.budget_s
    board = board_of(request, plan, budget_s)
    points, broken = board.points(), board.broken()
    if tell is not None:
        tell("week: bound")
    bound = (
        points
        if proven or not bounded
        else week_relaxed(request, plan, budget_s, worth, priced=broken > 0)[0]
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
    return week_relaxed(request, plan, budget_s, None, priced=priced)[0]


def week_relaxed(
    request: Request,
    plan: WeekPlan,
    budget_s: tuple[int, ...],
    worth: Worth | None,
    *,
    priced: bool = False,
) -> tuple[int, Worth]:
    """The bound, and what each (slot, option) is worth at the relaxation's prices.

    `worth` of a like week, where there is one, makes it quicker; it changes no answer.
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
    relaxed = relax_by_columns(model.linear, pairs, _starting_columns(model, plan, worth))
    if relaxed is None:
        raise RuntimeError("a week exists, so its relaxation does")
    # points are whole, so the bound may be rounded down
    bound = int(relaxed.objective + 1e-6 * abs(relaxed.objective) + 1e-6)
    found = np.full(request.allowed.shape, -np.inf)
    for pair, value in zip(sorted(model.used), relaxed.worth.tolist(), strict=True):
        found[pair] = value
    return bound, found


def _starting_columns(model: WeekModel, plan: WeekPlan, worth: Worth | None) -> NDArray[np.bool_]:
    """The plan's pairs, those of pinned and liked lifts, and the best few for every muscle, or
    those that were worth a place in a like week."""
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
        good = seen[main] <= 4 if worth is None else worth[pair] > -_NEARLY_POINTS
        if good or pair[1] in wanted:
            keep.add(pair)
    for pair in model.used:
        if pair not in keep:
            active[model.used[pair]] = active[model.sets[pair]] = False
    return active


def _searched(
    request: Request, budget: Budget, tell: Tell | None
) -> tuple[WeekPlan, Worth | None, bool]:
    """The week before pairs, what pairs are worth (None when not asked), and whether it is
    proven the best."""
    plan = greedy_week(request)
    plan = rebuilt(request, plan, budget.rebuilds)
    pairs = all_pairs(request)
    if len(pairs) <= _SMALL_WEEK and budget.whole_s:
        model = week_model(request, pairs)
        solved = solve(model.linear, deterministic_s=budget.whole_s, hint=hint_values(model, plan))
        if solved.values is not None:
            plan = better(request, plan, model.decode(solved.values))
            if solved.proven:
                return plan, None, True
    plan = repaired(request, plan, budget)
    _, worth = week_relaxed(request, plan, request.budget_s, None, priced=True)
    plan = resolved(request, plan, budget, worth, tell=tell)
    return repaired(request, plan, budget), worth, False


def _with_pairs(
    request: Request,
    plan: WeekPlan,
    worth: Worth | None,
    policy: Policy,
    budget: Budget,
    tell: Tell | None,
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
        plan = _improved(request, plan, worth, budget, budget_s, frozen)
    return plan, tuple(sorted(chosen, key=_pair_key)), budget_s


def _improved(
    request: Request,
    plan: WeekPlan,
    worth: Worth | None,
    budget: Budget,
    budget_s: tuple[int, ...],
    frozen: frozenset[Item],
) -> WeekPlan:
    less = Budget(rebuilds=budget.rebuilds // 3, solves=budget.solves // 3, solve_s=budget.solve_s)
    plan = rebuilt(request, plan, less.rebuilds, seed=5, budget_s=budget_s, frozen=frozen)
    return resolved(request, plan, less, worth, seed=5, budget_s=budget_s, frozen=frozen)


def _pair_key(pairing: Pairing) -> tuple[int, int, int]:
    return (pairing.first.slot, pairing.first.option, pairing.second.option)
