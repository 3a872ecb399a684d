"""Composing one week, the most demanding of the block: search, pairs, bound."""

from dataclasses import dataclass

from blockwright.engine.planning.board import board_of
from blockwright.engine.planning.greedy import greedy_week
from blockwright.engine.planning.linear import Relaxed, relax, solve
from blockwright.engine.planning.model import all_pairs, week_model
from blockwright.engine.planning.neighbourhood import (
    Budget,
    Tell,
    better,
    hint_values,
    rebuilt,
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
    """How far "at least" rules of the house had to give way; 0 nearly always."""


def compose_week(
    request: Request,
    policy: Policy,
    budget: Budget,
    *,
    supersets: bool = False,
    tell: Tell | None = None,
) -> ComposedWeek:
    """The best week found for `request` within `budget`, and a bound on any week.

    The bound is the optimum of the relaxation over every lift, for the same minutes.
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
    bound = points if proven else week_bound(request, budget_s, priced=broken > 0)
    return ComposedWeek(
        plan=plan,
        pairs=pairs,
        budget_s=budget_s,
        points=points,
        bound=max(bound, points),
        proven=proven or bound <= points,
        broken=broken,
    )


def week_bound(request: Request, budget_s: tuple[int, ...], *, priced: bool = False) -> int:
    """No week has more points than this: the relaxation over the untrimmed catalogue."""
    model = week_model(request, all_pairs(request), budget_s=budget_s, priced=priced)
    relaxed: Relaxed = relax(model.linear)
    if relaxed.bound is None:
        model = week_model(request, all_pairs(request), budget_s=budget_s, priced=True)
        relaxed = relax(model.linear)
    # points are whole, so the bound may be rounded down
    return int((relaxed.bound or 0.0) + 1e-6 * abs(relaxed.bound or 0.0) + 1e-6)


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
    return resolved(request, plan, budget, tell=tell), False


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
