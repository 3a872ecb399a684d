"""Repetitions to failure against the share of 1RM: tables and measurements, with sources.

The handbook tables are conventions; the meta-regression's means are remembered and good to two
repetitions. Only Mitter's rows are raw data we hold (`studies/data`).
"""

from collections.abc import Mapping
from dataclasses import dataclass

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

_HANDBOOK = "NSCA Essentials (Baechle & Earle; Haff & Triplett)"
_MITTER_RAW = Source(
    "Mitter et al.", 2022, "bench press repetitions to failure",
    "raw data, single against multiple visits (Apache-2.0)", "computed",
)  # fmt: skip
_MITTER = Source(
    "Mitter, Csapo, Bauer, Tschan", 2022, "retest of bench press repetitions to failure",
    "PLOS ONE 17:e0268074", "seen", "10.1371/journal.pone.0268074",
)  # fmt: skip

HANDBOOK_TABLE: Finding[Mapping[int, float]] = Finding(
    table({1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75}),
    "% of 1RM by repetitions",
    Source(_HANDBOOK, None, "load for maximal repetitions", "load chart", "seen"),
)


def handbook_share(reps: int) -> float:
    """Share of 1RM (0 to 1) for `reps` to failure; ValueError outside 1 to 10."""
    if reps not in HANDBOOK_TABLE.value:
        raise ValueError(f"the handbook's chart has 1 to 10 repetitions, not {reps}")
    return HANDBOOK_TABLE.value[reps] / 100


@dataclass(frozen=True, slots=True)
class TestProtocol:
    """Steps towards a tested 1RM: percentages of the load before."""

    warmup: tuple[tuple[int, int, float], ...]
    """(reps from, reps to, minutes of rest after), in order."""
    add_upper_pct: tuple[float, float]
    add_lower_pct: tuple[float, float]
    after_miss_upper_pct: tuple[float, float]
    after_miss_lower_pct: tuple[float, float]
    ideal_most_attempts: int


ONE_RM_PROTOCOL = Finding(
    TestProtocol(
        warmup=((5, 10, 1), (3, 5, 2), (2, 3, 4)),
        add_upper_pct=(5, 10),
        add_lower_pct=(10, 20),
        after_miss_upper_pct=(2.5, 5),
        after_miss_lower_pct=(5, 10),
        ideal_most_attempts=5,
    ),
    "% of the load before",
    Source(_HANDBOOK, None, "1RM test protocol", "testing chapter", "seen"),
)


NUZZO_2024_MEANS = Finding(
    table({60: 20, 70: 14, 80: 9, 90: 5}),
    "repetitions by % of 1RM",
    Source(
        "Nuzzo, Pinto, Nosaka, Steele", 2024, "main model, rounded", "Sports Med 54:303-321",
        "from memory", "10.1007/s40279-023-01937-7",
    ),
    note="good to two repetitions only: the printed tables were not seen",
)  # fmt: skip

MITTER_OWN_DAY = Finding(
    table({90: Spread(4.86, 1.17), 80: Spread(9.86, 1.17), 70: Spread(16.29, 2.30)}),
    "repetitions by % of 1RM, one set a day",
    _MITTER_RAW,
)
MITTER_ONE_VISIT = Finding(
    table({90: Spread(4.86, 1.10), 80: Spread(9.43, 1.70), 70: Spread(14.43, 2.56)}),
    "repetitions by % of 1RM, all in one visit",
    _MITTER_RAW,
)

MITTER_DIFFERENCE_SD = Finding(
    table({90: 1.04, 80: 1.40, 70: 1.51}),
    "SD of one man's difference between the two protocols, repetitions by % of 1RM",
    _MITTER_RAW,
)


@dataclass(frozen=True, slots=True)
class Retest:
    """Reliability of repetitions to failure at one load."""

    icc: float
    error_reps: float
    """Standard error of measurement."""


MITTER_RETEST = Finding(
    table({70: Retest(0.86, 1.1), 90: Retest(0.65, 0.7)}),
    "repetitions by % of 1RM",
    _MITTER,
    note="n = 24; linear and two-parameter exponential models fitted best",
)

COOKE_2019 = Finding(
    Spread(14, 4),
    "repetitions, back squat at 70 % of 1RM",
    Source(
        "Cooke et al.", 2019, "squat repetitions at 70 %", "JSCR 33:890-895", "seen",
        "10.1519/JSC.0000000000003021",
    ),
    note="n = 58, from 6 to 26 repetitions; body mass explains little (R2 0.20)",
)  # fmt: skip

_SHIMANO = "Shimano et al."
SHIMANO_2006_SQUAT_60 = Finding(
    Spread(29.9, 7.4),
    "repetitions, back squat at 60 % of 1RM, trained men",
    Source(
        _SHIMANO, 2006, "repetitions at shares of 1RM, free weights",
        "JSCR 20:819-823, quoted in Cooke 2019", "seen", "10.1519/R-18195.1",
    ),
)  # fmt: skip


HoegerRow = tuple[float | None, float, float]

HOEGER_1990: Finding[Mapping[str, Mapping[str, HoegerRow]]] = Finding(
    table({
        "untrained men": table({
            "leg press": (80.1, 33.9, 15.2), "lat pulldown": (41.5, 19.7, 9.8),
            "bench press": (34.9, 19.7, 9.8), "knee extension": (23.4, 15.4, 9.3),
            "sit-up": (21.1, 15.0, 8.3), "arm curl": (24.3, 15.3, 7.6),
            "leg curl": (18.6, 11.2, 6.3),
        }),
        "trained men": table({
            "leg press": (77.6, 45.5, 19.4), "lat pulldown": (42.9, 23.5, 12.2),
            "bench press": (38.8, 22.6, 12.2), "knee extension": (32.9, 18.3, 11.6),
            "sit-up": (27.1, 18.9, 12.2), "arm curl": (35.3, 21.3, 11.4),
            "leg curl": (24.3, 15.4, 7.2),
        }),
        "untrained women": table({
            "leg press": (83.6, 38.0, 11.9), "lat pulldown": (45.9, 23.7, 10.0),
            "bench press": (None, 20.3, 10.3), "knee extension": (19.2, 13.4, 7.9),
            "sit-up": (20.2, 13.3, 7.1), "arm curl": (24.8, 13.8, 5.9),
            "leg curl": (16.4, 10.5, 5.9),
        }),
        "trained women": table({
            "leg press": (146.1, 57.3, 22.4), "lat pulldown": (81.3, 25.2, 10.2),
            "bench press": (None, 27.9, 14.3), "knee extension": (28.5, 16.5, 9.4),
            "sit-up": (34.5, 20.3, 12.0), "arm curl": (33.4, 16.3, 6.9),
            "leg curl": (23.2, 12.4, 5.3),
        }),
    }),
    "mean repetitions at 40, 60, 80 % of 1RM",
    Source(
        "Hoeger, Hopkins, Barette, Hale", 1990, "repetitions at shares of 1RM, seven lifts",
        "J Appl Sport Sci Res 4(2):47-54", "from memory",
    ),
    note="group sizes seen: untrained men 38, women 40; trained men 25, women 26",
)  # fmt: skip
