"""Run lengths of charts that the watch was compared with: two-sided, EWMA, Siegmund's formula.

As in `engine.change.run_length`: in standard deviations of one exposure, computed, not simulated.
"""

import math

import numpy as np

from blockwright.engine.change.run_length import (
    Values,
    legendre,
    normal_density,
    one_sided_run_length,
    solved,
)


def two_sided_run_length(k: float, h: float, shift: float = 0.0, start: float = 0.0) -> float:
    """Average run length of an upward and a downward chart run together.

    Both begin at `start` (a head start when above 0). Exact while the two cannot be above 0
    at once for long (Lucas & Crosier 1982, eq. for the combined run length).
    """
    up_zero = one_sided_run_length(k, h, shift)
    down_zero = one_sided_run_length(k, h, -shift)
    up = one_sided_run_length(k, h, shift, start)
    down = one_sided_run_length(k, h, -shift, start)
    return (up * down_zero + up_zero * down - up_zero * down_zero) / (up_zero + down_zero)


def ewma_run_length(smoothing: float, limit: float, shift: float = 0.0) -> float:
    """Average run length of a two-sided EWMA with asymptotic limits.

    Z = (1 - smoothing) Z + smoothing z, sounding when |Z| exceeds `limit` of its own SDs,
    sqrt(smoothing / (2 - smoothing)). Crowder 1987, Technometrics 29:401.
    """
    if not 0 < smoothing <= 1:
        raise ValueError(f"smoothing lies above 0 and up to 1, not {smoothing}")
    if not limit > 0:
        raise ValueError(f"a limit is above 0, not {limit}")
    bound = limit * math.sqrt(smoothing / (2 - smoothing))
    nodes, weights = legendre(-bound, bound)
    lengths = solved(_ewma_kernel(nodes, nodes, weights, smoothing, shift))
    row = _ewma_kernel(np.zeros(1), nodes, weights, smoothing, shift)
    return float(1.0 + row[0] @ lengths)


def siegmund_run_length(k: float, h: float, shift: float = 0.0) -> float:
    """Siegmund's closed approximation of the one-sided CUSUM's run length from 0.

    (exp(-2 D b) + 2 D b - 1) / (2 D^2) with D = shift - k and b = h + 1.166; b^2 at D = 0.
    Siegmund 1985, Sequential Analysis (from memory).
    """
    drift = shift - k
    b = h + 1.166
    if abs(drift) < 1e-6:
        return b * b
    return (math.exp(-2 * drift * b) + 2 * drift * b - 1) / (2 * drift * drift)


def _ewma_kernel(
    starts: Values, nodes: Values, weights: Values, smoothing: float, shift: float
) -> Values:
    """Shape (starts, nodes)."""
    needed = (nodes[None, :] - (1 - smoothing) * starts[:, None]) / smoothing - shift
    return weights / smoothing * normal_density(needed)
