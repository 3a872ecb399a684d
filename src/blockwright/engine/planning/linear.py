"""A small linear model in whole numbers: the frame, and the weeks between first and last."""

from collections.abc import Sequence
from dataclasses import dataclass, field

FAR = 10**9  # Stands for "no limit" on a row


@dataclass
class Linear:
    """Maximise objective over whole variables within bounds and rows low <= row <= high."""

    low: list[int] = field(default_factory=list)
    high: list[int] = field(default_factory=list)
    points: list[int] = field(default_factory=list)
    rows: list[tuple[list[int], list[int], int, int]] = field(default_factory=list)
    """(variables, coefficients, low, high)."""

    def var(self, low: int, high: int, points: int = 0) -> int:
        """A new variable; its index."""
        self.low.append(low)
        self.high.append(high)
        self.points.append(points)
        return len(self.low) - 1

    def row(self, terms: Sequence[tuple[int, int]], *, low: int = -FAR, high: int = FAR) -> None:
        """A new row from (variable, coefficient) terms."""
        kept = [(v, c) for v, c in terms if c != 0]
        self.rows.append(([v for v, _ in kept], [c for _, c in kept], low, high))


def solve(
    model: Linear, *, deterministic_s: float, linearization: int = 1
) -> tuple[int, ...] | None:
    """The best values found with one worker, a fixed seed and a deterministic limit: repeatable;
    None without any. `linearization` 2 bounds a sum of many small prices sooner."""
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
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.linearization_level = linearization
    solver.parameters.max_deterministic_time = deterministic_s
    if solver.solve(cp) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return tuple(solver.value(variable) for variable in variables)
