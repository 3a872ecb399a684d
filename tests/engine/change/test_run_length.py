"""Average run lengths against the published tables, each named for its source."""

import math
from statistics import NormalDist

import numpy as np
import pytest

from blockwright.engine.change import (
    ewma_run_length,
    limit_for,
    one_sided_run_length,
    siegmund_run_length,
    two_sided_run_length,
)

SHIFTS = (0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4)


def printed(value: float) -> float:
    """Half a unit in the third figure, as a table prints it."""
    return 0.51 * 10.0 ** (math.floor(math.log10(value)) - 2)


@pytest.mark.parametrize(
    ("h", "table"),
    [
        (4, (168, 74.2, 26.6, 13.3, 8.38, 4.75, 3.34, 2.62, 2.19, 1.71)),
        (5, (465, 139, 38.0, 17.0, 10.4, 5.75, 4.01, 3.11, 2.57, 2.01)),
    ],
)
def test_montgomery_table_9_3_two_sided_cusum(h: float, table: tuple[float, ...]) -> None:
    """Montgomery, Introduction to SQC, Table 9.3 (from memory), k = 0.5."""
    for shift, published in zip(SHIFTS, table, strict=True):
        assert two_sided_run_length(0.5, h, shift) == pytest.approx(
            published, abs=printed(published)
        )


@pytest.mark.parametrize(
    ("h", "table"),
    [
        (4, (167.684, 74.224, 26.63, 13.285, 8.383, 4.747, 3.343, 2.62, 2.194, 1.708)),
        (5, (465.444, 139.494, 37.996, 17.048, 10.376, 5.747, 4.009, 3.114, 2.573, 2.013)),
        (4.77, (368.561, 121.313, 35.208, 16.173, 9.917, 5.517, 3.855, 2.999, 2.484, 1.956)),
    ],
)
def test_r_spc_two_sided_cusum(h: float, table: tuple[float, ...]) -> None:
    """Recomputed with R spc 0.6.7; h = 4.77 is Hawkins 1993."""
    for shift, published in zip(SHIFTS, table, strict=True):
        assert two_sided_run_length(0.5, h, shift) == pytest.approx(published, rel=1e-3)


@pytest.mark.parametrize(("h", "published"), [(4, 335.368), (5, 930.887), (4.77, 737.123)])
def test_r_spc_one_sided_cusum_in_control(h: float, published: float) -> None:
    assert one_sided_run_length(0.5, h) == pytest.approx(published, rel=1e-5)


def test_one_sided_at_one_sigma_as_the_watch_quotes_it() -> None:
    """h = 4: 8.38, h = 5: 10.38 (Montgomery Table 9.3; the other side adds next to nothing)."""
    assert one_sided_run_length(0.5, 4, 1) == pytest.approx(8.38, abs=0.006)
    assert one_sided_run_length(0.5, 5, 1) == pytest.approx(10.38, abs=0.006)


def test_lucas_crosier_1982_head_start() -> None:
    """Lucas & Crosier 1982, Technometrics 24:199 (from memory): head start h/2, k 0.5, h 5."""
    table = {0: 430, 0.25: 122, 0.5: 28.7, 0.75: 11.2, 1: 6.35, 1.5: 3.37, 2: 2.36, 3: 1.54}
    for shift, published in table.items():
        assert two_sided_run_length(0.5, 5, shift, 2.5) == pytest.approx(
            published, abs=printed(published)
        )
    assert two_sided_run_length(0.5, 5, 4, 2.5) == pytest.approx(1.16, abs=0.006)


def test_r_spc_head_start() -> None:
    table = (430.39, 121.69, 28.67, 11.24, 6.35, 3.37, 2.36, 1.86, 1.54, 1.16)
    for shift, published in zip(SHIFTS, table, strict=True):
        assert two_sided_run_length(0.5, 5, shift, 2.5) == pytest.approx(published, abs=0.0051)


@pytest.mark.parametrize(
    ("k", "h"), [(0.25, 8.01), (0.5, 4.77), (0.75, 3.34), (1.0, 2.52), (1.25, 1.99), (1.5, 1.61)]
)
def test_hawkins_1993_limits_for_a_two_sided_run_of_370(k: float, h: float) -> None:
    """Hawkins 1993; Montgomery Table 9.4 (from memory). Two-sided 370 is one-sided 740."""
    assert limit_for(740, k) == pytest.approx(h, abs=0.0065)


@pytest.mark.parametrize(
    ("h", "table"),
    [
        (5, {0: 938.22, 0.25: 141.93, 0.5: 38.02, 1: 10.34, 1.5: 5.67, 2: 3.89, 3: 2.39}),
        (4, {0: 338.09, 0.5: 26.69, 1: 8.34, 2: 3.22}),
    ],
)
def test_siegmund_1985_approximation(h: float, table: dict[float, float]) -> None:
    """Siegmund 1985, Sequential Analysis (formula from memory, numbers computed)."""
    for shift, published in table.items():
        assert siegmund_run_length(0.5, h, shift) == pytest.approx(published, abs=0.006)


def test_siegmund_is_within_one_per_cent_of_exact_in_control() -> None:
    assert siegmund_run_length(0.5, 5) == pytest.approx(one_sided_run_length(0.5, 5), rel=0.01)


@pytest.mark.parametrize(
    ("smoothing", "limit", "table"),
    [
        (0.4, 3.054, (500, 224, 71.2, 28.4, 14.3, 5.9, 3.5, 2.5, 2.0, 1.4)),
        (0.25, 2.998, (500, 170, 48.3, 20.1, 11.1, 5.5, 3.6, 2.7, 2.3, 1.7)),
        (0.2, 2.962, (500, 150, 41.8, 18.2, 10.5, 5.5, 3.7, 2.9, 2.4, 1.9)),
        (0.1, 2.814, (500, 106, 31.3, 15.8, 10.3, 6.1, 4.4, 3.4, 2.9, 2.2)),
        (0.05, 2.615, (500, 84.0, 28.8, 16.4, 11.4, 7.1, 5.2, 4.2, 3.5, 2.7)),
    ],
)
def test_lucas_saccucci_1990_ewma(smoothing: float, limit: float, table: tuple[float, ...]) -> None:
    """Lucas & Saccucci 1990, Technometrics 32:1; Montgomery Table 9.11 (from memory)."""
    for shift, published in zip(SHIFTS, table, strict=True):
        computed = ewma_run_length(smoothing, limit, shift)
        assert computed == pytest.approx(published, abs=max(0.051, printed(published)))


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
