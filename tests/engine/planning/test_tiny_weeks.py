"""Tiny weeks against brute force, and the model against the board."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_gym import USUAL, lifter, small_catalogue

from blockwright.engine.planning.board import BROKEN_POINTS, board_of
from blockwright.engine.planning.greedy import build_up, greedy_week
from blockwright.engine.planning.linear import relax, solve
from blockwright.engine.planning.make_request import make_request
from blockwright.engine.planning.model import all_pairs, week_model
from blockwright.engine.planning.neighbourhood import Budget, rebuilt, standing
from blockwright.engine.planning.request import Request, week_plan
from blockwright.engine.planning.week import compose_week, week_bound
from blockwright.engine.training import Allow, Catalogue, catalogue_of
from blockwright.files.policy_files import default_policy

EXACT = Budget(rebuilds=5, solves=2, solve_s=0.1, whole_s=8.0)


def few(*names: str) -> Catalogue:
    return catalogue_of(tuple(small_catalogue().lifts[name] for name in names))


TINY = [
    (("mon 18:00 30",), ("leg press", "leg curl", "chest press")),
    (("mon 18:00 25", "thu 18:00 25"), ("leg extension", "leg curl")),
    (("mon 18:00 22", "tue 07:00 22"), ("lateral raise", "dumbbell curl")),
    (("mon 18:00 20", "wed 18:00 20"), ("lat pulldown", "seated calf raise")),
]


def brute_force(request: Request) -> int:
    """The best points over every assignment of 0, 2, 3 or 4 sets that keeps every rule.

    Rules are asked of the board one item at a time, and an order in which every item fits
    exists for every good week, since all of them are "at most" rules.
    """
    pairs = all_pairs(request)
    best = -(10**9)
    for choice in product((0, 2, 3, 4), repeat=len(pairs)):
        board = board_of(request, ())
        fits = True
        for (slot, option), sets in zip(pairs, choice, strict=True):
            if not sets:
                continue
            at = np.array([slot]), np.array([option])
            if not board.fits(*at, sets, new=True)[0]:
                fits = False
                break
            board.place(slot, option, sets)
        if fits:
            best = max(best, standing(board))
    return best


@pytest.mark.parametrize(("slots", "names"), TINY)
def test_the_optimum_is_what_brute_force_finds(
    slots: tuple[str, ...], names: tuple[str, ...]
) -> None:
    allow = Allow(supersets=False, high_reps=False)
    request = make_request(lifter(*slots, allow=allow), few(*names), default_policy())
    composed = compose_week(request, default_policy(), EXACT)
    assert composed.proven
    assert composed.points - BROKEN_POINTS * composed.broken == brute_force(request)
    assert composed.bound == composed.points


@settings(max_examples=25, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10**6), leads=st.sampled_from([(), ("quads",), ("chest", "lats")]))
def test_board_and_model_see_the_same_week(seed: int, leads: tuple[str, ...]) -> None:
    """Any week the board builds is a solution of the model, worth the same points."""
    request = make_request(
        lifter(*USUAL[:3], emphasis=dict.fromkeys(leads, "lead")),
        small_catalogue(),
        default_policy(),
        gentle=bool(seed % 2),
    )
    plan = rebuilt(request, (), 2, seed=seed)
    board = board_of(request, plan)
    solved = solve(week_model(request, [], fixed=plan).linear, deterministic_s=5.0)
    assert solved.proven
    # broken shares are priced by the hundredth or the quarter set, in whole points
    assert solved.objective == pytest.approx(standing(board), abs=40)


def test_what_the_board_sums_step_by_step_is_what_it_sums_at_once() -> None:
    request = make_request(lifter(*USUAL), small_catalogue(), default_policy())
    board = board_of(request, ())
    build_up(board)
    plan = board.plan()
    fresh = board_of(request, plan)
    assert board.points() == fresh.points()
    for item in plan:
        board.take(item.slot, item.option)
    assert board.points() == board_of(request, ()).points()
    assert board.plan() == ()


def test_gain_is_the_difference_of_points() -> None:
    request = make_request(
        lifter(*USUAL, emphasis={"quads": "lead"}), small_catalogue(), default_policy()
    )
    board = board_of(request, greedy_week(request))
    fits = board.fits(board.pair_slot, board.pair_option, 2, new=True)
    fits &= board.sets[board.pair_slot, board.pair_option] == 0
    slot, option = board.pair_slot[fits], board.pair_option[fits]
    for index, gain in enumerate(board.gain(slot, option, 2, new=True).tolist()):
        at = int(slot[index]), int(option[index])
        before = standing(board)
        short = board.count[at[0]] < request.least_lifts[at[0]]
        board.place(*at, 2)
        if not short:
            assert standing(board) - before == pytest.approx(gain, abs=3)
        board.take(*at)


def test_the_bound_by_columns_is_the_whole_bound() -> None:
    request = make_request(
        lifter(*USUAL, emphasis={"quads": "lead"}), small_catalogue(), default_policy()
    )
    whole = relax(week_model(request, all_pairs(request), priced=False).linear)
    assert whole is not None
    plan = greedy_week(request)
    assert week_bound(request, plan, request.budget_s) == int(whole + 1e-3)
    assert week_bound(request, week_plan({}), request.budget_s) == int(whole + 1e-3)


def test_never_below_greedy_and_never_above_the_bound() -> None:
    request = make_request(lifter(*USUAL), small_catalogue(), default_policy())
    composed = compose_week(request, default_policy(), Budget(rebuilds=15, solves=2, solve_s=0.1))
    greedy = standing(board_of(request, greedy_week(request)))
    assert greedy <= composed.points - BROKEN_POINTS * composed.broken
    assert composed.points <= composed.bound
