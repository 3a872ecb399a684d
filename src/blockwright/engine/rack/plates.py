"""Which sums a limited set of plates makes on one side, exactly, and with which plates.

A set of sums is one long integer: bit s is set when s grains can be made (a grain is the greatest
common divisor of the masses). Adding a plate is a shift, so the whole table of a gym costs well
under a millisecond. Kilogram and pound plates keep a table each, because a sum of the one never
equals a sum of the other below 100,000 lb; the two are joined on asking."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import takewhile

from blockwright.engine.units import Unit
from .masses import EXACT_NG


@dataclass(frozen=True, slots=True)
class Plate:
    """One kind of plate: its label as written in the gym, mass, and how many one side may take."""

    label: str
    mass_ng: int
    unit: Unit
    count: int


class PlateTable:
    """The sums that plates of one unit make with exactly k plates, for every k.

    `kinds` are (mass in grains, count), heaviest first. `layers[i][k]` holds the sums made by
    exactly k plates of the kinds from i on. Sums above `most` grains and sets of more than
    `most_plates` are left out."""

    def __init__(self, kinds: Sequence[tuple[int, int]], most: int, most_plates: int) -> None:
        self.kinds = tuple(kinds)
        mask = (1 << (most + 1)) - 1
        layers: list[list[int]] = [[1]]
        for mass, count in reversed(self.kinds):
            layers.append(_with_kind(layers[-1], mass, count, mask, most_plates))
        self.layers = tuple(reversed(layers))
        sums = 0
        for layer in self.layers[0]:
            sums |= layer
        self.sums = sums

    def at_most(self, target: int) -> int | None:
        """The greatest sum not above `target` grains; None when target is negative."""
        if target < 0:
            return None
        if target >= self.sums.bit_length():
            return self.sums.bit_length() - 1
        return (self.sums & ((1 << (target + 1)) - 1)).bit_length() - 1

    def at_least(self, target: int) -> int | None:
        """The smallest sum not below `target` grains, or None."""
        if target <= 0:
            return 0
        above = self.sums >> target
        return target + (above & -above).bit_length() - 1 if above else None

    def makes(self, total: int) -> bool:
        """Whether `total` grains can be made."""
        return total >= 0 and bool(self.sums >> total & 1)

    def every_sum(self) -> Iterator[int]:
        """All sums, rising."""
        smallest_first = bin(self.sums)[:1:-1]
        return (total for total, made in enumerate(smallest_first) if made == "1")

    def counts(self, total: int) -> tuple[int, ...]:
        """Plates of each kind for `total`: fewest plates, then as many of the heaviest as can be.

        Raises ValueError when the sum cannot be made."""
        for left, layer in enumerate(self.layers[0]):
            if layer >> total & 1:
                return self._counts(total, left)
        raise ValueError(f"{total} grains cannot be made")

    def _counts(self, total: int, left: int) -> tuple[int, ...]:
        chosen = []
        for place, (mass, count) in enumerate(self.kinds):
            after = self.layers[place + 1]
            take = min(count, left, total // mass)
            while left - take >= len(after) or not after[left - take] >> (total - take * mass) & 1:
                take -= 1
            chosen.append(take)
            total -= take * mass
            left -= take
        return tuple(chosen)


def _with_kind(
    layers: Sequence[int], mass: int, count: int, mask: int, most_plates: int
) -> list[int]:
    """The layers with up to `count` more plates of `mass` grains (binary splitting)."""
    grown = list(layers)
    piece = 1
    while count > 0:
        piece = min(piece, count)
        room = min(len(grown) + piece, most_plates + 1)
        grown += [0] * (room - len(grown))
        for plates in range(room - 1, piece - 1, -1):
            grown[plates] |= grown[plates - piece] << (piece * mass) & mask
        count -= piece
        piece *= 2
    while not grown[-1]:
        grown.pop()
    return grown


@dataclass(frozen=True)
class _Group:
    """The plates of one unit with their table; one grain is `grain_ng`."""

    plates: tuple[Plate, ...]
    grain_ng: int
    table: PlateTable


class PlateSet:
    """All plates one side (or a belt) may take, kilograms and pounds together."""

    def __init__(self, plates: Sequence[Plate], most_ng: int, most_plates: int) -> None:
        """`most_ng` bounds one side; kinds without mass or count are left out."""
        usable = sorted(
            (plate for plate in plates if plate.mass_ng > 0 and plate.count > 0),
            key=lambda plate: (-plate.mass_ng, plate.label),
        )
        self.plates = tuple(usable)
        self.most_plates = most_plates
        units: tuple[Unit, ...] = ("kg", "lb")
        groups = [_group(usable, unit, most_ng, most_plates) for unit in units]
        groups.sort(key=lambda group: group.table.sums.bit_count())
        self.few, self.many = groups
        self._few_sums = tuple(self.few.table.every_sum())

    def at_most(self, target_ng: int) -> int | None:
        """The greatest sum not above `target_ng`, ng; None when target is negative."""
        best: int | None = None
        for few in self._few_sums:
            left = target_ng - few * self.few.grain_ng
            many = self.many.table.at_most(left // self.many.grain_ng)
            if many is None:
                break
            total = target_ng - left + many * self.many.grain_ng
            if best is None or total > best:
                best = total
                if target_ng - best < EXACT_NG // 2:
                    break
        return best

    def at_least(self, target_ng: int) -> int | None:
        """The smallest sum not below `target_ng`, ng, or None."""
        best: int | None = None
        for few in self._few_sums:
            left = target_ng - few * self.few.grain_ng
            if best is not None and target_ng - left >= best:
                break
            many = self.many.table.at_least(-(-left // self.many.grain_ng))
            if many is None:
                continue
            total = target_ng - left + many * self.many.grain_ng
            if best is None or total < best:
                best = total
                if best - target_ng < EXACT_NG // 2:
                    break
        return best

    def shares(self, total_ng: int) -> tuple[tuple[_Group, int], ...]:
        """What each unit's plates carry of `total_ng`: (group, grains). There is only one way.

        Raises ValueError when the sum cannot be made."""
        for few in self._few_sums:
            many, off_grain = divmod(total_ng - few * self.few.grain_ng, self.many.grain_ng)
            if not off_grain and self.many.table.makes(many):
                return ((self.few, few), (self.many, many))
        raise ValueError(f"{total_ng} ng cannot be made")

    def counts(self, total_ng: int) -> Mapping[str, int]:
        """Plates by label for an exact sum: fewest plates, heaviest first (that is, inside)."""
        taken: dict[str, int] = {}
        for group, grains in self.shares(total_ng):
            counts = group.table.counts(grains)
            taken |= {plate.label: n for plate, n in zip(group.plates, counts, strict=True) if n}
        return self.heavy_first(taken)

    def heavy_first(self, counts: Mapping[str, int]) -> dict[str, int]:
        """The same plates, ordered from the heaviest to the lightest."""
        labels = [plate.label for plate in self.plates]
        return {label: counts[label] for label in labels if counts.get(label)}


def _group(plates: Sequence[Plate], unit: Unit, most_ng: int, most_plates: int) -> _Group:
    own = tuple(plate for plate in plates if plate.unit == unit)
    grain_ng = math.gcd(*(plate.mass_ng for plate in own)) or 1
    all_of_them = sum(plate.mass_ng * plate.count for plate in own)
    kinds = [(plate.mass_ng // grain_ng, plate.count) for plate in own]
    most = min(most_ng, all_of_them) // grain_ng
    return _Group(own, grain_ng, PlateTable(kinds, most, most_plates))


@lru_cache(maxsize=64)
def plate_set(plates: tuple[Plate, ...], most_ng: int, most_plates: int) -> PlateSet:
    """The table of these plates, kept: every lift on the same bars asks the same one."""
    return PlateSet(plates, most_ng, most_plates)


def on_the_sleeve(counts: Mapping[str, int]) -> tuple[str, ...]:
    """Plates from the collar outwards, in the order of `counts`."""
    return tuple(label for label, count in counts.items() for _ in range(count))


def moves_between(before: Mapping[str, int], after: Mapping[str, int]) -> int:
    """Plates taken off and put on, one side, when only the outermost can be taken off."""
    one, other = on_the_sleeve(before), on_the_sleeve(after)
    kept = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))
    return len(one) + len(other) - 2 * kept
