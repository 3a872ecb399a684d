"""Two lifters take turns on one bar: which plates stay, which move, and in what order.

The plates both need go on first and stay. Any order on the sleeve is allowed, so that only the
difference moves; among all plate sets that make the two loads, the pair with the fewest moves is
found. Kilogram and pound plates are solved apart (a sum has one split between them)."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from .loads import Rack
from .makers import Setting
from .masses import load_ng
from .plates import PlateSet, PlateTable

_Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PartnerMoves:
    """One bar for two loads. Plates by label, one side, heaviest first.

    Load `shared` first (inside), then `first_only`. At each change of turn the plates of the one
    come off and those of the other go on: `moves_per_side` in all."""

    first: Setting
    second: Setting
    shared: Mapping[str, int]
    first_only: Mapping[str, int]
    second_only: Mapping[str, int]

    @property
    def moves_per_side(self) -> int:
        return sum(self.first_only.values()) + sum(self.second_only.values())


def partner_moves(rack: Rack, load_a_kg: float, load_b_kg: float) -> PartnerMoves | None:
    """The fewest plate moves between two loads on the rack's bar; `load_a_kg` is lifted first.

    None when the two loads are not both made on one bar with two sides: ask `Rack.at_most` first.
    Raises ValueError on NaN or infinity."""
    wanted = rack.exactly(load_a_kg), rack.exactly(load_b_kg)
    if wanted[0] is None or wanted[1] is None or wanted[0].bar != wanted[1].bar:
        return None
    bar = rack.bar_of(wanted[0])
    if bar is None or bar.sides != 2:
        return None
    sides = [(load_ng(setting.load_kg) - bar.bar_ng) // bar.sides for setting in wanted if setting]
    shared, first_only, second_only = _fewest_moves(bar.plates, sides[0], sides[1])
    first, second = (
        bar.with_plates(bar.plates.heavy_first(_added(shared, only)))
        for only in (first_only, second_only)
    )
    return PartnerMoves(
        first=first,
        second=second,
        shared=bar.plates.heavy_first(shared),
        first_only=bar.plates.heavy_first(first_only),
        second_only=bar.plates.heavy_first(second_only),
    )


def _added(one: Mapping[str, int], other: Mapping[str, int]) -> dict[str, int]:
    return {label: one.get(label, 0) + other.get(label, 0) for label in (*one, *other)}


def _fewest_moves(
    plates: PlateSet, first_ng: int, second_ng: int
) -> tuple[dict[str, int], dict[str, int], dict[str, int]]:
    shared: dict[str, int] = {}
    first_only: dict[str, int] = {}
    second_only: dict[str, int] = {}
    first_shares, second_shares = plates.shares(first_ng), plates.shares(second_ng)
    for (group, first), (_, second) in zip(first_shares, second_shares, strict=True):
        stay, difference = _Exchange(group.table, first, second, plates.most_plates).best()
        for plate, kept, extra in zip(group.plates, stay, difference, strict=True):
            shared[plate.label] = kept
            first_only[plate.label] = max(extra, 0)
            second_only[plate.label] = max(-extra, 0)
    return shared, first_only, second_only


class _Exchange:
    """Fewest moves within the plates of one unit, in grains.

    A difference gives each kind a whole number: positive for plates only the first loading has,
    negative for plates only the second has. `reach[i][k]` is the set of differences that exactly k
    moved plates of the kinds from i on can make, one bit each, offset by `zero`."""

    def __init__(self, table: PlateTable, first: int, second: int, most_plates: int) -> None:
        self.table = table
        self.first = first
        self.second = second
        self.most_plates = most_plates
        self.most_moves = self._moves_when_each_is_set_alone()
        self.zero = sum(mass * min(n, self.most_moves) for mass, n in table.kinds)
        self.reach = self._reach()

    def best(self) -> tuple[_Counts, _Counts]:
        """(plates that stay, difference) by kind, for the fewest moves."""
        for moves in range(self.most_moves + 1):
            for difference in self._differences(0, self.first - self.second, moves):
                stay = self._stay(difference)
                if stay is not None:
                    return stay, difference
        raise ValueError("both sums were promised to be possible")

    def _moves_when_each_is_set_alone(self) -> int:
        alone = zip(self.table.counts(self.first), self.table.counts(self.second), strict=True)
        return sum(abs(one - other) for one, other in alone)

    def _reach(self) -> list[list[int]]:
        reach = [[1 << self.zero] + [0] * self.most_moves]
        for mass, count in reversed(self.table.kinds):
            after = reach[-1]
            here = list(after)
            for moves in range(1, self.most_moves + 1):
                for taken in range(1, min(count, moves) + 1):
                    rest = after[moves - taken]
                    here[moves] |= rest << taken * mass | rest >> taken * mass
            reach.append(here)
        return reach[::-1]

    def _differences(self, place: int, difference: int, moves: int) -> Iterator[_Counts]:
        """Every way to make `difference` by exactly `moves` plates of the kinds from `place`."""
        if not 0 <= difference + self.zero < self.reach[place][moves].bit_length():
            return
        if not self.reach[place][moves] >> (difference + self.zero) & 1:
            return
        if place == len(self.table.kinds):
            yield ()
            return
        mass, count = self.table.kinds[place]
        for taken in range(min(count, moves), -1, -1):
            for sign in (1, -1) if taken else (1,):
                left = difference - sign * taken * mass
                for rest in self._differences(place + 1, left, moves - taken):
                    yield (sign * taken, *rest)

    def _stay(self, difference: Sequence[int]) -> _Counts | None:
        """The plates that stay on beside the difference, or None when there are none such."""
        kinds = self.table.kinds
        first_only = sum(mass * max(n, 0) for (mass, _), n in zip(kinds, difference, strict=True))
        stay = self.first - first_only
        if not self.table.makes(stay):
            return None
        left = [(mass, c - abs(n)) for (mass, c), n in zip(kinds, difference, strict=True)]
        heavier = max(sum(max(n, 0) for n in difference), sum(max(-n, 0) for n in difference))
        table = PlateTable(left, stay, self.most_plates - heavier)
        return table.counts(stay) if table.makes(stay) else None
