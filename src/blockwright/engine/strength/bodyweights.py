"""Who weighs what, when: a lift that moves bodyweight needs it, and so do limits in bodyweights."""

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from blockwright.engine.training import CheckIn


@dataclass(frozen=True, slots=True)
class Bodyweights:
    """Who weighs what, when: a lifter file's bodyweight and the weigh-ins of the check-ins."""

    usual_kg: float | None = None
    weigh_ins: tuple[CheckIn, ...] = ()

    def on(self, lifter: str | None, day: date) -> float | None:
        """kg on `day`: the last weigh-in up to then, else the usual; None when neither is known."""
        return self.reader()(lifter, day)

    def least(self) -> float | None:
        """The lightest anybody is known to have been, kg."""
        known = [c.value for c in self.weigh_ins if c.measure == "bodyweight"]
        return min([*known, *([] if self.usual_kg is None else [self.usual_kg])], default=None)

    def reader(self) -> Callable[[str | None, date], float | None]:
        """`on` for many questions: each person's weigh-ins are sorted once."""
        sorted_of: dict[str | None, tuple[list[date], list[float]]] = {}

        def weighed(lifter: str | None) -> tuple[list[date], list[float]]:
            mine = sorted(
                (c.moment.day, c.value)
                for c in self.weigh_ins
                if c.measure == "bodyweight" and c.lifter in (None, lifter)
            )
            return [day for day, _ in mine], [kg for _, kg in mine]

        def on(lifter: str | None, day: date) -> float | None:
            if lifter not in sorted_of:
                sorted_of[lifter] = weighed(lifter)
            days, kilograms = sorted_of[lifter]
            place = bisect_right(days, day)
            if place:
                return kilograms[place - 1]
            return self.usual_kg

        return on
