"""Run lengths at the precision they are printed with, a second way of computing them, limits.

Every published table is compared in tests/engine/published/test_published_cusum.py.
"""

import math
from statistics import NormalDist

import numpy as np
import pytest

from blockwright.engine.change import (
    limit_for,
    one_sided_run_length,
)
from published import cusum
from studies.run_lengths import ewma_run_length, siegmund_run_length, two_sided_run_length

SHIFTS = (0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4)


def printed(value: float) -> float:
    """Half a unit in the third figure, as a table prints it."""
    return 0.51 * 10.0 ** (math.floor(math.log10(value)) - 2)


@pytest.mark.parametrize("h", [4.0, 5.0])
def test_montgomery_table_9_3_to_its_last_printed_figure(h: float) -> None:
    """Montgomery, Introduction to SQC, Table 9.3 (from memory), k = 0.5."""
    for shift, published in zip(SHIFTS, cusum.MONTGOMERY_9_3.value[h], strict=True):
        computed = two_sided_run_length(0.5, h, shift)
        assert computed == pytest.approx(published, abs=printed(published))


def test_one_sided_as_the_watch_quotes_it() -> None:
    """Without a shift h = 4: 335.4, h = 5: 930.9 (R spc); at one SD 8.38 and 10.38 (Montgomery
    Table 9.3: the other side adds next to nothing)."""
    assert one_sided_run_length(0.5, 4) == pytest.approx(335.4, abs=0.05)
    assert one_sided_run_length(0.5, 5) == pytest.approx(930.9, abs=0.05)
    assert one_sided_run_length(0.5, 4, 1) == pytest.approx(8.38, abs=0.006)
    assert one_sided_run_length(0.5, 5, 1) == pytest.approx(10.38, abs=0.006)


@pytest.mark.parametrize(("k", "h"), cusum.LIMIT_FOR_370.value.items())
def test_hawkins_1993_limits_from_the_wanted_run(k: float, h: float) -> None:
    """Hawkins 1993; Montgomery Table 9.4 (from memory). Two-sided 370 is one-sided 740."""
    assert limit_for(740, k) == pytest.approx(h, abs=0.0065)


def test_siegmund_1985_is_within_one_per_cent_of_exact_in_control() -> None:
    assert siegmund_run_length(0.5, 5) == pytest.approx(one_sided_run_length(0.5, 5), rel=0.01)


def test_siegmund_1985_where_drift_vanishes() -> None:
    """b squared, and continuous there."""
    assert siegmund_run_length(0.5, 4, 0.5) == pytest.approx(5.166**2)
    assert siegmund_run_length(0.5, 4, 0.5001) == pytest.approx(5.166**2, rel=1e-3)


def test_montgomery_ewma_design_with_a_run_of_369() -> None:
    """Smoothing 0.1, limit 2.7 gives an in-control run near 369 (from memory)."""
    assert ewma_run_length(0.1, 2.7) == pytest.approx(369, abs=0.5)


def test_ewma_without_smoothing_is_the_plain_chart() -> None:
    """1 / P(|z| > 3) = 370.4, in closed form."""
    exact = 1 / (2 * NormalDist().cdf(-3))
    assert ewma_run_length(1.0, 3.0) == pytest.approx(exact, rel=1e-6)


def test_quadrature_agrees_with_a_markov_chain_of_our_own() -> None:
    """Brook & Evans 1972: the sum cut into cells, Richardson-extrapolated in the cell width."""

    def chain(cells: int) -> float:
        width = 2 * 3.7 / (2 * cells - 1)
        normal = NormalDist(mu=-0.6)
        moves = np.array(
            [
                [normal.cdf((0.5 - i) * width)]
                + [
                    normal.cdf((j - i + 0.5) * width) - normal.cdf((j - i - 0.5) * width)
                    for j in range(1, cells)
                ]
                for i in range(cells)
            ]
        )
        return float(np.linalg.solve(np.eye(cells) - moves, np.ones(cells))[0])

    coarse, fine = chain(60), chain(120)
    assert one_sided_run_length(0.6, 3.7) == pytest.approx(fine + (fine - coarse) / 3, rel=2e-4)


def test_limit_inverts_the_run_length() -> None:
    for run in (5, 52, 208, 1000):
        assert one_sided_run_length(0.5, limit_for(run, 0.5)) == pytest.approx(run, rel=1e-5)


def test_runs_nobody_can_have_are_refused() -> None:
    with pytest.raises(ValueError, match="no limit"):
        limit_for(2.0, 0.5)
    with pytest.raises(ValueError, match="no limit"):
        limit_for(1e9, 0.5)
    with pytest.raises(ValueError, match="above 0"):
        one_sided_run_length(0.5, 0.0)
    with pytest.raises(ValueError, match="smoothing"):
        ewma_run_length(0.0, 3.0)
