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
    model: Linear, *, deterministic_s: float, seed: int = 1, hint: Sequence[int] | None = None
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
        for variable, value in zip(variables, hint, strict=True):
            cp.add_hint(variable, value)
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


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The relaxation's optimum: a bound on every whole solution, or None when empty."""

    bound: float | None
    values: NDArray[np.float64]
    worth: NDArray[np.float64]
    """Reduced cost of each variable: about what one more unit would bring (at most 0 for
    variables at their lower bound)."""


def relax(model: Linear, fixed_high: Mapping[int, int] | None = None) -> Relaxed:
    """Solves the relaxation by GLOP (deterministic). `fixed_high` overrides upper bounds."""
    from ortools.linear_solver.python import model_builder_helper as mb

    helper = mb.ModelBuilderHelper()
    high: Any = np.array(model.high, dtype=np.float64)
    for index, value in (fixed_high or {}).items():
        high[index] = value
    low: Any = np.array(model.low, dtype=np.float64)
    whole: Any = np.zeros(model.size, dtype=bool)
    helper.add_var_array_with_bounds(low, high, whole, "")
    columns = [mb.Variable(helper, index) for index in range(model.size)]
    for index, points in enumerate(model.points):
        if points:
            helper.set_var_objective_coefficient(index, float(points))
    for at, coefficients, row_low, row_high in model.rows:
        row = helper.add_linear_constraint()
        helper.set_constraint_lower_bound(row, float(row_low) if row_low > -FAR else -np.inf)
        helper.set_constraint_upper_bound(row, float(row_high) if row_high < FAR else np.inf)
        helper.add_terms_to_constraint(
            row, [columns[i] for i in at], [float(c) for c in coefficients]
        )
    helper.set_maximize(True)
    solver = mb.ModelSolverHelper("glop")
    solver.solve(helper)
    if not solver.has_solution():
        return Relaxed(bound=None, values=np.zeros(0), worth=np.zeros(0))
    return Relaxed(
        bound=solver.objective_value() + model.constant,
        values=np.asarray(solver.variable_values()),
        worth=np.asarray(solver.reduced_costs()),
    )
