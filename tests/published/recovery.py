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

BELL_2023 = Finding(
    ("demand", "intensity", "volume", "frequency", "closeness to failure"),
    "what a deload reduces",
    Source("Bell et al.", 2023, "Delphi", "Sports Med Open 9:87", "seen",
           "10.1186/s40798-023-00633-0"),
    note="34, 29 and 21 experts by round; a deload lowers at least one and raises none",
)  # fmt: skip

ROGERSON_2024 = Finding(
    table({"days": Spread(6.4, 1.7), "every weeks": Spread(5.6, 2.3)}),
    "as named",
    Source("Rogerson et al.", 2024, "athletes' survey", "Sports Med Open 10:26", "seen",
           "10.1186/s40798-024-00691-y"),
    note="n = 246; sets and repetitions down, RIR up, frequency kept; 87.8 % to lower fatigue",
)  # fmt: skip

COLEMAN_2024 = Finding(
    table({"size": "same", "strength": "favours no week off"}),
    "outcome of a week without training in the middle of nine",
    Source("Coleman et al.", 2024, "one week of cessation", "PeerJ 12:e16777", "seen",
           "10.7717/peerj.16777"),
    note="n = 39; a full week off earns no growth by itself",
)  # fmt: skip

# ------------------------------------------------------------------------------ session load

FOSTER = Source(
    "Foster; Foster et al.", 2001, "session RPE, monotony, strain",
    "MSSE 30:1164 (1998); JSCR 15:109 (2001)", "seen",
)  # fmt: skip
"""Load is CR10 x minutes; monotony is mean over SD of the seven daily loads; strain is weekly load
x monotony. Which SD is not stated in what we saw."""

MONOTONY_FLAG = Finding(
    2.0,
    "monotony",
    Source("Foster", 1998, "high monotony", "MSSE 30:1164", "from memory"),
    note="the two SD conventions differ by sqrt(7/6) and can straddle it",
)

SdConvention = Literal["sample", "population"]


def session_load_au(session_rpe: float, minutes: float) -> float:
    """Session RPE (CR10, 0-10) x minutes, in arbitrary units; ValueError outside the scale."""
    if not 0 <= session_rpe <= 10 or not minutes >= 0:
        raise ValueError("session RPE runs from 0 to 10 and minutes from 0")
    return session_rpe * minutes


def monotony(daily_loads_au: Sequence[float], sd: SdConvention) -> float | None:
    """Mean over SD of the seven daily loads (rest days are 0); None where the SD is zero.

    ValueError unless there are seven days.
    """
    if len(daily_loads_au) != 7:
        raise ValueError("monotony is defined over seven days")
    mean = math.fsum(daily_loads_au) / 7
    squares = math.fsum((load - mean) ** 2 for load in daily_loads_au)
    spread = math.sqrt(squares / (6 if sd == "sample" else 7))
    return mean / spread if spread > 0 else None


def strain_au(daily_loads_au: Sequence[float], sd: SdConvention) -> float | None:
    """Weekly load x monotony; None where monotony has no value."""
    flat = monotony(daily_loads_au, sd)
    return None if flat is None else math.fsum(daily_loads_au) * flat


DAY_2004 = Finding(
    0.88,
    "ICC of session RPE in lifting",
    Source("Day et al.", 2004, "session RPE in lifting", "JSCR 18:353", "seen"),
    note="90 % x 4-5 is rated above 70 % x 10 and 50 % x 15: not proportional to volume",
)

KRAFT_2014 = Finding(
    table({80: Spread(5.7, 1.4), 60: Spread(4.3, 1.4)}),
    "session RPE (CR10) at equal work, by % of 1RM",
    Source("Kraft et al.", 2014, "session RPE at equal work", "abstract", "from memory"),
)

# ----------------------------------------------------------------------------------- wellness


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

MCLEAN_2010 = Finding(
    Questionnaire(("fatigue", "sleep quality", "soreness", "stress", "mood"), 1, 5, "better"),
    "points",
    Source("McLean et al.", 2010, "wellness questionnaire", "IJSPP 5:367", "seen"),
    note="points the opposite way to Hooper's",
)

# ------------------------------------------------------------------------- noise of strength

GRGIC_2020 = Finding(
    table({"ICC, median": 0.97, "CV, median %": 4.2, "CV, lowest %": 0.5, "CV, highest %": 12.1}),
    "as named",
    Source("Grgic et al.", 2020, "reliability of the 1RM test", "Sports Med Open 6:31", "seen",
           "10.1186/s40798-020-00260-z"),
    note="32 studies, 1595 people; ICC from 0.64 to 0.99, 92 % of them 0.90 or more",
)  # fmt: skip


def minimal_detectable_change_pct(cv_pct: float) -> float:
    """Smallest change (%) between two tests beyond noise with 95 %: 1.96 x sqrt(2) x CV."""
    return 1.96 * math.sqrt(2) * cv_pct


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

# --------------------------------------------------------------------- impulse and response


@dataclass(frozen=True, slots=True)
class ImpulseResponse:
    """Fitness and fatigue after a training impulse: gains k1 < k2, days tau1 > tau2."""

    tau1_days: float
    tau2_days: float
    k1: float = 1.0
    k2: float = 2.0

    def response_au(self, impulse_au: float, days: float) -> float:
        """Fitness minus fatigue, AU, `days` after one impulse."""
        fitness = self.k1 * math.exp(-days / self.tau1_days)
        return impulse_au * (fitness - self.k2 * math.exp(-days / self.tau2_days))

    @property
    def zero_day(self) -> float:
        """Day on which fitness has caught up with fatigue."""
        shared = self.tau1_days * self.tau2_days / (self.tau1_days - self.tau2_days)
        return shared * math.log(self.k2 / self.k1)

    @property
    def peak_day(self) -> float:
        """Day of the greatest response."""
        shared = self.tau1_days * self.tau2_days / (self.tau1_days - self.tau2_days)
        return self.zero_day + shared * math.log(self.tau1_days / self.tau2_days)


IMPULSE_RESPONSES = Finding(
    table({"classic": ImpulseResponse(45, 15), "short": ImpulseResponse(42, 7)}),
    "days",
    Source("Morton; Busso, Candau, Lacour", 1994, "impulse-response parameters", "secondary pages",
           "from memory"),
    note="42 and 7 days seen on a secondary page; shown as background, decides nothing",
)  # fmt: skip
