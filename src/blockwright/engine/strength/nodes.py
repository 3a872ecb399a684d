"""Nodes over endurance, a = ln(kappa) less the lift's mean, and their prior weights."""

import numpy as np
from numpy.typing import NDArray

from blockwright.engine.strength.law import StrengthLaw

Floats = NDArray[np.float64]

_TOP_SD = 1.5
"""How far the nodes reach beyond the largest offset."""


def node_positions(law: StrengthLaw) -> Floats:
    """Nodes of a = ln(kappa) less the lift's mean, (nodes,): `law.nodes` over the spread between
    people, and on in equal steps to the largest offset."""
    low = -law.node_span_sd * law.endurance_sd
    step = -2.0 * low / max(law.nodes - 1, 1)
    top = max(-low, max(law.offset.grid) + _TOP_SD * law.endurance_sd)
    return np.asarray(low + step * np.arange(round((top - low) / step) + 1))


def node_shares(law: StrengthLaw) -> Floats:
    """Prior weight of each node under each offset, (offsets, nodes); rows sum to one."""
    z = (node_positions(law)[None, :] - np.array(law.offset.grid)[:, None]) / law.endurance_sd
    shares = np.exp(-0.5 * z * z)
    return np.asarray(shares / shares.sum(axis=1, keepdims=True))


def offset_log_prior(law: StrengthLaw) -> Floats:
    """(offsets,), normalised: some people's curves are as shipped, the others' N(0, sd^2) away."""
    grid = np.array(law.offset.grid)
    away = np.exp(-0.5 * (grid / law.offset.sd) ** 2)
    prior = (1.0 - law.offset.none_share) * away / away.sum()
    prior[np.argmin(np.abs(grid))] += law.offset.none_share
    return np.asarray(np.log(prior))


def node_log_prior(law: StrengthLaw) -> Floats:
    """Of each node before anything is known, (nodes,): the offsets mixed."""
    return np.asarray(np.log(np.exp(offset_log_prior(law)) @ node_shares(law)))
