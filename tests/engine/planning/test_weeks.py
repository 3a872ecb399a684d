"""The effort path, the frame, the fill and the climb of the build weeks."""

import itertools
from dataclasses import replace
from typing import Any

import pytest
from small_gym import USUAL, lifter, small_catalogue

from blockwright.engine.planning.constraints import WeekVariables
from blockwright.engine.planning.fill import QUICK, Filled, _improved, fill
from blockwright.engine.planning.frame import Frame, make_frame
from blockwright.engine.planning.make_problem import make_problem
from blockwright.engine.planning.order import order_key
from blockwright.engine.planning.solver import CompiledWeek, Solution
from blockwright.engine.planning.visits import choose_visits, why_free
from blockwright.engine.planning.weeks import effort_path, weeks_between
from blockwright.engine.training import MUSCLES, Pin
from blockwright.files.policy_files import default_policy


@pytest.mark.parametrize(
    ("weeks", "path"),
    [
        (3, (3, 2, 1)),
        (4, (3, 2, 2, 1)),
        (5, (3, 3, 2, 2, 1)),
        (6, (3, 3, 2, 2, 1, 1)),
        (7, (3, 3, 2, 2, 2, 1, 1)),
        (8, (3, 3, 2, 2, 2, 2, 1, 1)),
    ],
)
def test_effort_path(weeks: int, path: tuple[int, ...]) -> None:
    """design.md: straight line from 3 to 1, rounded; six weeks 3, 3, 2, 2, 1, 1."""
    assert effort_path(weeks, 3, 1) == path


def filled(*slots: str, gentle: bool = False, **more: Any) -> Filled:
    problem = make_problem(
        lifter(*slots, **more), small_catalogue(), default_policy(), gentle=gentle
    )
    found = fill(problem, make_frame(problem, choose_visits(problem)), QUICK)
    assert found is not None
    return found


def framed(*slots: str, **more: Any) -> Frame:
    problem = make_problem(lifter(*slots, **more), small_catalogue(), default_policy())
    return make_frame(problem, choose_visits(problem))


@pytest.mark.parametrize("weeks", [3, 6])
@pytest.mark.parametrize("gentle", [False, True])
def test_climbs_within_its_limits(weeks: int, gentle: bool) -> None:
    found = filled(*USUAL, gentle=gentle, weeks=weeks, emphasis={"quads": "lead", "chest": "hold"})
    week, climb = found.week, weeks_between(found, weeks)
    assert len(climb) == weeks
    assert climb[0] == {place: first for place, (first, _) in found.sets.items()}
    short = {place: last - climb[-1][place] for place, (_, last) in found.sets.items()}
    assert sum(short.values()) <= 2 * (weeks == 3)  # in two steps the ramp may miss the last sets
    assert min(short.values()) == 0
    for before, after in itertools.pairwise(climb):
        assert all(0 <= after[p] - before[p] <= 1 for p in before)
        for muscle in MUSCLES:
            grown = sum(
                (after[p] - before[p]) * week.options[p].quarters.get(muscle, 0) for p in before
            )
            assert grown <= 8
    held = [p for p in climb[0] if "chest" in week.options[p].direct]
    assert held
    assert all(climb[0][p] == climb[-1][p] for p in held)
    if gentle:
        assert max(climb[0].values()) <= 3


def test_the_judge_and_the_solver_agree_on_what_a_week_costs() -> None:
    """The constraints are the model's rows and the judge's sentences at once."""
    found = filled(*USUAL, emphasis={"quads": "lead", "chest": "hold"})
    week = found.week
    values = week.values(found.sets)
    assert [rule.code for rule, _ in week.broken(values) if rule.tier == 0] == []
    assert values == list(found.solution.values)
    counted = week.cost(values)
    assert counted == found.solution.cost
    # the solver's own bound on this very week, every place held: its rows cost what the rules do
    held = CompiledWeek(week).solve(limit_s=10.0, hint=values, free=())
    assert held is not None
    assert held.proven
    assert held.bound == counted


class _Gains(CompiledWeek):
    """Every part of the week is proven and gives one point."""

    def __init__(self, week: WeekVariables) -> None:
        self.week = week

    def solve(self, **_: Any) -> Solution:
        return Solution((), cost=9, bound=9, proven=True)


def test_a_part_of_the_week_proves_nothing_of_the_whole() -> None:
    model = _Gains(filled(*USUAL[:2]).week)
    better = _improved(model, Solution((), cost=10, bound=1, proven=False), QUICK)
    assert (better.cost, better.bound, better.proven) == (9, 1, False)


@pytest.mark.parametrize("code", ["minutes", "session_sets", "spacing", "family_session"])
def test_the_judge_finds_a_planted_fault(code: str) -> None:
    found = filled("mon 18:00 60", "tue 18:00 60", "thu 18:00 60", emphasis={"quads": "lead"})
    week, sets = found.week, dict(found.sets)
    wanted = {
        "minutes": week.here(0),
        "session_sets": week.where(lambda o: "quads" in o.direct, [0]),
        "spacing": week.where(lambda o: "quads" in o.direct, [0, 1]),
        "family_session": max(
            ([v for v, _ in r.terms] for r in week.constraints if r.code == "family_session"),
            key=len,
        ),
    }[code]
    sets |= dict.fromkeys(wanted, (4, 5))
    assert code in {rule.code for rule, _ in week.broken(week.values(sets))}


def test_neighbouring_days_are_split_and_days_apart_are_not() -> None:
    """Costs between neighbours alone: no template says so."""
    apart = framed("mon 18:00 60", "wed 18:00 60", "fri 18:00 60")
    assert all(
        {"knee", "hip"} & set(roles) and {"press", "row", "pull", "overhead"} & set(roles)
        for roles in apart.roles.values()
    )
    close = framed("mon 18:00 60", "tue 18:00 60", "thu 18:00 60", "fri 18:00 60")
    for one, other in ((0, 1), (2, 3)):
        assert not set(close.roles[one]) & set(close.roles[other])
    for basic in ("knee", "press"):
        assert sum(basic in close.roles[slot] for slot in close.visits) == 2


@pytest.mark.parametrize(("days", "minutes", "times"), [(4, 60, 1), (4, 40, 1), (3, 45, 0)])
def test_nobody_owes_a_second_overhead_press(days: int, minutes: int, times: int) -> None:
    """It would take the time of a lift for arms, calves or abs; in a short week so does the
    first. Who leads with the front of the shoulder has two."""
    slots = [f"{day} 18:00 {minutes}" for day in ("mon", "wed", "fri", "sun")[:days]]
    roles = framed(*slots).roles.values()
    assert sum("overhead" in basics for basics in roles) == times
    assert all(sum(basic in basics for basics in roles) == 2 for basic in ("knee", "press", "row"))
    led = framed(*slots, emphasis={"front_delts": "lead"}).roles.values()
    assert sum("overhead" in basics for basics in led) == 2


def test_a_lead_without_a_direct_lift_forbids_no_row() -> None:
    """The bar may be too heavy for curls: what trains the biceps along is still trained."""
    problem = make_problem(
        lifter(*USUAL, emphasis={"biceps": "lead"}), small_catalogue(), default_policy()
    )
    left = tuple(o for o in problem.options if "biceps" not in o.direct)
    problem = replace(problem, options=left)
    found = fill(problem, make_frame(problem, choose_visits(problem)), QUICK)
    assert found is not None
    assert {"row", "pull"} <= {found.week.options[i].basic for i in found.sets}


@pytest.mark.parametrize(
    ("days", "emphasis", "twice"),
    [
        ("mon wed fri", {}, set()),
        ("mon wed fri", {"chest": "lead"}, {"press"}),
        ("mon tue thu fri", {}, {"knee", "press"}),
        ("mon thu", {}, {"knee", "hip", "press", "row", "pull", "overhead"}),
    ],
)
def test_second_exposures_that_nobody_owes_give_way_to_a_lead(
    days: str, emphasis: dict[str, str], twice: set[str]
) -> None:
    """Of the others a coach's rules, or a leg curl and a pulldown, ask for one; arms that lead
    stood at half of what they reach for beside three main lifts on each of three short days."""
    frame = framed(*(f"{day} 18:00 60" for day in days.split()), emphasis=emphasis)
    assert {basic for basic, times in frame.owed.items() if times == 2} == twice


def test_a_frame_keeps_a_pinned_heavy_lift() -> None:
    frame = framed(*USUAL, pins=(Pin(lift="barbell back squat", days=("thu",), reps="low"),))
    assert (2, "knee") in frame.heavy


def test_fewer_visits_than_slots_where_the_week_does_not_fill_them() -> None:
    days = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    slots = [f"{day} {at} 60" for day in days for at in ("07:00", "18:00")]
    problem = make_problem(lifter(*slots), small_catalogue(), default_policy())
    chosen = choose_visits(problem)
    assert 4 <= len(chosen) <= 7
    assert len({problem.slots[i].day for i in chosen}) == len(chosen)
    asked = make_problem(lifter(*slots, visits=3), small_catalogue(), default_policy())
    assert len(choose_visits(asked)) == 3
    assert why_free(asked, range(3)) == "asked"


def test_who_trains_now_and_offers_six_days_gets_six_visits_worth_the_journey() -> None:
    """Week one's sets of somebody nothing is said of were spread over four visits of six; asked
    for all six they came to half an hour of an hour and a quarter."""
    slots = [f"{day} 07:00 75" for day in ("mon", "tue", "wed", "thu", "fri", "sat")]
    made = make_problem(lifter(*slots), small_catalogue(), default_policy())
    assert len(choose_visits(made)) == 6
    eased = make_problem(lifter(*slots), small_catalogue(), default_policy(), gentle=True)
    assert len(choose_visits(eased)) < 6
    assert why_free(eased, choose_visits(eased)) == "short"
    for muscle, aim in made.aims.items():
        assert aim.start >= eased.aims[muscle].start
        assert aim.end >= eased.aims[muscle].end
    more = [m for m, aim in made.aims.items() if aim.start > eased.aims[m].start]
    assert {"quads", "chest", "lats"} <= set(more)


def test_small_lifts_stay_at_or_below_the_opener() -> None:
    found = filled(*USUAL)
    week = found.week
    for slot in found.frame.visits:
        here = [p for p in week.here(slot) if p in found.sets]
        first = min(here, key=lambda p: order_key(week.options[p], ()))
        for place in here:
            if not week.options[place].is_main:
                assert found.sets[place][1] <= found.sets[first][1]
