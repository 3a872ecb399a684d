"""From week one and the last week to all build weeks: set counts only, the lifts stay.

Every lift climbs by at most a set a week and never falls; no muscle grows by more than the ramp's
limit; main lifts grow first, and no small lift passes its session's opener on the way if it can be
helped."""

from collections.abc import Mapping, Sequence

from blockwright.engine.training import MUSCLES
from .constraints import WeekVariables
from .fill import Filled
from .hard_rules import direct_weights
from .linear import Linear, solve
from .order import order_key

_SOLVE_S = 0.05  # Deterministic seconds; four times as many gain next to nothing
_SHORT, _PASSED, _OFF_LINE, _SMALL_FIRST = 4000, 120, 4, 6


def effort_path(weeks: int, first_rir: float, last_rir: float) -> tuple[float, ...]:
    """RIR by week: a straight line, halves rounded up, so six weeks read 3, 3, 2, 2, 1, 1."""
    if weeks == 1:
        return (float(first_rir),)
    steps = [first_rir + (last_rir - first_rir) * w / (weeks - 1) for w in range(weeks)]
    return tuple(float(int(step + 0.5 + 1e-9)) for step in steps)


def weeks_between(filled: Filled, weeks: int) -> list[dict[int, int]]:
    """Sets by place for every build week, the first and the last as filled."""
    sets = filled.sets
    if weeks == 1:
        return [{place: last for place, (_, last) in sets.items()}]
    found = _Climb(filled, sets, weeks, whole=True).solved()
    found = found or _Climb(filled, sets, weeks, whole=False).solved()
    return found or [{place: first for place, (first, _) in sets.items()}] * weeks


class _Climb:
    """`whole`: the last week has all its sets."""

    def __init__(
        self, filled: Filled, sets: Mapping[int, tuple[int, int]], weeks: int, *, whole: bool
    ) -> None:
        self.filled, self.week, self.sets, self.weeks = filled, filled.week, sets, weeks
        self.places = sorted(sets)
        self.linear = Linear()
        self.at: dict[tuple[int, int], int] = {}
        for number in range(weeks):
            for place in self.places:
                first, last = sets[place]
                low = last if whole and number == weeks - 1 else first
                var = self.linear.var(low, first if number == 0 else last)
                self.at[number, place] = var
                if number:
                    before = self.at[number - 1, place]
                    self.linear.row([(var, 1), (before, -1)], low=0, high=1)

    def solved(self) -> list[dict[int, int]] | None:
        for place in self.places:
            first, last = self.sets[place]
            self.linear.points[self.at[self.weeks - 1, place]] += _SHORT
            if not self.week.options[place].is_main and last > first:
                for number in range(1, self.weeks - 1):
                    self.linear.points[self.at[number, place]] -= _SMALL_FIRST
        self._muscles()
        self._pairs()
        self._leads()
        self._openers()
        values = solve(self.linear, deterministic_s=_SOLVE_S, linearization=2)
        if values is None:
            return None
        return [
            {place: values[self.at[number, place]] for place in self.places}
            for number in range(self.weeks)
        ]

    def _muscles(self) -> None:
        linear, limits = self.linear, self.week.problem.limits
        for muscle in MUSCLES:
            shares = {
                place: q for place in self.places
                if (q := self.week.options[place].quarters.get(muscle, 0))
            }  # fmt: skip
            if not shares:
                continue
            start = sum(q * self.sets[place][0] for place, q in shares.items())
            end = sum(q * self.sets[place][1] for place, q in shares.items())
            for number in range(1, self.weeks):
                terms = [(self.at[number, place], q) for place, q in shares.items()]
                before = [(self.at[number - 1, place], -q) for place, q in shares.items()]
                linear.row([*terms, *before], high=limits.ramp_q)
                line = round(start + (end - start) * number / (self.weeks - 1))
                off = linear.var(0, 1000, -_OFF_LINE)
                linear.row([*terms, (off, 1)], low=line)
                linear.row([*terms, (off, -1)], high=line)

    def _pairs(self) -> None:
        for pair in self.filled.pairs:
            for number in range(self.weeks):
                one, two = self.at[number, pair.first], self.at[number, pair.second]
                self.linear.row([(one, 1), (two, -1)], low=0, high=0)

    def _leads(self) -> None:
        for muscle in self.week.problem.leads:
            weights = direct_weights(self.week, muscle, self.places)
            for number in range(1, self.weeks - 1):
                terms = [(self.at[number, place], w) for place, w in weights.items()]
                self.linear.row(terms, low=0)

    def _openers(self) -> None:
        week = self.week
        for slot in self.filled.frame.visits:
            here = [place for place in week.here(slot) if place in self.sets]
            mains = [place for place in here if week.options[place].is_main]
            if not mains:
                continue
            first = opener_of(week, mains)
            for place in here:
                if week.options[place].is_main:
                    continue
                for number in range(1, self.weeks - 1):
                    over = self.linear.var(0, 5, -_PASSED)
                    top, own = self.at[number, first], self.at[number, place]
                    self.linear.row([(own, 1), (top, -1), (over, -1)], high=0)


def opener_of(week: WeekVariables, mains: Sequence[int]) -> int:
    """The main lift that opens a session."""
    leads = week.problem.leads
    return min(mains, key=lambda place: order_key(week.options[place], leads))
