"""Constraints to the solver: one compiled model, solved again and again with parts held fixed.

One worker, a fixed seed and deterministic limits: the same answer on every machine."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from .constraints import HARD, TIERS, Constraint, Helper, WeekVariables
from .linear import FAR

_SEED = 1


@dataclass(frozen=True, slots=True)
class Solution:
    """Values of the week's variables, what they cost, and the solver's bound on that."""

    values: tuple[int, ...]
    cost: int
    bound: int
    proven: bool


class CompiledWeek:
    """A week's constraints in the solver's form."""

    def __init__(
        self,
        week: WeekVariables,
        *,
        caps: Mapping[int, int] | None = None,
        priced: Collection[int] = TIERS,
    ) -> None:
        """`caps` bounds what single rules (by index) may miss, `priced` names the tiers that the
        objective counts; soft rules of other tiers without a cap are left out."""
        from ortools.sat.python import cp_model

        self.week, self._caps, self.priced = week, caps or {}, frozenset(priced)
        self._cp = cp_model
        self.model = cp_model.CpModel()
        self._vars = [self.model.new_int_var(*week.bounds(v), "") for v in range(week.size)]
        self._prices: dict[int, int] = {}
        base = week.size - len(week.helpers)
        for at, helper in enumerate(week.helpers):
            self._define(helper, base + at)
        for index, rule in enumerate(week.constraints):
            self._state(rule, self._caps.get(index))
        self._set_objective()

    def _row(self, terms: Sequence[tuple[int, int]], low: int, high: int) -> None:
        expression = self._cp.LinearExpr.weighted_sum(
            [self._vars[v] for v, _ in terms], [c for _, c in terms]
        )
        self.model.add_linear_constraint(expression, low, high)

    # --------------------------------------------------------------------------- helpers

    def _define(self, helper: Helper, var: int) -> None:
        if helper.kind == "count":
            most = sum(max(0, c) * self.week.bounds(v)[1] for v, c in helper.terms)
            self._row([*helper.terms, (var, -helper.at_least)], 0, FAR)
            room = max(most - helper.at_least + 1, 1)
            self._row([*helper.terms, (var, -room)], -FAR, helper.at_least - 1)
        elif helper.kind == "opener":
            self._row([(var, 1), (helper.place, -1)], -FAR, 0)
            # the place is used and nothing before it is: then, and only then, it opens
            before = [(place, 1) for place in helper.before]
            if before:
                self._row([*before, (var, len(before))], -FAR, len(before))
            self._row([(var, 1), (helper.place, -1), *before], 0, FAR)
        else:
            count = len(self.week.places)
            for opener, place in helper.terms:
                self._row([(var, 1), (count + place, -1), (opener, 6)], -FAR, 6)
            self._row([(var, 1), *((opener, -6) for opener, _ in helper.terms)], -FAR, 0)

    # ------------------------------------------------------------------------- constraints

    def _state(self, rule: Constraint, cap: int | None) -> None:
        low = -FAR if rule.low is None else rule.low
        high = FAR if rule.high is None else rule.high
        if rule.tier == HARD or cap == 0:
            self._row(rule.terms, low, high)
            return
        price = rule.price if rule.tier in self.priced else 0
        if cap is None and not price:
            return
        if rule.low is None and rule.high == 0 and len(rule.terms) == 1 and rule.terms[0][1] == 1:
            var = rule.terms[0][0]
            self._prices[var] = self._prices.get(var, 0) + price
            return
        slack = len(self._vars)
        self._vars.append(self.model.new_int_var(0, 1_000_000 if cap is None else cap, ""))
        self._prices[slack] = price
        if rule.low is not None:
            self._row([*rule.terms, (slack, 1)], low, FAR)
        if rule.high is not None:
            self._row([*rule.terms, (slack, -1)], -FAR, high)

    def _set_objective(self) -> None:
        priced = sorted(self._prices.items())
        self.model.minimize(
            self._cp.LinearExpr.weighted_sum(
                [self._vars[v] for v, _ in priced], [p for _, p in priced]
            )
        )

    # ----------------------------------------------------------------------------- solving

    def solve(
        self,
        *,
        limit_s: float,
        hint: Sequence[int] | None = None,
        free: Collection[int] | None = None,
        below: int | None = None,
        first: bool = False,
    ) -> Solution | None:
        """The best found within `limit_s` deterministic seconds; variables outside `free` keep
        the hint's values, and only what costs less than `below` is looked for. `first` stops at
        the first solution."""
        model = self.model if hint is None else self.model.clone()
        if hint is not None:
            proto = model.proto
            for var in range(self.week.size):
                proto.solution_hint.vars.append(var)
                proto.solution_hint.values.append(hint[var])
            if free is not None:
                for var in range(3 * len(self.week.places)):
                    if var not in free:
                        domain = proto.variables[var].domain
                        domain[0] = domain[1] = hint[var]
            if below is not None:
                proto.objective.domain.extend((-FAR, below - 1))
        solver = self._cp.CpSolver()
        parameters = solver.parameters
        parameters.num_workers = 1
        parameters.random_seed = _SEED
        parameters.linearization_level = 2
        if free is not None:  # so small that looking ahead costs more than it gives
            parameters.cp_model_probing_level = parameters.symmetry_level = 0
        parameters.max_deterministic_time = limit_s
        parameters.stop_after_first_solution = first
        status = solver.solve(model)
        if status not in (self._cp.OPTIMAL, self._cp.FEASIBLE):
            return None
        proto_values = solver.response_proto.solution
        found = [proto_values[v] for v in range(self.week.size)]
        # a search cut short may leave a slack or helper wider than its rule needs: the sets say
        values = tuple(self.week.values(sets_of(self.week, found)))
        return Solution(
            values, self.week.cost(values, self.priced), round(solver.best_objective_bound),
            status == self._cp.OPTIMAL,
        )  # fmt: skip


def sets_of(week: WeekVariables, values: Sequence[int]) -> Mapping[int, tuple[int, int]]:
    """Sets by used place: (week one, last week)."""
    return {
        i: (values[week.first[i]], values[week.last[i]])
        for i in range(len(week.places))
        if values[week.used[i]]
    }
