"""The published run lengths against our own computation, and the worked charts step by step."""

from itertools import accumulate

import pytest

from blockwright.engine.change import one_sided_run_length
from blockwright.engine.change.watch import step
from published import cusum
from published.cusum import WorkedChart
from studies.run_lengths import ewma_run_length, siegmund_run_length, two_sided_run_length

H_AND_SHIFTS = [
    (h, shift, printed)
    for h, row in cusum.TWO_SIDED_RUN_LENGTHS.value.items()
    for shift, printed in row.items()
]


@pytest.mark.parametrize(("h", "shift", "printed"), H_AND_SHIFTS)
def test_montgomery_9_3_and_hawkins_1993_two_sided(h: float, shift: float, printed: float) -> None:
    assert two_sided_run_length(0.5, h, shift) == pytest.approx(printed, rel=0.001)


@pytest.mark.parametrize("h", [4.0, 5.0])
def test_montgomery_9_3_as_printed_rounds_the_recomputed(h: float) -> None:
    recomputed = cusum.TWO_SIDED_RUN_LENGTHS.value[h].values()
    for printed, exact in zip(cusum.MONTGOMERY_9_3.value[h], recomputed, strict=True):
        assert printed == pytest.approx(exact, rel=0.006)


@pytest.mark.parametrize(("h", "printed"), cusum.ONE_SIDED_IN_CONTROL.value.items())
def test_one_sided_is_twice_the_two_sided(h: float, printed: float) -> None:
    assert one_sided_run_length(0.5, h) == pytest.approx(printed, rel=0.001)
    assert printed == pytest.approx(2 * cusum.TWO_SIDED_RUN_LENGTHS.value[h][0], rel=1e-4)


@pytest.mark.parametrize(("shift", "printed"), cusum.FAST_START.value.items())
def test_lucas_crosier_1982_head_start(shift: float, printed: float) -> None:
    assert two_sided_run_length(0.5, 5, shift, start=2.5) == pytest.approx(printed, rel=0.005)


@pytest.mark.parametrize(("k", "h"), cusum.LIMIT_FOR_370.value.items())
def test_hawkins_1993_limits_give_370(k: float, h: float) -> None:
    """h is printed to two decimals, which is worth about 2 % of the run."""
    assert two_sided_run_length(k, h) == pytest.approx(370, rel=0.025)


@pytest.mark.parametrize("h", [4.0, 5.0])
def test_siegmund_1985_approximation(h: float) -> None:
    for shift, (one_sided, two_sided) in cusum.SIEGMUND.value[h].items():
        up, down = siegmund_run_length(0.5, h, shift), siegmund_run_length(0.5, h, -shift)
        assert up == pytest.approx(one_sided, abs=0.01)
        assert 1 / (1 / up + 1 / down) == pytest.approx(two_sided, abs=0.01)


@pytest.mark.parametrize(
    ("chart", "shift", "printed"),
    [(c, s, p) for c, row in cusum.EWMA_RUN_LENGTHS.value.items() for s, p in row.items()],
)
def test_lucas_saccucci_1990_ewma(chart: tuple[float, float], shift: float, printed: float) -> None:
    """Asymptotic limits; printed to three figures at most."""
    found = ewma_run_length(*chart, shift)
    assert found == pytest.approx(printed, rel=0.015, abs=0.06)


def upper_sums(chart: WorkedChart, sign: int = 1) -> list[float]:
    beyond = (sign * (value - chart.target) for value in chart.data)
    sums = accumulate(beyond, lambda total, one: step(total, one, chart.k), initial=0.0)
    return list(sums)[1:]


def first_above(sums: list[float], h: float) -> int | None:
    return next((at for at, total in enumerate(sums, 1) if total > h), None)


def test_nist_6_3_2_3_example() -> None:
    chart = cusum.NIST_EXAMPLE.value
    sums = upper_sums(chart)
    assert sums == pytest.approx(chart.upper, abs=0.006)
    assert first_above(sums, chart.h) == chart.first_alarm


def test_montgomery_9_1_example() -> None:
    """C+ of samples 24 to 30, the alarm at 29, seven samples after the change."""
    chart = cusum.MONTGOMERY_EXAMPLE.value
    sums = upper_sums(chart)
    assert sums[23:] == pytest.approx(chart.upper, abs=0.006)
    assert first_above(sums, chart.h) == chart.first_alarm == 29
    since_zero = next(n for n, total in enumerate(reversed(sums[:29])) if total == 0)
    assert since_zero == 7
    assert chart.target + chart.k + sums[28] / 7 == pytest.approx(11.25, abs=0.005)


def test_montgomery_runger_16_7_no_alarm() -> None:
    chart = cusum.MONTGOMERY_RUNGER_EXAMPLE.value
    high, low = upper_sums(chart), upper_sums(chart, -1)
    assert first_above(high, chart.h) is chart.first_alarm is None
    assert first_above(low, chart.h) is None
    plain = list(accumulate(value - chart.target for value in chart.data))
    assert plain[-1] == pytest.approx(1.9, abs=0.05)
