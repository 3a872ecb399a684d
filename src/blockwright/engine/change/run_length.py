"""How long a chart runs before it sounds: average run lengths, computed and not simulated.

Every function works in standard deviations of one exposure. `shift` is how far the mean has moved
in the direction the chart looks (0: in control, the run is a false alarm's). Run lengths count
exposures from the start of the chart up to and including the one that sounds."""

import math
from functools import lru_cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]

NODES = 60  # Gauss-Legendre nodes: six figures for limits up to 12 SD
LEAST_LIMIT = 1e-6
LONGEST_RUN = 1e6  # Exposures; beyond it rounding errors of the linear system show


@lru_cache(maxsize=512)
def one_sided_run_length(k: float, h: float, shift: float = 0.0, start: float = 0.0) -> float:
    """Average run length of S = max(0, S + z - k), sounding when S > h, from S = `start`.

    Solves Page's integral equation L(u) = 1 + P(S falls to 0) L(0) + integral of L(x) over (0, h)
    by Gauss-Legendre quadrature (Lucas & Crosier 1982, Technometrics 24:199, appendix)."""
    if not h > 0:
        raise ValueError(f"a limit is above 0, not {h}")
    nodes, weights = legendre(0.0, h)
    points = np.append(nodes, 0.0)
    lengths = solved(_cusum_kernel(points, nodes, weights, k - shift))
    # the equation itself carries the solution from the nodes to any start
    row = _cusum_kernel(np.array([start]), nodes, weights, k - shift)
    return float(1.0 + row[0] @ lengths)


@lru_cache(maxsize=256)
def limit_for(run_length: float, k: float) -> float:
    """The limit h whose one-sided in-control run, from 0, is `run_length` exposures.

    Raises ValueError for a run of one exposure or less, or one too long to be computed."""
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


def legendre(low: float, high: float) -> tuple[Values, Values]:
    """Nodes and weights on (low, high)."""
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    half = (high - low) / 2
    return low + half * (nodes + 1), half * weights


def solved(kernel: Values) -> Values:
    """The run lengths L = 1 + kernel L."""
    solved = np.linalg.solve(np.eye(len(kernel)) - kernel, np.ones(len(kernel)))
    return np.asarray(solved, dtype=np.float64)


def _cusum_kernel(starts: Values, nodes: Values, weights: Values, drift: float) -> Values:
    """Shape (starts, nodes + 1): from each start to each node, and to 0 in the last column."""
    inside = weights * normal_density(nodes[None, :] - starts[:, None] + drift)
    to_zero = np.array([NormalDist().cdf(drift - start) for start in starts.tolist()])
    return np.column_stack([inside, to_zero])


def normal_density(values: Values) -> Values:
    """Of the standard normal."""
    return np.exp(-0.5 * values * values) / math.sqrt(2 * math.pi)
