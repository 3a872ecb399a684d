"""The things that make a load: a bar with plates, a run of dumbbells, a stack, nothing at all.

Each answers in ng: the greatest load not above, the smallest not below, and how a load that it
makes is set."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, Protocol

from blockwright.engine.gym import Ladder
from blockwright.engine.units import number_text
from .masses import kg_of, mass_ng
from .plates import PlateSet

Place = Literal["each side", "on the end", "on the belt", "added", "in the hands", "in each hand"]
"""Where plates go; only on a bar's two sides are they taken in pairs."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a load is set. Two settings of one rack with the same load are equal."""

    load_kg: float
    plates_per_side: Mapping[str, int] | None
    """Label as written in the gym to count, heaviest (inside) first; {} is the bar alone; None
    when no bar with two sides is loaded."""
    says: str
    bar: str | None = None


class Maker(Protocol):
    """One run of loads."""

    def at_most(self, target_ng: int) -> int | None:
        """The greatest load not above, ng, or None."""

    def at_least(self, target_ng: int) -> int | None:
        """The smallest load not below, ng, or None."""

    def setting(self, ng: int) -> Setting:
        """How a load it makes is set."""


@dataclass(frozen=True)
class Plated:
    """Plates on a bar (both sides, or one end), on a belt or in the hands."""

    plates: PlateSet
    place: Place
    bar: str | None = None
    bar_ng: int = 0
    below_ng: int | None = None
    """Only loads below this one: a lighter bar helps out where the usual bar is too heavy."""

    @property
    def sides(self) -> int:
        return 2 if self.place == "each side" else 1

    @property
    def _least_ng(self) -> int:
        """Empty hands are no load; an empty bar or belt is one."""
        return 1 if self.place in ("in the hands", "in each hand") else 0

    @property
    def empty_kg(self) -> float:
        """The bar alone, kg."""
        return kg_of(self.bar_ng)

    def at_most(self, target_ng: int) -> int | None:
        if self.below_ng is not None:
            target_ng = min(target_ng, self.below_ng - 1)
        on_a_side = self.plates.at_most((target_ng - self.bar_ng) // self.sides)
        if on_a_side is None or on_a_side < self._least_ng:
            return None
        return self.bar_ng + self.sides * on_a_side

    def at_least(self, target_ng: int) -> int | None:
        wanted = -((self.bar_ng - target_ng) // self.sides)
        on_a_side = self.plates.at_least(max(wanted, self._least_ng))
        if on_a_side is None:
            return None
        ng = self.bar_ng + self.sides * on_a_side
        return None if self.below_ng is not None and ng >= self.below_ng else ng

    def setting(self, ng: int) -> Setting:
        return self.with_plates(self.plates.counts((ng - self.bar_ng) // self.sides))

    def with_plates(self, counts: Mapping[str, int]) -> Setting:
        """The setting of these plates on one side (label to count, heaviest first)."""
        on_a_side = sum(p.mass_ng * counts.get(p.label, 0) for p in self.plates.plates)
        return Setting(
            load_kg=kg_of(self.bar_ng + self.sides * on_a_side),
            plates_per_side=counts if self.place == "each side" else None,
            says=self._says(counts),
            bar=self.bar,
        )

    def _says(self, counts: Mapping[str, int]) -> str:
        if not counts:
            return f"{self.bar} alone" if self.bar else "bodyweight alone"
        plates = " + ".join(label for label, count in counts.items() for _ in range(count))
        return f"{self.bar}, {plates} {self.place}" if self.bar else f"{plates} {self.place}"


@dataclass(frozen=True)
class Run:
    """Even steps from the lightest to the heaviest: dumbbells, kettlebells, a stack with its pin.

    Add-on weights count once each, alone or together, on top of any step."""

    ladder: Ladder
    noun: Literal["dumbbell", "dumbbell in each hand", "kettlebell", "stack"]

    @cached_property
    def _low_ng(self) -> int:
        return mass_ng(self.ladder.low, self.ladder.unit)

    @cached_property
    def _step_ng(self) -> int:
        return mass_ng(self.ladder.step, self.ladder.unit)

    @cached_property
    def _steps(self) -> int:
        """Steps above the lightest; none when the step is nothing."""
        span = mass_ng(self.ladder.high, self.ladder.unit) - self._low_ng
        return span // self._step_ng if self._step_ng > 0 and span > 0 else 0

    @cached_property
    def _add_ons(self) -> Mapping[int, tuple[float, ...]]:
        """Sums of add-ons, ng, to the fewest that make it."""
        sums: dict[int, tuple[float, ...]] = {0: ()}
        for add_on in self.ladder.add_on:
            for ng, used in list(sums.items()):
                total = ng + mass_ng(add_on, self.ladder.unit)
                if total not in sums or len(used) + 1 < len(sums[total]):
                    sums[total] = (*used, add_on)
        return sums

    def at_most(self, target_ng: int) -> int | None:
        found = [
            self._low_ng + add_ng + self._step_ng * min(self._steps, over // (self._step_ng or 1))
            for add_ng in self._add_ons
            if (over := target_ng - self._low_ng - add_ng) >= 0
        ]
        return max(found, default=None)

    def at_least(self, target_ng: int) -> int | None:
        found = []
        for add_ng in self._add_ons:
            short = target_ng - self._low_ng - add_ng
            steps = max(0, -(-short // (self._step_ng or 1)))
            if steps <= self._steps:
                found.append(self._low_ng + add_ng + self._step_ng * steps)
        return min(found, default=None)

    def setting(self, ng: int) -> Setting:
        pin_ng, used = min(
            (
                (ng - add_ng, used)
                for add_ng, used in self._add_ons.items()
                if self._has(ng - add_ng)
            ),
            key=lambda way: (len(way[1]), -way[0]),
        )
        unit = self.ladder.unit
        written = f"{number_text(pin_ng / mass_ng(1, unit), 3)} {unit}"
        if self.noun != "stack":
            return Setting(kg_of(ng), None, f"{written} {self.noun}")
        add_ons = "".join(f" + {number_text(add_on, 3)} {unit}" for add_on in used)
        return Setting(kg_of(ng), None, f"pin at {written}{add_ons}")

    def _has(self, pin_ng: int) -> bool:
        steps, off_step = divmod(pin_ng - self._low_ng, self._step_ng or 1)
        return not off_step and 0 <= steps <= self._steps


@dataclass(frozen=True)
class NoLoad:
    """Nothing to set: bodyweight alone, or a band, whose pull has no number."""

    says: str

    def at_most(self, target_ng: int) -> int | None:
        return 0 if target_ng >= 0 else None

    def at_least(self, target_ng: int) -> int | None:
        return 0 if target_ng <= 0 else None

    def setting(self, ng: int) -> Setting:
        return Setting(kg_of(ng), None, self.says)
