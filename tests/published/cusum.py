"""Published run lengths and worked examples of the cumulative-sum chart.

Figures only; `engine/change` computes its own by Markov chain or integral and is tested
against these.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source

_MONTGOMERY = "Montgomery, Introduction to Statistical Quality Control"


def _recomputed(where: str, authors: str = _MONTGOMERY, year: int | None = None) -> Source:
    return Source(
        authors, year, "average run length", f"{where}; recomputed with R spc", "computed"
    )


TWO_SIDED_RUN_LENGTHS: Finding[Mapping[float, Mapping[float, float]]] = Finding(
    table({
        4.0: table({0: 167.684, 0.25: 74.224, 0.5: 26.63, 0.75: 13.285, 1: 8.383, 1.5: 4.747,
                    2: 3.343, 2.5: 2.62, 3: 2.194, 4: 1.708}),
        5.0: table({0: 465.444, 0.25: 139.494, 0.5: 37.996, 0.75: 17.048, 1: 10.376, 1.5: 5.747,
                    2: 4.009, 2.5: 3.114, 3: 2.573, 4: 2.013}),
        4.77: table({0: 368.561, 0.25: 121.313, 0.5: 35.208, 0.75: 16.173, 1: 9.917, 1.5: 5.517,
                     2: 3.855, 2.5: 2.999, 3: 2.484, 4: 1.956}),
    }),
    "average run length by h and shift (SDs), k = 0.5",
    _recomputed("Table 9.3; Hawkins 1993"),
)  # fmt: skip

MONTGOMERY_9_3: Finding[Mapping[float, tuple[float, ...]]] = Finding(
    table({
        4.0: (168, 74.2, 26.6, 13.3, 8.38, 4.75, 3.34, 2.62, 2.19, 1.71),
        5.0: (465, 139, 38.0, 17.0, 10.4, 5.75, 4.01, 3.11, 2.57, 2.01),
    }),
    "average run length as printed, at shifts 0, .25, .5, .75, 1, 1.5, 2, 2.5, 3, 4",
    Source(_MONTGOMERY, None, "average run length", "Table 9.3", "from memory"),
)  # fmt: skip

ONE_SIDED_IN_CONTROL = Finding(
    table({4.0: 335.368, 5.0: 930.887, 4.77: 737.123}),
    "average run length without a shift by h, one side, k = 0.5",
    _recomputed("twice the two-sided figure"),
)

FAST_START = Finding(
    table({0: 430.39, 0.25: 121.69, 0.5: 28.67, 0.75: 11.24, 1: 6.35, 1.5: 3.37, 2: 2.36,
           2.5: 1.86, 3: 1.54, 4: 1.16}),
    "average run length by shift, head start 2.5, k = 0.5, h = 5, two-sided",
    _recomputed("Technometrics 24", "Lucas & Crosier", 1982),
)  # fmt: skip

LIMIT_FOR_370 = Finding(
    table({0.25: 8.01, 0.5: 4.77, 0.75: 3.34, 1.0: 2.52, 1.25: 1.99, 1.5: 1.61}),
    "h by k for a two-sided run length of 370 without a shift",
    Source("Hawkins; Montgomery", 1993, "limits", "Montgomery Table 9.4", "from memory"),
)

SIEGMUND: Finding[Mapping[float, Mapping[float, tuple[float, float]]]] = Finding(
    table({
        5.0: table({0: (938.22, 469.11), 0.25: (141.93, 139.78), 0.5: (38.02, 38.01),
                    1: (10.34, 10.34), 1.5: (5.67, 5.67), 2: (3.89, 3.89), 3: (2.39, 2.39)}),
        4.0: table({0: (338.09, 169.05), 0.5: (26.69, 26.64), 1: (8.34, 8.34), 2: (3.22, 3.22)}),
    }),
    "approximate average run length (one-sided, two-sided) by h and shift, k = 0.5",
    Source("Siegmund", 1985, "approximation of the run length", "Sequential Analysis",
           "from memory"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WorkedChart:
    """A worked example: data, target, allowance and limit in the data's unit, and the first alarm
    (counted from 1; None for no alarm)."""

    data: tuple[float, ...]
    target: float
    k: float
    h: float
    upper: tuple[float, ...]
    """The upper sums printed: all of them, or the last ones."""
    first_alarm: int | None


NIST_EXAMPLE = Finding(
    WorkedChart(
        data=(324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6,
              324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35),
        target=325, k=0.3175, h=4.1959,
        upper=(0, 0, 0, 0, 0.03, 0, 0, 0, 0, 0, 0, 0, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.0,
               19.04),
        first_alarm=14,
    ),
    "as measured",
    Source("NIST/SEMATECH", None, "worked example", "e-Handbook 6.3.2.3", "from memory"),
)  # fmt: skip

MONTGOMERY_EXAMPLE = Finding(
    WorkedChart(
        data=(9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.2, 10.34, 9.03, 11.47, 10.51,
              9.4, 10.08, 9.37, 10.62, 10.31, 8.52, 10.84, 10.9, 9.33, 12.29, 11.5, 10.6, 11.08,
              10.38, 11.62, 11.31, 10.52),
        target=10, k=0.5, h=5, upper=(2.79, 2.89, 3.47, 3.35, 4.47, 5.28, 5.3), first_alarm=29,
    ),
    "as measured",
    Source(_MONTGOMERY, None, "worked example", "Tables 9.1 and 9.2", "from memory"),
    note="the sum has been above zero for 7 samples at the alarm: the change came after sample 22",
)  # fmt: skip

MONTGOMERY_RUNGER_EXAMPLE = Finding(
    WorkedChart(
        data=(102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1,
              98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0),
        target=99, k=1, h=10, upper=(), first_alarm=None,
    ),
    "as measured",
    Source("Montgomery & Runger", None, "worked example", "Applied Statistics, Table 16-7", "seen"),
    note="signs were lost in the page and are restored here",
)  # fmt: skip

EWMA_RUN_LENGTHS: Finding[Mapping[tuple[float, float], Mapping[float, float]]] = Finding(
    table({
        (0.4, 3.054): table({0: 500, 0.25: 224, 0.5: 71.2, 0.75: 28.4, 1: 14.3, 1.5: 5.9, 2: 3.5,
                             2.5: 2.5, 3: 2.0, 4: 1.4}),
        (0.25, 2.998): table({0: 500, 0.25: 170, 0.5: 48.3, 0.75: 20.1, 1: 11.1, 1.5: 5.5, 2: 3.6,
                              2.5: 2.7, 3: 2.3, 4: 1.7}),
        (0.2, 2.962): table({0: 500, 0.25: 150, 0.5: 41.8, 0.75: 18.2, 1: 10.5, 1.5: 5.5, 2: 3.7,
                             2.5: 2.9, 3: 2.4, 4: 1.9}),
        (0.1, 2.814): table({0: 500, 0.25: 106, 0.5: 31.3, 0.75: 15.8, 1: 10.3, 1.5: 6.1, 2: 4.4,
                             2.5: 3.4, 3: 2.9, 4: 2.2}),
        (0.05, 2.615): table({0: 500, 0.25: 84.0, 0.5: 28.8, 0.75: 16.4, 1: 11.4, 1.5: 7.1, 2: 5.2,
                              2.5: 4.2, 3: 3.5, 4: 2.7}),
    }),
    "average run length by (lambda, L) and shift",
    _recomputed("Technometrics 32:1", "Lucas & Saccucci", 1990),
    note="the other kind of chart, for comparison in the documentation",
)  # fmt: skip
