"""A small linear model in whole numbers: the frame, and the weeks between first and last."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

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
