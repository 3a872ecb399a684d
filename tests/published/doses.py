"""Weekly sets, frequency and closeness to failure: dose findings, which do not all agree."""

import math
from dataclasses import dataclass

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.published.volume import PELLAND_COUNTING
from blockwright.engine.sources import Source
from published.spread import Spread

SCHOENFELD_2017 = Finding(
    table({"ES per weekly set": 0.023, "% per weekly set": 0.37, "ES, high against low": 0.241,
           "%, high against low": 3.9}),
    "as named",
    Source("Schoenfeld, Ogborn, Krieger", 2017, "weekly sets and growth: meta-analysis",
           "J Sports Sci 35:1073-1082", "seen", "10.1080/02640414.2016.1210197"),
    note="15 studies, 34 groups; P 0.002 per set, 0.03 high against low, three-level P 0.074",
)  # fmt: skip

SCHOENFELD_2017_GROUPS = Finding(
    table({"under 5 sets": 5.4, "5 to 9 sets": 6.6, "10 or more sets": 9.8}),
    "% mean gain",
    Source("Schoenfeld, Ogborn, Krieger", 2017, "gain by weekly sets", "J Sports Sci 35:1073-1082",
           "from memory", "10.1080/02640414.2016.1210197"),
)  # fmt: skip

BAZ_VALLE_2022 = Finding(
    (12, 20),
    "weekly sets suggested, from and to",
    Source("Baz-Valle et al.", 2022, "under 12, 12-20, over 20 sets", "J Hum Kinet 81:199", "seen"),
    note="quads p 0.19, biceps p 0.59; triceps p 0.01 in favour of more than 20",
)


def fractional_sets(direct: float, indirect: float) -> float:
    """Weekly sets by the rule of `PELLAND_COUNTING`: 1 for direct, 0.5 for indirect."""
    return PELLAND_COUNTING.value["direct"] * direct + PELLAND_COUNTING.value["indirect"] * indirect


PELLAND_CONTRAST = Finding(
    Effect(0.294, 0.20, 0.39),
    "SMD implied between 9 and 36 fractional weekly sets",
    Source("Pelland 2026 and Remmert 2025 in Steele et al.", 2026, "implied contrast",
           "SportRxiv 810, introduction", "seen", "10.51224/SportRxiv.810"),
)  # fmt: skip

DETECTABLE_LIMITS = Finding(
    table({"sets a session": 11.0, "sets a week": 31.0}),
    "fractional sets beyond which more growth could not be detected",
    Source("Pelland 2026 and Remmert 2025 in Steele et al.", 2026, "limits of superiority",
           "SportRxiv 810, introduction", "seen", "10.51224/SportRxiv.810"),
)  # fmt: skip


def implied_growth_smd(weekly_sets: float) -> float:
    """SMD of growth for fractional weekly sets: b x sqrt(sets), b from `PELLAND_CONTRAST`.

    The square root is the remembered form (`PELLAND_THRESHOLDS`); ValueError below zero.
    """
    if weekly_sets < 0:
        raise ValueError("sets cannot be negative")
    return PELLAND_CONTRAST.value.estimate / (math.sqrt(36) - math.sqrt(9)) * math.sqrt(weekly_sets)


SINGLE_SET_TRIAL_2025 = Finding(
    table({
        "arm size": Effect(0.034, 0.021, 0.046), "thigh size": Effect(0.051, 0.037, 0.064),
        "chest press 1RM": Effect(0.16, 0.141, 0.18), "leg press 1RM": Effect(0.188, 0.155, 0.221),
        "pulldown 1RM": Effect(0.115, 0.097, 0.133),
    }),
    "SMD over 12 weeks",
    Source("Gschneidner, Steele et al.", 2025, "single sets to failure, trained, n about 297",
           "preprint", "seen"),
)  # fmt: skip

STEELE_2023_YEARS = Finding(
    table({"first year": (30.0, 50.0), "six years": (50.0, 60.0)}),
    "% of strength gained, from and to",
    Source("Steele et al.", 2023, "strength over years, one set to failure a week, n = 14,690",
           "Res Q Exerc Sport 94:913-930", "seen", "10.1080/02701367.2022.2070592"),
    note="linear in ln(week); level after one to two years",
)  # fmt: skip

LATELLA_2020 = Finding(
    table({"men": Spread(0.15, 0.44), "women": Spread(0.12, 0.69)}),
    "kg a day on the total of three lifts, competitive lifters",
    Source("Latella et al.", 2020, "rate of competitive lifters, n = 1897", "JSCR 34:2412-2418",
           "seen", "10.1519/JSC.0000000000003657"),
    note="strongest men 0.102, weakest 0.211",
)  # fmt: skip

UNTRAINED_EFFECT = Finding(
    Effect(0.34, 0.29, 0.39),
    "SMD of growth against no training, about 12 weeks, 111 studies",
    Source(
        "Steele et al.",
        2023,
        "variation meta-analysis, quoted in a preprint",
        "SportRxiv 810",
        "seen",
    ),
    note="0.05 predicted for trained people",
)


@dataclass(frozen=True, slots=True)
class Quartiles:
    """Median and interquartile range."""

    median: float
    low: float
    high: float


ARM_CHANGES = Finding(
    table({"strength": Quartiles(21.0, 13.2, 32.9), "growth": Quartiles(6.0, 2.5, 10.4)}),
    "% change per study arm, mostly 12 weeks",
    Source("Steele et al.", 2023, "extracted data of 111 studies",
           "Meta-Analysis of Variation in Resistance Training, data", "computed"),
    note="controls: 0.2 % strength, 0.0 % growth",
)  # fmt: skip

REMMERT_2025 = Finding(
    table({"growth, fractional": 11.0, "strength, direct": 2.0}),
    "sets a session without added detectable benefit",
    Source("Remmert et al.", 2025, "sets a session", "SportRxiv 537, preprint", "seen"),
    note="the strength value is from memory",
)

SCHOENFELD_2019 = Finding(
    table({1: (6, 9), 3: (18, 27), 5: (30, 45)}),
    "weekly sets (upper, lower body) by sets a lift, 3 times a week",
    Source("Schoenfeld et al.", 2019, "1, 3, 5 sets a lift, 8 weeks", "MSSE 51:94-103", "seen",
           "10.1249/MSS.0000000000001764"),
)  # fmt: skip

ROBINSON_2024 = Finding(
    table({"strength": False, "growth": True}),
    "whether the slope over RIR excludes zero (fewer RIR, more growth)",
    Source("Robinson et al.", 2024, "closeness to failure: meta-regression", "Sports Med 54:2209",
           "seen", "10.1007/s40279-024-02069-2"),
)  # fmt: skip

REFALO_2023 = Finding(
    table({"failure by any definition": Effect(0.19, 0.0, 0.37),
           "momentary failure": Effect(0.12, -0.13, 0.37)}),
    "ES of growth, failure minus not",
    Source("Refalo et al.", 2023, "failure and growth: meta-analysis", "Sports Med 53:649", "seen",
           "10.1007/s40279-022-01784-y"),
)  # fmt: skip

SCHOENFELD_2016 = Finding(
    table({"twice a week or more": Spread(0.49, 0.08), "once a week": Spread(0.30, 0.07)}),
    "ES of growth, mean and SE as printed",
    Source("Schoenfeld, Ogborn, Krieger", 2016, "frequency: meta-analysis", "Sports Med 46:1689",
           "seen", "10.1007/s40279-016-0543-8"),
    note="10 studies, P 0.002; volume not matched in all",
)  # fmt: skip
