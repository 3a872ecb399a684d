"""A repeatable stream of numbers for the search: the same on every machine and in every run."""

import numpy as np
from numpy.typing import NDArray

_STEP = np.uint64(0x9E3779B97F4A7C15)


class Dice:
    """splitmix64 (Steele, Lea, Flood 2014) over a counter; a seed gives one fixed stream."""

    def __init__(self, seed: int) -> None:
        self._count = np.uint64(seed * 1_000_003 + 1)

    def shares(self, size: int) -> NDArray[np.float64]:
        """`size` numbers in [0, 1)."""
        with np.errstate(over="ignore"):
            z = (self._count + np.arange(size, dtype=np.uint64)) * _STEP
            self._count = self._count + np.uint64(size)
            z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
            z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
            z = z ^ (z >> np.uint64(31))
        return np.asarray((z >> np.uint64(11)).astype(np.float64) / 2.0**53)

    def below(self, count: int) -> int:
        """A whole number in [0, count)."""
        return int(self.shares(1)[0] * count)
