"""How long a chart runs before it sounds: average run lengths, computed and not simulated.

Every function works in standard deviations of one exposure. `shift` is how far the mean has
moved in the direction the chart looks (0: in control, the run is a false alarm's). Run lengths
count exposures from the start of the chart up to and including the one that sounds.
"""

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]

NODES = 60
"""Gauss-Legendre nodes: six figures for limits up to 12 SD."""
LEAST_LIMIT = 1e-6
LONGEST_RUN = 1e6
"""Exposures; beyond it rounding errors of the linear system show."""


@lru_cache(maxsize=512)
def one_sided_run_length(k: float, h: float, shift: float = 0.0, start: float = 0.0) -> float:
    """Average run length of S = max(0, S + z - k), sounding when S > h, from S = `start`.

    Solves Page's integral equation L(u) = 1 + P(S falls to 0) L(0) + integral of L(x) over
    (0, h) by Gauss-Legendre quadrature (Lucas & Crosier 1982, Technometrics 24:199, appendix).
    """
    _check_limit(h)
    nodes, weights = _legendre(0.0, h)
    points = np.append(nodes, 0.0)
    lengths = _solved(_cusum_kernel(points, nodes, weights, k - shift))
    # the equation itself carries the solution from the nodes to any start
    row = _cusum_kernel(np.array([start]), nodes, weights, k - shift)
    return float(1.0 + row[0] @ lengths)


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
    _check_limit(limit)
    bound = limit * math.sqrt(smoothing / (2 - smoothing))
    nodes, weights = _legendre(-bound, bound)
    lengths = _solved(_ewma_kernel(nodes, nodes, weights, smoothing, shift))
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


@lru_cache(maxsize=256)
def limit_for(run_length: float, k: float) -> float:
    """The limit h whose one-sided in-control run, from 0, is `run_length` exposures.

    Raises ValueError for a run of one exposure or less, or one too long to be computed.
    """
    low, high = 0.0, 1.0
    if not one_sided_run_length(k, LEAST_LIMIT) < run_length <= LONGEST_RUN:
        raise ValueError(f"no limit gives an in-control run of {run_length:g} exposures")
    while one_sided_run_length(k, high) < run_length:
        low, high = high, 2 * high
    while high - low > 1e-7:
        middle = (low + high) / 2
        if one_sided_run_length(k, middle) < run_length:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _check_limit(limit: float) -> None:
    if not limit > 0:
        raise ValueError(f"a limit is above 0, not {limit}")


def _legendre(low: float, high: float) -> tuple[Values, Values]:
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    half = (high - low) / 2
    return low + half * (nodes + 1), half * weights


def _solved(kernel: Values) -> Values:
    solved = np.linalg.solve(np.eye(len(kernel)) - kernel, np.ones(len(kernel)))
    return np.asarray(solved, dtype=np.float64)


def _cusum_kernel(starts: Values, nodes: Values, weights: Values, drift: float) -> Values:
    """Shape (starts, nodes + 1): from each start to each node, and to 0 in the last column."""
    inside = weights * _normal_density(nodes[None, :] - starts[:, None] + drift)
    to_zero = np.array([_normal_below(drift - start) for start in starts.tolist()])
    return np.column_stack([inside, to_zero])


def _ewma_kernel(
    starts: Values, nodes: Values, weights: Values, smoothing: float, shift: float
) -> Values:
    """Shape (starts, nodes)."""
    needed = (nodes[None, :] - (1 - smoothing) * starts[:, None]) / smoothing - shift
    return weights / smoothing * _normal_density(needed)


def _normal_density(values: Values) -> Values:
    return np.exp(-0.5 * values * values) / math.sqrt(2 * math.pi)


def _normal_below(value: float) -> float:
    return 0.5 * math.erfc(-value / math.sqrt(2))
