"""Weights, means, quantiles and probabilities of mixtures of normals, without scipy."""

from collections.abc import Callable
from functools import cache
from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_Z = np.linspace(-8.0, 8.0, 8001)
_CDF = np.array([0.5 * (1.0 + erf(z / sqrt(2.0))) for z in _Z])
_STEPS = 161  # Points at which a mixture's distribution function is taken before inverting it


def normal_cdf(z: Floats) -> Floats:
    """P(Z <= z), to 1.3e-7, by a table of the exact error function."""
    below: Floats = np.interp(z, _Z, _CDF)
    return below


@cache
def _tailed(freedom: float) -> Floats:
    """The table of a Student distribution whose 80 % interval is that of the normal one."""
    reach = np.linspace(-60.0, 60.0, 60_001)
    density = (1.0 + reach * reach / freedom) ** (-(freedom + 1.0) / 2.0)
    steps = (density[1:] + density[:-1]) / 2.0
    below = np.concatenate([[0.0], np.cumsum(steps)]) / np.sum(steps)
    stretch = np.interp(0.9, below, reach) / np.interp(0.9, _CDF, _Z)
    table: Floats = np.interp(_Z * stretch, reach, below)
    return table


def tailed_cdf(z: Floats, freedom: float) -> Floats:
    """P(Z <= z) of a Student distribution stretched to hold 80 % where the normal one does.

    Counted repetitions have heavier tails than the normal law; `freedom` is the filter's own."""
    below: Floats = np.interp(z, _Z, _tailed(freedom))
    return below


def mixture_quantiles(
    weights: Floats,
    means: Floats,
    sds: Floats,
    probabilities: tuple[float, ...],
    cdf_of: Callable[[Floats], Floats] = normal_cdf,
) -> tuple[float, ...]:
    """Quantiles of one mixture of normals (or of `cdf_of`). `weights`, `means`, `sds`: (nodes,)."""
    low = float(np.min(means - 6.0 * sds))
    high = float(np.max(means + 6.0 * sds))
    grid = np.linspace(low, high, _STEPS * 3)
    cdf = np.asarray(weights @ cdf_of((grid - means[:, None]) / sds[:, None]))
    return tuple(float(value) for value in np.interp(probabilities, cdf, grid))


def mixed(weight: Floats, values: Floats) -> Floats:
    """The mixture's mean of `values`, (nodes, series) to (series,)."""
    mean: Floats = np.einsum("ns,ns->s", weight, values)
    return mean


def mixture_weights(log_weight: Floats) -> Floats:
    """(nodes, series), each series' sum to one; of log weights whose largest is near zero."""
    weights: Floats = np.exp(log_weight)
    weights /= np.sum(weights, axis=0)
    return weights
