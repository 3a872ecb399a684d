"""A linear model in whole numbers, written once and given to whichever solver is asked.

CP-SAT gets it for searching and proving, GLOP its relaxation for the bound, and a study may
give it to another solver for comparison.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

FAR = 10**9
"""Stands for "no limit" on a row."""


@dataclass
class Linear:
    """Maximise objective over whole variables within bounds and rows low <= row <= high."""

    low: list[int] = field(default_factory=list)
    high: list[int] = field(default_factory=list)
    points: list[int] = field(default_factory=list)
    rows: list[tuple[list[int], list[int], int, int]] = field(default_factory=list)
    """(variables, coefficients, low, high)."""
    constant: int = 0

    def var(self, low: int, high: int, points: int = 0) -> int:
        """A new variable; its index."""
        self.low.append(low)
        self.high.append(high)
        self.points.append(points)
        return len(self.low) - 1

    def row(self, terms: Sequence[tuple[int, int]], *, low: int = -FAR, high: int = FAR) -> int:
        """A new row from (variable, coefficient) terms; its index."""
        kept = [(v, c) for v, c in terms if c != 0]
        self.rows.append(([v for v, _ in kept], [c for _, c in kept], low, high))
        return len(self.rows) - 1

    @property
    def size(self) -> int:
        return len(self.low)


@dataclass(frozen=True, slots=True)
class Solved:
    """What came of a search: values of every variable, or None when there is no solution."""

    values: tuple[int, ...] | None
    objective: int
    proven: bool
    """Whether the solver proved it best (or proved that there is none)."""


def solve(
    model: Linear, *, deterministic_s: float, seed: int = 1, hint: Mapping[int, int] | None = None
) -> Solved:
    """Searches with one worker, a fixed seed and a deterministic limit: repeatable."""
    from ortools.sat.python import cp_model

    cp = cp_model.CpModel()
    variables = [
        cp.new_int_var(low, high, "") for low, high in zip(model.low, model.high, strict=True)
    ]
    for at, coefficients, low, high in model.rows:
        expression = cp_model.LinearExpr.weighted_sum([variables[i] for i in at], coefficients)
        cp.add_linear_constraint(expression, low, high)
    cp.maximize(
        cp_model.LinearExpr.weighted_sum(
            [variables[i] for i, p in enumerate(model.points) if p],
            [p for p in model.points if p],
        )
    )
    if hint is not None:
        # only what is known: a wrong guess for the sums would spoil the whole hint
        for index, value in hint.items():
            cp.add_hint(variables[index], value)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = deterministic_s
    status = solver.solve(cp)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solved(values=None, objective=0, proven=status == cp_model.INFEASIBLE)
    return Solved(
        values=tuple(solver.value(variable) for variable in variables),
        objective=round(solver.objective_value) + model.constant,
        proven=status == cp_model.OPTIMAL,
    )


def relax(model: Linear) -> float | None:
    """The optimum of the relaxation, a bound on every whole solution; None when it is empty."""
    active = np.ones(model.size, dtype=bool)
    solved = _glop(model, _Columns(model), active)
    return None if solved is None else solved.objective + model.constant


@dataclass(frozen=True, slots=True)
class Pair:
    """A lift's place in the model: its 0/1 variable, its sets variable, and their ratio."""

    used: int
    sets: int
    least: int
    most: int


_MOST_NEW_COLUMNS = 500
"""Added at a time: a few hundred settle the prices, thousands only make each round slow."""


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The relaxation's optimum, and by pair what placing it brings at the relaxation's prices:
    about 0 for pairs of a good week, far below for those a good week has no use for."""

    objective: float
    worth: NDArray[np.float64]


def relax_by_columns(
    model: Linear, pairs: Sequence[Pair], active: NDArray[np.bool_]
) -> Relaxed | None:
    """The same optimum for models of thousands of lifts: starts from some of the columns and
    adds those that would pay most at the current prices, until none would.

    `pairs` are (used, sets) variables tied by least <= sets / used <= most; `active` marks the
    variables to start with, enough to hold one solution. Rows that only tie a pair to itself
    or to its lift count as free for columns left out, so what does not pay without them does
    not pay with them, and the optimum is that of the whole model.
    """
    columns = _Columns(model)
    used = np.array([p.used for p in pairs], dtype=np.int64)
    sets = np.array([p.sets for p in pairs], dtype=np.int64)
    least, most = (np.array([getattr(p, k) for p in pairs]) for k in ("least", "most"))
    active = active.copy()
    while True:
        solved = _glop(model, columns, active)
        if solved is None:
            return None
        worth = columns.points - columns.weighted(solved.prices)
        pays = worth[used] + np.maximum(least * worth[sets], most * worth[sets])
        more = np.nonzero((pays > 1e-6) & ~active[used])[0]
        if not len(more):
            return Relaxed(objective=solved.objective + model.constant, worth=pays)
        best = more[np.argsort(-pays[more], kind="stable")[:_MOST_NEW_COLUMNS]]
        active[used[best]] = True
        active[sets[best]] = True


class _Columns:
    """A model's rows as flat arrays."""

    def __init__(self, model: Linear) -> None:
        lengths = [len(at) for at, _, _, _ in model.rows]
        self.row = np.repeat(np.arange(len(model.rows)), lengths)
        self.column = np.array([i for at, _, _, _ in model.rows for i in at], dtype=np.int64)
        self.value = np.array(
            [c for _, values, _, _ in model.rows for c in values], dtype=np.float64
        )
        self.points = np.array(model.points, dtype=np.float64)

    def weighted(self, prices: NDArray[np.float64]) -> NDArray[np.float64]:
        """By column: its coefficients times the prices of their rows."""
        parts = self.value * prices[self.row]
        summed = np.bincount(self.column, weights=parts, minlength=len(self.points))
        return np.asarray(summed, dtype=np.float64)


@dataclass(frozen=True, slots=True)
class _Glop:
    objective: float
    prices: NDArray[np.float64]
    """Dual value by row; 0 for rows left out."""


def _glop(model: Linear, columns: _Columns, active: NDArray[np.bool_]) -> _Glop | None:
    """Solves the relaxation over the active columns; None when it is empty."""
    from ortools.linear_solver.python import model_builder_helper as mb

    helper = mb.ModelBuilderHelper()
    kept = np.nonzero(active)[0]
    place = np.full(model.size, -1, dtype=np.int64)
    place[kept] = np.arange(len(kept))
    low: Any = np.array(model.low, dtype=np.float64)[kept]
    high: Any = np.array(model.high, dtype=np.float64)[kept]
    whole: Any = np.zeros(len(kept), dtype=bool)
    helper.add_var_array_with_bounds(low, high, whole, "")
    variables = [mb.Variable(helper, index) for index in range(len(kept))]
    for index, points in enumerate(columns.points[kept].tolist()):
        if points:
            helper.set_var_objective_coefficient(index, points)
    rows: list[int] = []
    for number, (at, values, row_low, row_high) in enumerate(model.rows):
        terms = [(place[i], c) for i, c in zip(at, values, strict=True) if active[i]]
        if not terms and row_low <= 0 <= row_high:
            continue
        row = helper.add_linear_constraint()
        helper.set_constraint_lower_bound(row, float(row_low) if row_low > -FAR else -np.inf)
        helper.set_constraint_upper_bound(row, float(row_high) if row_high < FAR else np.inf)
        helper.add_terms_to_constraint(
            row, [variables[i] for i, _ in terms], [float(c) for _, c in terms]
        )
        rows.append(number)
    helper.set_maximize(True)
    solver = mb.ModelSolverHelper("glop")
    solver.solve(helper)
    if not solver.has_solution():
        return None
    prices = np.zeros(len(model.rows))
    prices[rows] = np.asarray(solver.dual_values())
    return _Glop(objective=solver.objective_value(), prices=prices)
