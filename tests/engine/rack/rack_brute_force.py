"""The search that cannot be wrong: every set of plates one side may take, in exact fractions."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product

from hypothesis import strategies as st

from blockwright.engine.gym import Bar, Gym, Mass, PlatePairs
from blockwright.engine.rack import Rack, bar_rack
from blockwright.engine.units import Unit
from blockwright.files.policy_files import default_policy

KG = Fraction(1)
LB = Fraction(45359237, 100_000_000)

Loading = tuple[int, ...]


def mass(value: float, unit: Unit = "kg") -> Mass:
    return Mass(value=value, unit=unit, label=f"{value:g} {unit}")


def exact_kg(one: Mass) -> Fraction:
    return Fraction(str(one.value)) * (KG if one.unit == "kg" else LB)


def gym_with(
    plates: list[tuple[float, Unit, int]], bar: Mass | None = None, unit: Unit = "kg"
) -> Gym:
    bars = (Bar(name="the bar", mass=bar or mass(20)),)
    pairs = tuple(PlatePairs(mass=mass(value, each), pairs=n) for value, each, n in plates)
    return Gym(kit=frozenset({"bar"}), unit=unit, bars=bars, plates=pairs)


def loadings(gym: Gym) -> Iterator[tuple[Fraction, Loading]]:
    """(total load in kg, plates of each kind on one side) for every way to load the bar."""
    bar_kg = exact_kg(gym.bars[0].mass)
    masses = [exact_kg(pair.mass) for pair in gym.plates]
    for counts in product(*(range(pair.pairs + 1) for pair in gym.plates)):
        on_a_side = sum((n * kg for n, kg in zip(counts, masses, strict=True)), Fraction(0))
        yield bar_kg + 2 * on_a_side, counts


def best_counts(
    gym: Gym, everything: Sequence[tuple[Fraction, Loading]], load: Fraction
) -> dict[str, int]:
    """Fewest plates, then most of the heaviest, among all loadings of exactly `load`."""
    heavy_first = sorted(range(len(gym.plates)), key=lambda i: -exact_kg(gym.plates[i].mass))
    ways = [counts for total, counts in everything if total == load]
    best = min(ways, key=lambda way: (sum(way), [-way[i] for i in heavy_first]))
    return {gym.plates[i].mass.label: best[i] for i in heavy_first if best[i]}


def fewest_moves(
    everything: Sequence[tuple[Fraction, Loading]], first: Fraction, second: Fraction
) -> int:
    """Plates to move a side between two loads, over every pair of loadings."""
    return min(
        sum(abs(a - b) for a, b in zip(one, other, strict=True))
        for total, one in everything
        if total == first
        for total_too, other in everything
        if total_too == second
    )


KG_PLATES = (0.125, 0.25, 0.5, 1, 1.25, 1.5, 2, 2.5, 5, 7.3, 10, 15, 20, 25)
LB_PLATES = (0.5, 1.25, 2.5, 5, 10, 25, 35, 45)


def some_gym(*units: Unit) -> st.SearchStrategy[Gym]:
    kinds = [(v, "kg") for v in KG_PLATES if "kg" in units]
    kinds += [(v, "lb") for v in LB_PLATES if "lb" in units]
    picked = st.lists(st.sampled_from(kinds), min_size=1, max_size=5, unique=True)
    plates = picked.flatmap(
        lambda some: st.tuples(*(st.integers(0, 3).map(lambda n, k=kind: (*k, n)) for kind in some))
    )
    bars = st.sampled_from([mass(20), mass(15), mass(45, "lb"), mass(8.5)])
    return st.builds(lambda pairs, bar: gym_with(list(pairs), bar), plates, bars)


def rack_of(gym: Gym) -> Rack:
    return bar_rack(gym, default_policy())
