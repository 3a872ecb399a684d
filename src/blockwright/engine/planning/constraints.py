"""Every at-most and at-least rule of a week as data, and what a plan makes of it.

A constraint is low <= sum of coefficients x variables <= high. Hard ones (`tier` HARD) hold in
every plan; soft ones cost `price` for every unit outside, and the tiers' prices lie so far apart
that a lower tier never buys anything of a higher one. The model makes rows of them, the judge
findings; the words stand in `files/data/words`.

Variables: for every place whether it is used, its sets in week one and in the last week (the same
variable where only one week is asked for); and helpers, each defined by the places."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from blockwright.engine.reasons import FactValue
from .problem import Option, Place, Problem
from .time_model import PairTime

HARD = 0
TIERS = MUST, BASIC, LOGGED, LEAD, KEEP, REST = (2, 3, 4, 5, 6, 7)
"""2 a coach's musts, 3 basics and climb, 4 the log's own week, 5 leads, 6 continuity, 7 everything
else."""

Terms = Sequence[tuple[int, int]]  # (variable, coefficient)


@dataclass(frozen=True, slots=True)
class PlacePair:
    """Two places of one slot done in turn."""

    slot: int
    first: int
    second: int
    time: PairTime


@dataclass(frozen=True, slots=True)
class Helper:
    """A variable the places define: `count` is 1 where the terms reach `at_least`; `opener` 1 for
    the place that opens its session; `top` the opener's last sets."""

    kind: Literal["count", "opener", "top"]
    terms: Terms
    at_least: int = 1
    place: int = -1
    before: tuple[int, ...] = ()  # For an opener: the places that would open in its stead


@dataclass(frozen=True, slots=True, kw_only=True)
class Constraint:
    """One rule over variables."""

    code: str
    terms: Terms
    low: int | None = None
    high: int | None = None
    tier: int = HARD
    price: int = 0
    facts: Mapping[str, FactValue] = field(default_factory=dict)

    def outside(self, values: Sequence[int]) -> int:
        """Units by which the values miss the bounds."""
        total = 0
        for var, coefficient in self.terms:
            total += coefficient * values[var]
        under = 0 if self.low is None else max(0, self.low - total)
        over = 0 if self.high is None else max(0, total - self.high)
        return under + over


class WeekVariables:
    """The variables of a problem's places, and the constraints over them."""

    def __init__(
        self,
        problem: Problem,
        places: Sequence[Place],
        pairs: Sequence[PlacePair] = (),
        *,
        one_week: bool = False,
    ) -> None:
        self.problem, self.places, self.one_week = problem, tuple(places), one_week
        self.pairs = tuple(pairs)
        count = len(self.places)
        self.used = range(count)
        self.last = range(count, 2 * count)
        self.first = self.last if one_week else range(2 * count, 3 * count)
        self.helpers: list[Helper] = []
        self._by_name: dict[object, int] = {}
        self.constraints: list[Constraint] = []
        self.options: tuple[Option, ...] = tuple(problem.options[p.option] for p in self.places)
        self._in_slot: dict[int, list[int]] = {}
        for index, place in enumerate(self.places):
            self._in_slot.setdefault(place.slot, []).append(index)

    @property
    def slots(self) -> tuple[int, ...]:
        """Slots that have places."""
        return tuple(sorted(self._in_slot))

    @property
    def size(self) -> int:
        return (2 if self.one_week else 3) * len(self.places) + len(self.helpers)

    def here(self, slot: int) -> list[int]:
        """Places of a slot."""
        return self._in_slot.get(slot, [])

    def uses(self, places: Iterable[int]) -> Terms:
        """How many of the places are used, as terms."""
        return [(self.used[i], 1) for i in places]

    def where(
        self, test: Callable[[Option], bool], slots: Iterable[int] | None = None
    ) -> list[int]:
        """Places whose option passes a test, in some slots or all."""
        if slots is None:
            return [i for i, option in enumerate(self.options) if test(option)]
        here = sorted(i for slot in set(slots) for i in self.here(slot))
        return [i for i in here if test(self.options[i])]

    def add(self, code: str, terms: Terms, *, low: int | None = None, high: int | None = None,
            tier: int = HARD, price: int | str | None = None,
            **facts: FactValue) -> None:  # fmt: skip
        """A constraint; one without terms that cannot be met is kept, it says what is missing. The
        price is a number, or the name of one under `compose.price`, at first the code's own."""
        if not isinstance(price, int):
            price = self.problem.limits.price(price or code) if tier else 0
        kept = [(var, c) for var, c in terms if c]
        if not kept and (low is None or low <= 0) and (high is None or high >= 0):
            return
        self.constraints.append(
            Constraint(code=code, terms=kept, low=low, high=high, tier=tier, price=price,
                       facts=facts)
        )  # fmt: skip

    # --------------------------------------------------------------------------- helpers

    def helper(self, name: object, helper: Helper) -> int:
        """The variable of a helper, the same for the same name."""
        if name not in self._by_name:
            base = (2 if self.one_week else 3) * len(self.places)
            self.helpers.append(helper)
            self._by_name[name] = base + len(self.helpers) - 1
        return self._by_name[name]

    def any_of(self, name: object, places: Sequence[int]) -> int:
        """Whether any of the places is used."""
        return self.helper(name, Helper("count", self.uses(places)))

    def lift_used(self, name: str) -> int:
        """Whether a lift stands anywhere in the week."""
        return self.any_of(("lift", name), self.where(lambda o: o.lift.name == name))

    def hard_day(self, slot: int, muscle: str) -> int:
        """Whether a session is hard for a muscle."""
        terms = [(self.last[i], 1) for i in self.here(slot) if muscle in self.options[i].direct]
        at_least = self.problem.limits.hard_direct
        return self.helper(("hard", slot, muscle), Helper("count", terms, at_least))

    def openers(self, slot: int, rank: Callable[[Option], tuple[object, ...]]) -> dict[int, int]:
        """By main place of a slot: whether it opens the session."""
        mains = [i for i in self.here(slot) if self.options[i].is_main]
        ranked = sorted(mains, key=lambda i: (rank(self.options[i]), i))
        found = {}
        for at, place in enumerate(ranked):
            opens = Helper("opener", (), place=place, before=tuple(ranked[:at]))
            found[place] = self.helper(("opener", place), opens)
        return found

    def top(self, slot: int, openers: Mapping[int, int]) -> int:
        """The last week's sets of the session's opener."""
        terms = [(opener, place) for place, opener in openers.items()]
        return self.helper(("top", slot), Helper("top", terms))

    # ---------------------------------------------------------------------------- bounds

    def bounds(self, var: int) -> tuple[int, int]:
        """The least and most a variable may be."""
        count = len(self.places)
        if var < count:
            return 0, 1
        if var < 2 * count:
            return 0, self.problem.most_sets(self.options[var - count])
        if not self.one_week and var < 3 * count:
            option = self.options[var - 2 * count]
            return 0, min(self.problem.first_most(option), self.problem.most_sets(option))
        helper = self.helpers[var - (self.size - len(self.helpers))]
        return 0, 6 if helper.kind == "top" else 1

    # ----------------------------------------------------------------------------- judging

    def values(self, sets: Mapping[int, tuple[int, int]]) -> list[int]:
        """Every variable's value for sets by place: (week one, last week)."""
        count = len(self.places)
        values = [0] * self.size
        for place, (first, last) in sets.items():
            if last:
                values[place] = 1
                values[self.last[place]] = last
                values[self.first[place]] = last if self.one_week else first
        base = self.size - len(self.helpers)
        for at, helper in enumerate(self.helpers):
            values[base + at] = self._value(helper, values, count)
        return values

    def _value(self, helper: Helper, values: Sequence[int], count: int) -> int:
        if helper.kind == "count":
            return int(sum(c * values[v] for v, c in helper.terms) >= helper.at_least)
        if helper.kind == "opener":
            return int(bool(values[helper.place]) and not any(values[k] for k in helper.before))
        return next((values[count + place] for opener, place in helper.terms if values[opener]), 0)

    def broken(self, values: Sequence[int]) -> list[tuple[Constraint, int]]:
        """The constraints the values miss, and by how much."""
        found = [(rule, rule.outside(values)) for rule in self.constraints]
        return [(rule, units) for rule, units in found if units]

    def cost(self, values: Sequence[int], tiers: Collection[int] = TIERS) -> int:
        """The price of all that is missed in some tiers."""
        broken = self.broken(values)
        return sum(rule.price * units for rule, units in broken if rule.tier in tiers)


def whole_share(share: float) -> int:
    """A share as whole hundredths, for rows of whole numbers."""
    return round(100 * share)
