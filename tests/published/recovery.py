"""Deloads, session load, wellness and the noise of a strength test."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

BELL_2022 = Finding(
    table({"days": (5, 7), "every weeks": (4, 6)}),
    "from and to",
    Source("Bell et al.", 2022, "interviews with 18 coaches", "Front Sports Act Living", "seen",
           "10.3389/fspor.2022.1073223"),
)  # fmt: skip


ROGERSON_2024 = Finding(
    table({"days": Spread(6.4, 1.7), "every weeks": Spread(5.6, 2.3)}),
    "as named",
    Source("Rogerson et al.", 2024, "athletes' survey", "Sports Med Open 10:26", "seen",
           "10.1186/s40798-024-00691-y"),
    note="n = 246; sets and repetitions down, RIR up, frequency kept; 87.8 % to lower fatigue",
)  # fmt: skip


MONOTONY_FLAG = Finding(
    2.0,
    "monotony",
    Source("Foster", 1998, "high monotony", "MSSE 30:1164", "from memory"),
    note="the two SD conventions differ by sqrt(7/6) and can straddle it",
)


@dataclass(frozen=True, slots=True)
class Questionnaire:
    """Items scored alike; `higher_is` says which way the sum points."""

    items: tuple[str, ...]
    low: int
    high: int
    higher_is: Literal["worse", "better"]

    def total(self, answers: Sequence[float]) -> float:
        """The sum; ValueError unless every item is answered within the scale."""
        if len(answers) != len(self.items):
            raise ValueError(f"{len(self.items)} answers are wanted, not {len(answers)}")
        if not all(self.low <= answer <= self.high for answer in answers):
            raise ValueError(f"answers run from {self.low} to {self.high}")
        return math.fsum(answers)


HOOPER = Finding(
    Questionnaire(("sleep", "fatigue", "stress", "soreness"), 1, 7, "worse"),
    "points",
    Source("Hooper & Mackinnon", 1995, "wellness index", "Sports Med 20:321", "from memory",
           "10.2165/00007256-199520050-00003"),
)  # fmt: skip


GRGIC_2020 = Finding(
    table({"ICC, median": 0.97, "CV, median %": 4.2, "CV, lowest %": 0.5, "CV, highest %": 12.1}),
    "as named",
    Source("Grgic et al.", 2020, "reliability of the 1RM test", "Sports Med Open 6:31", "seen",
           "10.1186/s40798-020-00260-z"),
    note="32 studies, 1595 people; ICC from 0.64 to 0.99, 92 % of them 0.90 or more",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StrengthNoise:
    """ln(estimated 1RM) from session to session: SDs and drift, per session about a week apart."""

    observation_sd: float
    process_sd: float
    drift: float
    difference_sd: float
    """Robust SD of successive differences."""
    differences: int


STRENGTH_NOISE = Finding(
    table({
        "chest press": StrengthNoise(0.021, 0.022, 0.0075, 0.030, 1482),
        "leg press": StrengthNoise(0.039, 0.015, 0.0055, 0.044, 2809),
        "pulldown": StrengthNoise(0.023, 0.018, 0.0050, 0.032, 1461),
    }),
    "ln(kg)",
    Source("Gschneidner, Steele et al.", 2025, "single sets to failure, trained, weekly",
           "public trial log, half of the participants", "computed"),
    note="the data are CC BY-NC-SA, so only these figures are carried",
)  # fmt: skip
