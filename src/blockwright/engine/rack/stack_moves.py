"""How many plates one side changes between two loadings, heaviest inside."""

from collections.abc import Mapping
from itertools import takewhile


def on_the_sleeve(counts: Mapping[str, int]) -> tuple[str, ...]:
    """Plates from the collar outwards, in the order of `counts`."""
    return tuple(label for label, count in counts.items() for _ in range(count))


def moves_between(before: Mapping[str, int], after: Mapping[str, int]) -> int:
    """Plates taken off and put on, one side, when only the outermost can be taken off."""
    one, other = on_the_sleeve(before), on_the_sleeve(after)
    kept = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))
    return len(one) + len(other) - 2 * kept
