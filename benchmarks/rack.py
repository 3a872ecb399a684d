"""The plate solver beside the exhaustive search, on inventories a search can still finish.

One JSON line a figure; `ratio` is value over reference, so smaller is better.
"""

import json
import random
import sys
import time
from collections.abc import Callable
from fractions import Fraction
from itertools import product
from statistics import median

from blockwright.engine.gym import Gym, Mass, PlatePairs
from blockwright.engine.rack import Rack, bar_rack, partner_moves, warmup_ladder
from blockwright.engine.rack.plates import plate_set
from blockwright.engine.units import Unit
from blockwright.files.policy_files import default_policy

POLICY = default_policy()
LB = Fraction(45359237, 100_000_000)
HOME: list[tuple[float, Unit, int]] = [
    (20, "kg", 3), (15, "kg", 1), (10, "kg", 2), (5, "kg", 2), (2.5, "kg", 2), (1.25, "kg", 2),
    (45, "lb", 2), (10, "lb", 2), (2.5, "lb", 1),
]  # fmt: skip


def gym_of(plates: list[tuple[float, Unit, int]]) -> Gym:
    pairs = tuple(
        PlatePairs(mass=Mass(value=value, unit=unit, label=f"{value:g} {unit}"), pairs=n)
        for value, unit, n in plates
    )
    return Gym(kit=frozenset({"bar"}), unit="kg", plates=pairs)


def thirty_kinds(seed: int) -> list[tuple[float, Unit, int]]:
    rng = random.Random(seed)
    return [
        (rng.randint(1, 100) / 4, "kg" if i % 2 else "lb", rng.randint(1, 6)) for i in range(30)
    ]


def search(plates: list[tuple[float, Unit, int]], load_kg: float) -> Fraction:
    """The greatest load not above, by trying every set of plates a side."""
    grams = [Fraction(str(v)) * (1 if unit == "kg" else LB) for v, unit, _ in plates]
    target = (Fraction(str(load_kg)) - 20) / 2
    sums = (
        sum((n * g for n, g in zip(counts, grams, strict=True)), Fraction(0))
        for counts in product(*(range(n + 1) for *_, n in plates))
    )
    return 20 + 2 * max(each for each in sums if each <= target)


def timed_ms(run: Callable[[], object], times: int) -> float:
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append(time.perf_counter() - start)
    return 1000 * median(spent)


def cold(plates: list[tuple[float, Unit, int]]) -> Rack:
    """A rack with its table made anew, as the first question of a session finds it."""
    plate_set.cache_clear()
    return bar_rack(gym_of(plates), POLICY)


def report(bench: str, value: float, reference_ms: float, reference: str) -> None:
    line = {
        "bench": bench,
        "value": round(value, 4),
        "unit": "ms",
        "reference": f"{reference}: {reference_ms:.1f} ms",
        "ratio": round(value / reference_ms, 5),
    }
    sys.stdout.write(json.dumps(line) + "\n")


def main() -> None:
    """Prints the figures; targets: 50 ms usual, 3 ms heavy inside, 350 ms free order."""
    rack = cold(HOME)
    found = rack.at_most(123.4)
    if found is None or found.load_kg != float(search(HOME, 123.4)):
        raise SystemExit("the solver and the search disagree")
    search_ms = timed_ms(lambda: search(HOME, 123.4), 1)
    first_ms = timed_ms(lambda: cold(HOME).at_most(123.4), 20)
    next_ms = timed_ms(lambda: rack.at_most(123.4), 200)
    warmup_ms = timed_ms(lambda: warmup_ladder(rack, found.load_kg, None, POLICY), 20)
    partner_ms = timed_ms(lambda: partner_moves(rack, 140.0, 62.5), 20)
    report("rack: first answer", first_ms, search_ms, "exhaustive search")
    report("rack: next answer", next_ms, search_ms, "exhaustive search")
    report("rack: warm-up ladder", warmup_ms, 50, "target")
    report("rack: partner's moves", partner_ms, 350, "target")
    many = thirty_kinds(7)
    wide = cold(many)
    low, high = wide.at_most(97.3), wide.at_most(183.1)
    if low is None or high is None:
        raise SystemExit("thirty kinds of plates make no load")
    first_ms = timed_ms(lambda: cold(many).at_most(183.1), 20)
    partner_ms = timed_ms(lambda: partner_moves(wide, high.load_kg, low.load_kg), 5)
    report("rack: first answer, 30 kinds kg and lb", first_ms, 50, "target")
    report("rack: partner's moves, 30 kinds kg and lb", partner_ms, 350, "target")


if __name__ == "__main__":
    main()
