"""The tabular CUSUM: upward and downward sums of what lies beyond a slack (Page 1954).

Montgomery, Introduction to Statistical Quality Control, ch. 9. Values, slack and limit share
one unit; with standardised values they are standard deviations.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class CusumPoint:
    """Both sums after one value, and for how many values each has stood above 0."""

    up: float
    down: float
    up_for: int
    down_for: int
    up_sounds: bool
    down_sounds: bool

    @property
    def sounds(self) -> bool:
        """Whether either sum stands above the limit."""
        return self.up_sounds or self.down_sounds


def step(statistic: float, beyond_target: float, slack: float) -> float:
    """The next sum: max(0, statistic + beyond_target - slack).

    `beyond_target` is positive in the direction the sum looks.
    """
    return max(0.0, statistic + beyond_target - slack)


def tabular_cusum(
    values: Sequence[float], *, target: float, slack: float, limit: float, start: float = 0.0
) -> tuple[CusumPoint, ...]:
    """Both one-sided sums of `values` about `target`, from `start` (a head start if above 0).

    A sum sounds while it is strictly above `limit`; it is not set back.
    """
    points: list[CusumPoint] = []
    up, down = start, start
    up_for = down_for = 0
    for value in values:
        up = step(up, value - target, slack)
        down = step(down, target - value, slack)
        up_for = up_for + 1 if up > 0 else 0
        down_for = down_for + 1 if down > 0 else 0
        points.append(
            CusumPoint(
                up=up,
                down=down,
                up_for=up_for,
                down_for=down_for,
                up_sounds=up > limit,
                down_sounds=down > limit,
            )
        )
    return tuple(points)


def mean_since_change(point: CusumPoint, *, target: float, slack: float) -> float:
    """Where the process mean seems to stand since the larger sum left 0.

    target + slack + up / up_for, or target - slack - down / down_for (Montgomery ch. 9);
    `target` itself when both sums are 0.
    """
    if point.up == 0 and point.down == 0:
        return target
    if point.up >= point.down:
        return target + slack + point.up / point.up_for
    return target - slack - point.down / point.down_for


def plain_cusum(values: Sequence[float], *, target: float) -> tuple[float, ...]:
    """Running sums of `value - target`."""
    sums: list[float] = []
    total = 0.0
    for value in values:
        total += value - target
        sums.append(total)
    return tuple(sums)
