"""The tabular CUSUM against worked examples."""

import pytest

from blockwright.engine.change import mean_since_change, plain_cusum, tabular_cusum
from published import cusum


def test_nist_handbook_6_3_2_3_example() -> None:
    """NIST/SEMATECH e-Handbook, section 6.3.2.3 (from memory): every sum, first alarm at 14."""
    chart = cusum.NIST_EXAMPLE.value
    low = [0, 0.01, 0, 0.33, 0, 0, 0.56, 0.72, 0.17, 0.25, 0.31, 0, 0, 0, 0, 0, 0, 0, 0, 0]
    points = tabular_cusum(chart.data, target=chart.target, slack=chart.k, limit=chart.h)
    assert [point.up for point in points] == pytest.approx(chart.upper, abs=0.0051)
    assert [point.down for point in points] == pytest.approx(low, abs=0.0051)
    assert next(i for i, point in enumerate(points, start=1) if point.sounds) == 14


def test_montgomery_table_9_1_example() -> None:
    """Montgomery, Introduction to SQC, Tables 9.1 and 9.2 (from memory)."""
    chart = cusum.MONTGOMERY_EXAMPLE.value
    points = tabular_cusum(chart.data, target=chart.target, slack=chart.k, limit=chart.h)
    assert [point.up for point in points[23:]] == pytest.approx(chart.upper, abs=1e-9)
    assert [i for i, point in enumerate(points, start=1) if point.sounds] == [29, 30]
    assert (points[28].up_for, points[29].up_for) == (7, 8)
    assert not any(point.down_sounds for point in points)
    assert mean_since_change(points[28], target=10, slack=0.5) == pytest.approx(11.25, abs=0.005)


def test_montgomery_runger_table_16_7_example() -> None:
    """Montgomery & Runger, Applied Statistics, Table 16-7: in control, no alarm."""
    chart = cusum.MONTGOMERY_RUNGER_EXAMPLE.value
    sums = [
        3.0, -1.2, -1.9, -2.5, 0.5, 0, 0, -1.3, -0.3, -1.2, 1.1, 0.8, 2.9, 2.3, 0.3, -2.0, -0.7,
        1.7, -0.1, 1.9,
    ]  # fmt: skip
    assert list(plain_cusum(chart.data, target=99)) == pytest.approx(sums, abs=1e-9)
    points = tabular_cusum(chart.data, target=chart.target, slack=chart.k, limit=chart.h)
    assert not any(point.sounds for point in points)
    assert max(point.up for point in points) == pytest.approx(2.0)
    assert max(point.down for point in points) == pytest.approx(3.2)


def test_a_fall_is_the_mirror_of_a_rise() -> None:
    values = [10.2, 9.1, 8.0, 8.4, 7.9, 8.3]
    falling = tabular_cusum(values, target=10, slack=0.5, limit=4)
    rising = tabular_cusum([20 - value for value in values], target=10, slack=0.5, limit=4)
    assert [p.down for p in falling] == pytest.approx([p.up for p in rising])
    assert falling[-1].down_sounds
    assert mean_since_change(falling[-1], target=10, slack=0.5) == pytest.approx(
        20 - mean_since_change(rising[-1], target=10, slack=0.5)
    )


def test_head_start_and_a_chart_at_rest() -> None:
    (point,) = tabular_cusum([10.0], target=10, slack=0.5, limit=5, start=2.5)
    assert (point.up, point.down, point.up_for) == (2.0, 2.0, 1)
    (rest,) = tabular_cusum([10.0], target=10, slack=0.5, limit=5)
    assert mean_since_change(rest, target=10, slack=0.5) == 10
