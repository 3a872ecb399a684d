"""`Rack`: every load one lift can be set to, asked in kilograms as written on the sheet."""

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property

from blockwright.engine.training import Lift, effective_load_kg, written_load_kg
from .makers import Maker, Plated, Setting
from .masses import EXACT_NG, NG_PER_KG, SAME_LOAD_NG, load_ng

_BEYOND_ANY_NG = 10**9 * NG_PER_KG


class Rack:
    """What loads the kit can make for one lift. Read-only.

    Loads are kg as written on the sheet. A load within `SAME_LOAD_NG` of one that can be made is
    that load. `more_is_easier` is true where the number is assistance."""

    def __init__(self, makers: Sequence[Maker], *, more_is_easier: bool = False) -> None:
        """Where two makers make the same load, the earlier one is used."""
        if not makers:
            raise ValueError("a rack without anything to lift")
        self.makers = tuple(makers)
        self.more_is_easier = more_is_easier

    @property
    def has_bar(self) -> bool:
        """Whether its least load is an empty bar."""
        return self.easiest.bar is not None

    def bar_of(self, setting: Setting) -> Plated | None:
        """The bar of a setting, or None where there is none."""
        if setting.bar is None:
            return None
        bars = [maker for maker in self.makers if isinstance(maker, Plated)]
        return next((bar for bar in bars if bar.bar == setting.bar), None)

    def at_most(self, load_kg: float) -> Setting | None:
        """The greatest load not above `load_kg`, or None. Raises ValueError on NaN or infinity."""
        wanted = load_ng(load_kg)
        return self._very(wanted) or self._at_most(wanted + SAME_LOAD_NG)

    def at_least(self, load_kg: float) -> Setting | None:
        """The smallest load not below `load_kg`, or None."""
        wanted = load_ng(load_kg)
        return self._very(wanted) or self._at_least(wanted - SAME_LOAD_NG)

    def next_above(self, load_kg: float) -> Setting | None:
        """The smallest load above `load_kg`, or None."""
        return self._at_least(load_ng(load_kg) + SAME_LOAD_NG + 1)

    def next_below(self, load_kg: float) -> Setting | None:
        """The greatest load below `load_kg`, or None."""
        return self._at_most(load_ng(load_kg) - SAME_LOAD_NG - 1)

    def exactly(self, load_kg: float) -> Setting | None:
        """The setting of this very load, or None when the kit cannot make it."""
        found = self.at_most(load_kg)
        if found is None or load_ng(load_kg) - load_ng(found.load_kg) > SAME_LOAD_NG:
            return None
        return found

    @cached_property
    def least(self) -> Setting:
        """The smallest number the kit can be set to (the bar alone, 0 for bodyweight)."""
        found = self._at_least(0)
        if found is None:
            raise ValueError("a rack that makes no load")
        return found

    @cached_property
    def easiest(self) -> Setting:
        """The setting that asks least of the lifter: the least load, or the most assistance."""
        if not self.more_is_easier:
            return self.least
        found = self._at_most(_BEYOND_ANY_NG)
        if found is None:
            raise ValueError("a rack that makes no load")
        return found

    def not_harder_than(self, load_kg: float) -> Setting | None:
        """The nearest load that asks no more of the lifter: below, or more assistance."""
        return self.at_least(load_kg) if self.more_is_easier else self.at_most(load_kg)

    def next_harder(self, load_kg: float) -> Setting | None:
        """One step harder, or None at the end of the kit."""
        return self.next_below(load_kg) if self.more_is_easier else self.next_above(load_kg)

    def next_easier(self, load_kg: float) -> Setting | None:
        """One step easier, or None at the end of the kit."""
        return self.next_above(load_kg) if self.more_is_easier else self.next_below(load_kg)

    def harder_of(self, one: Setting | None, other: Setting) -> Setting:
        """Which of the two asks more of the lifter."""
        way = -1 if self.more_is_easier else 1
        return one if one is not None and way * (one.load_kg - other.load_kg) > 0 else other

    def harder_than(self, load_kg: float) -> Iterator[Setting]:
        """Every load beyond this one, ever harder."""
        return self._walked(self.next_harder, load_kg)

    def easier_than(self, load_kg: float) -> Iterator[Setting]:
        """Every load short of this one, ever easier."""
        return self._walked(self.next_easier, load_kg)

    @staticmethod
    def _walked(step: Callable[[float], Setting | None], load_kg: float) -> Iterator[Setting]:
        while (found := step(load_kg)) is not None:
            yield found
            load_kg = found.load_kg

    def between(self, low_kg: float, high_kg: float) -> Iterator[Setting]:
        """Every load from `low_kg` to `high_kg`, both included, rising."""
        found = self.at_least(low_kg)
        top = load_ng(high_kg) + SAME_LOAD_NG
        while found is not None and load_ng(found.load_kg) <= top:
            yield found
            found = self._at_least(load_ng(found.load_kg) + EXACT_NG + 1)

    def _very(self, target_ng: int) -> Setting | None:
        """The load itself to a milligram: kit of two units makes loads a few grams apart."""
        found = self._at_least(target_ng - EXACT_NG)
        is_it = found is not None and load_ng(found.load_kg) <= target_ng + EXACT_NG
        return found if is_it else None

    def _at_most(self, target_ng: int) -> Setting | None:
        return self._best([maker.at_most(target_ng) for maker in self.makers], max)

    def _at_least(self, target_ng: int) -> Setting | None:
        return self._best([maker.at_least(target_ng) for maker in self.makers], min)

    def _best(self, found: list[int | None], pick: Callable[[list[int]], int]) -> Setting | None:
        loads = [ng for ng in found if ng is not None]
        if not loads:
            return None
        best = pick(loads)
        return self.makers[found.index(best)].setting(best)


def hardest_moving(
    rack: Rack, lift: Lift, effective_kg: float, bodyweight_kg: float | None
) -> Setting | None:
    """The hardest setting that moves no more than so much; None where none moves anything."""
    written = written_load_kg(lift, effective_kg, bodyweight_kg)
    found = None if written is None else rack.not_harder_than(max(written, 0.0))
    while found is not None:
        moved = effective_load_kg(lift, found.load_kg, bodyweight_kg) or 0.0
        if moved <= effective_kg * (1 + 1e-9):
            return found if moved > 0 else None
        # The kit's tolerance counts a load some grams above as the same.
        found = rack.next_easier(found.load_kg)
    return None
