"""Pain bands, sudden great volume, limits for those who need them; nothing here diagnoses."""

from dataclasses import dataclass
from typing import Literal

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source
from published.spread import Spread

SCREENING_FACTORS = Finding(
    ("current activity", "signs, symptoms or known heart, metabolic or kidney disease",
     "desired intensity"),
    "factors",
    Source("Riebe et al.", 2015, "pre-participation screening", "MSSE 47:2473", "seen",
           "10.1249/MSS.0000000000000664"),
    note="risk factors alone never lead to a referral",
)  # fmt: skip

PainBand = Literal["safe", "acceptable", "high risk"]

PAIN_BANDS = Finding(
    table({"safe": (0.0, 2.0), "acceptable": (2.0, 5.0), "high risk": (5.0, 10.0)}),
    "0-10, from and to",
    Source("Thomee", 1997, "pain monitoring", "Phys Ther 77:1690", "from memory"),
    note="a boundary belongs to the lower band",
)

PAIN_VARIANTS = Finding(
    table({"Silbernagel 2007, acceptable to": 5.0, "clinic, safe to": 3.0,
           "clinic, acceptable to": 5.0}),
    "0-10",
    Source("Silbernagel; physiotherapy page", 2007, "pain monitoring variants",
           "AJSM 35:897; clinic page", "from memory"),
    note="Silbernagel: during and after, gone by the next morning. The clinic's page was seen",
)  # fmt: skip


def pain_band(pain: float) -> PainBand:
    """The band of a 0-10 rating; a boundary belongs to the lower band. ValueError outside 0-10."""
    if not 0 <= pain <= 10:
        raise ValueError(f"pain is rated from 0 to 10, not {pain}")
    if pain <= PAIN_BANDS.value["safe"][1]:
        return "safe"
    return "acceptable" if pain <= PAIN_BANDS.value["acceptable"][1] else "high risk"


@dataclass(frozen=True, slots=True)
class RhabdoCase:
    """Blood creatine kinase after a session, and what had been done."""

    creatine_kinase: int
    done: str


RHABDO_CASES = Finding(
    (
        RhabdoCase(95100, "100 push-ups, 100 repetitions with a 20 kg dumbbell, 50 with 10 kg"),
        RhabdoCase(59159, "24 sets of push-ups and 24 sets of chin-ups"),
    ),
    "U/L",
    Source("Honda", 2017, "exertional rhabdomyolysis", "case reports (PMC5491812)", "seen"),
    note="threshold from memory: above five times the upper limit",
)

RHABDO_SIGNS = Finding(
    ("dark urine", "swelling", "severe muscle pain"),
    "signs",
    Source("Honda", 2017, "exertional rhabdomyolysis", "case reports (PMC5491812)", "seen"),
    note="after unaccustomed volume: see a doctor the same day",
)


@dataclass(frozen=True, slots=True)
class StartingLimits:
    """Ranges for a beginner or a young lifter, from and to."""

    reps: tuple[int, int]
    sets: tuple[int, int]
    load_pct: tuple[float, float] | None = None
    days: tuple[int, int] | None = None
    increase_pct: tuple[float, float] | None = None


NOVICE_START = Finding(
    StartingLimits(reps=(8, 12), sets=(1, 3), load_pct=(60, 70)),
    "% of 1RM and counts",
    Source("RACGP", 2016, "novice start", "Australian Family Physician, December 2016", "seen"),
)

YOUTH = Finding(
    StartingLimits(reps=(6, 15), sets=(1, 3), days=(2, 3), increase_pct=(5, 10)),
    "counts and %",
    Source("Faigenbaum et al.", 2009, "youth resistance training", "JSCR 23(S5):S60", "from memory",
           "10.1519/JSC.0b013e31819df407"),
    note="days not in a row",
)  # fmt: skip

SPOTTING = Finding(
    ("bar on the back or the front", "load over the face", "load overhead"),
    "lifts that want a spotter or safeties",
    Source("NSCA", None, "spotting", "Essentials; Standards and Guidelines", "from memory"),
)

BLOOD_PRESSURE_RISE = Finding(
    table({"hypertensive": Spread(80, 3), "normotensive": Spread(62, 2)}),
    "mmHg systolic rise at 80 % of 1RM, mean and SE as printed",
    Source("Intra-arterial study; Sorace", 2012, "pressure in lifting", "as cited", "seen"),
    note="prescription for high blood pressure: 40-60 % of 1RM x 12-15",
)

PREGNANCY = Finding(
    "refer to a clinician; no automatic loading",
    "rule",
    Source("ACOG", None, "exercise in pregnancy has its own stop signs", "Committee Opinion 804",
           "seen"),
    note="also the Canadian guideline of 2019",
)  # fmt: skip
