"""Studies of the planner: gap to the bound, greedy and another solver beside it, and blocks for
invented lifters under an independent checker."""

import statistics
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from blockwright.engine.errors import Clash
from blockwright.engine.planning import QUICK, USUAL, Budget, compose
from blockwright.engine.planning.board import board_of
from blockwright.engine.planning.greedy import greedy_week
from blockwright.engine.planning.make_request import make_request
from blockwright.engine.planning.model import all_pairs, week_model
from blockwright.engine.planning.neighbourhood import standing
from blockwright.engine.planning.request import Request
from blockwright.engine.planning.week import compose_week, week_bound
from blockwright.engine.training import (
    DAYS,
    Catalogue,
    Emphasis,
    Gym,
    Lifter,
    Slot,
    catalogue_of,
)
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from plan_checker import findings_of
from studies.made_up_lifters import KITS, full_kit, made_up_lifter

CHECKED_LIFTERS = 200
OTHER_SOLVER_S = 10.0
_CHECK_BUDGET = Budget(rebuilds=8, solves=1, solve_s=0.1, ramp_s=0.3)


@dataclass(frozen=True, slots=True)
class Case:
    """One week to be composed."""

    name: str
    lifter: Lifter
    catalogue: Catalogue
    odd: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """What came of a case: points and CPU seconds."""

    case: Case
    slots: int
    lifts: int
    bound: int
    greedy: int
    quick: int
    quick_s: float
    usual: int
    usual_s: float

    def gap(self, points: int) -> float:
        return (self.bound - points) / abs(self.bound)


# ------------------------------------------------------------------------------- the family


def cases() -> Iterator[Case]:
    """54 weeks: 3 to 14 slots, 40 to 200 lifts, none to three lead muscles; and odd lifters."""
    emphases: tuple[dict[str, Emphasis], ...] = (
        {},
        {"quads": "lead", "chest": "hold"},
        {"chest": "lead", "lats": "lead", "side_delts": "lead", "calves": "skip"},
    )
    for count, minutes in ((3, 75), (4, 60), (5, 60), (6, 60), (9, 60)):
        for size in (40, 96, 200):
            for number, emphasis in enumerate(emphases):
                who = _lifter(_slots(count, minutes), full_kit(builtin_catalogue()), emphasis)
                yield Case(f"{count} x {minutes} min, leads {number}", who, spread(size))
    yield Case("14 x 45 min", _lifter(_slots(14, 45), _all_kit(), emphases[1]), spread(96))
    yield Case("14 x 60 min", _lifter(_slots(14, 60), _all_kit(), emphases[0]), spread(200))
    yield from _odd_cases()


def _odd_cases() -> Iterator[Case]:
    whole = builtin_catalogue()
    two = (_slot("tue", 18, 40), _slot("fri", 18, 40))
    twice = (_slot("mon", 7, 45), _slot("mon", 18, 45), _slot("thu", 18, 60))
    short = tuple(_slot(day, 7, 20) for day in ("mon", "tue", "thu", "fri"))
    yield Case("two slots of 40 min", _lifter(two, _all_kit(), {}), whole, True)
    yield Case("two sessions on one day", _lifter(twice, _all_kit(), {}), whole, True)
    yield Case("dumbbells only", _lifter(_slots(3, 60), KITS["dumbbells only"], {}), whole, True)
    yield Case("the floor only", _lifter(_slots(3, 45), KITS["floor"], {}), whole, True)
    yield Case("a bar at home", _lifter(_slots(4, 60), KITS["bar at home"], {}), whole, True)
    yield Case("four slots of 20 min", _lifter(short, KITS["small gym"], {}), whole, True)
    yield Case("one slot", _lifter(_slots(1, 90), _all_kit(), {}), whole, True)


def _all_kit() -> frozenset[str]:
    return full_kit(builtin_catalogue())


def spread(size: int) -> Catalogue:
    """`size` lifts of the built-in catalogue, taken evenly from all of it."""
    lifts = list(builtin_catalogue().lifts.values())
    step = len(lifts) / size
    return catalogue_of(tuple(lifts[int(index * step)] for index in range(size)))


def _slot(day: str, hour: int, minutes: int) -> Slot:
    return Slot(day=day, start_minute=60 * hour, minutes=minutes)


def _slots(count: int, minutes: int) -> tuple[Slot, ...]:
    """Evenly over the week, evenings first."""
    order = ("mon", "thu", "sat", "tue", "fri", "wed", "sun")
    chosen = [(day, 18) for day in order[:count]]
    chosen += [(day, 7) for day in order[: max(0, count - 7)]]
    made = [_slot(day, hour, minutes) for day, hour in chosen]
    return tuple(sorted(made, key=lambda slot: (DAYS.index(slot.day), slot.start_minute)))


def _lifter(slots: tuple[Slot, ...], kit: frozenset[str], emphasis: dict[str, Emphasis]) -> Lifter:
    return Lifter(
        name="Invented",
        bodyweight=75.0,
        bodyweight_kg=75.0,
        start=date(2027, 1, 4),
        slots=slots,
        emphasis=emphasis,
        gym=Gym(kit=kit, unit="kg"),
    )


# --------------------------------------------------------------------------------- the gap


def measured(case: Case) -> Result:
    """One case at both budgets, greedy and bound beside them."""
    policy = default_policy()
    request = make_request(case.lifter, case.catalogue, policy)
    points, seconds = [], []
    for budget in (QUICK, replace(USUAL, whole_s=1.0)):
        began = time.process_time()
        plan = compose_week(request, policy, budget, bounded=False).plan
        seconds.append(time.process_time() - began)
        points.append(standing(board_of(request, plan)))
    greedy = greedy_week(request)
    broken = board_of(request, plan).broken() > 0
    return Result(
        case=case,
        slots=len(case.lifter.slots),
        lifts=len(request.lift_names),
        bound=week_bound(request, plan, request.budget_s, priced=broken),
        greedy=board_of(request, greedy).points(),
        quick=points[0],
        quick_s=seconds[0],
        usual=points[1],
        usual_s=seconds[1],
    )


def planning_study() -> str:
    """The gap over the family, by group, and every case in a table."""
    results = [measured(case) for case in cases()]
    usual = [r for r in results if r.slots < 10 and not r.case.odd]
    lines = [
        f"{len(results)} weeks (built-in lifts, invented lifters), no pairs, no special sets. "
        "Bound: optimum of the relaxation over every lift offered. Gap = (bound - points) / bound. "
        "Greedy is not charged for house rules it breaks (shares, lifts a session). "
        "Budgets are counts and deterministic seconds; the CPU seconds are what this run took.",
        "",
        *_summary("usual lifters, 3-9 slots", usual),
        *_summary("14 slots", [r for r in results if r.slots >= 10]),
        *_summary("odd lifters", [r for r in results if r.case.odd]),
        "",
        "| week | lifts | bound | greedy | small budget | s | large budget | s |",
        "|---|---:|---:|---:|---:|---:|---:|---:|",
        *(_row(result) for result in results),
        "",
        *_other_solver(results),
    ]
    return "\n".join(lines)


def _summary(name: str, results: list[Result]) -> list[str]:
    if not results:
        return []
    over = statistics.median(100 * (r.usual - r.greedy) / abs(r.greedy) for r in results)
    below = sum(min(r.usual, r.quick) < r.greedy for r in results)
    return [
        f"- {name} ({len(results)} weeks): "
        f"gap at the small budget {_spread([r.gap(r.quick) for r in results])} "
        f"in {statistics.median(r.quick_s for r in results):.1f} s, "
        f"at the large one {_spread([r.gap(r.usual) for r in results])} "
        f"in {statistics.median(r.usual_s for r in results):.1f} s (median CPU seconds); "
        f"over greedy {over:+.1f} % (median), below greedy {below} times"
    ]


def _spread(gaps: list[float]) -> str:
    return f"{100 * statistics.median(gaps):.1f} % (worst {100 * max(gaps):.1f} %)"


def _row(result: Result) -> str:
    return (
        f"| {result.case.name} | {result.lifts} | {result.bound} | "
        f"{100 * result.gap(result.greedy):.1f} % | {100 * result.gap(result.quick):.1f} % | "
        f"{result.quick_s:.1f} | {100 * result.gap(result.usual):.1f} % | {result.usual_s:.1f} |"
    )


def _other_solver(results: list[Result]) -> list[str]:
    """HiGHS on the whole week, cold, for some of the cases."""
    lines = [
        f"HiGHS (scipy), the same model, cold, {OTHER_SOLVER_S:.0f} s:",
        "",
        "| week | lifts | gap of HiGHS | gap of the large budget |",
        "|---|---:|---:|---:|",
    ]
    for result in results[:: max(1, len(results) // 7)]:
        request = make_request(result.case.lifter, result.case.catalogue, default_policy())
        points = highs_points(request, OTHER_SOLVER_S)
        said = "no week found" if points is None else f"{100 * result.gap(points):.1f} %"
        lines.append(
            f"| {result.case.name} | {result.lifts} | {said} | "
            f"{100 * result.gap(result.usual):.1f} % |"
        )
    return lines


def highs_points(request: Request, seconds: float) -> int | None:
    """The points HiGHS reaches on the whole week, or None. A study only: scipy is a dev package."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_matrix

    model = week_model(request, all_pairs(request))
    linear = model.linear
    rows = [r for r, (at, _, _, _) in enumerate(linear.rows) for _ in at]
    columns = [i for at, _, _, _ in linear.rows for i in at]
    values = [c for _, coefficients, _, _ in linear.rows for c in coefficients]
    matrix = csr_matrix((values, (rows, columns)), shape=(len(linear.rows), linear.size))
    found = milp(
        -np.array(linear.points, dtype=float),
        integrality=np.ones(linear.size),
        bounds=Bounds(linear.low, linear.high),
        constraints=LinearConstraint(
            matrix, [low for _, _, low, _ in linear.rows], [high for _, _, _, high in linear.rows]
        ),
        options={"time_limit": seconds},
    )
    if found.x is None:
        return None
    plan = model.decode(tuple(round(value) for value in found.x))
    return standing(board_of(request, plan))


# ------------------------------------------------------------------------- invented lifters


def checked_lifters_study(count: int = CHECKED_LIFTERS) -> str:
    """Blocks for `count` invented lifter files under the checker of `plan_checker.py`."""
    catalogue, policy = builtin_catalogue(), default_policy()
    clashes, good = 0, 0
    broken: list[str] = []
    for seed in range(count):
        try:
            block = compose(
                made_up_lifter(seed, catalogue), catalogue, policy, budget=_CHECK_BUDGET
            )
        except Clash:
            clashes += 1
            continue
        findings = findings_of(block, catalogue, policy)
        good += not findings
        if findings:
            broken.append(f"- lifter {seed}: {findings[0]} ({len(findings)} findings)")
    lines = [
        f"{count} invented lifter files (1-14 slots, six kits, pins, limits, every allowance), "
        f"a small budget each: {good} blocks keep every rule, {clashes} are refused with their "
        f"clash, {len(broken)} break a rule.",
        *broken,
    ]
    return "\n".join(lines)
