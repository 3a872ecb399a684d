"""Weekly sets, frequency and closeness to failure: dose findings, which do not all agree."""

from dataclasses import dataclass

from blockwright.engine.published.finding import Effect, Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

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


LATELLA_2020 = Finding(
    table({"men": Spread(0.15, 0.44), "women": Spread(0.12, 0.69)}),
    "kg a day on the total of three lifts, competitive lifters",
    Source("Latella et al.", 2020, "rate of competitive lifters, n = 1897", "JSCR 34:2412-2418",
           "seen", "10.1519/JSC.0000000000003657"),
    note="strongest men 0.102, weakest 0.211",
)  # fmt: skip


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
