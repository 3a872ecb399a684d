"""Quantiles and probabilities of mixtures of normals, without scipy."""

from math import erf, sqrt

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_Z = np.linspace(-8.0, 8.0, 8001)
_CDF = np.array([0.5 * (1.0 + erf(z / sqrt(2.0))) for z in _Z])
_STEPS = 161
"""Points at which a mixture's distribution function is taken before inverting it."""


def normal_cdf(z: Floats) -> Floats:
    """P(Z <= z), to 1.3e-7, by a table of the exact error function."""
    below: Floats = np.interp(z, _Z, _CDF)
    return below


def mixture_quantiles(
    weights: Floats, means: Floats, sds: Floats, probabilities: tuple[float, ...]
) -> tuple[float, ...]:
    """Quantiles of one mixture of normals. `weights`, `means`, `sds`: (nodes,)."""
    low = float(np.min(means - 6.0 * sds))
    high = float(np.max(means + 6.0 * sds))
    grid = np.linspace(low, high, _STEPS * 3)
    cdf = np.asarray(weights @ normal_cdf((grid - means[:, None]) / sds[:, None]))
    return tuple(float(value) for value in np.interp(probabilities, cdf, grid))
