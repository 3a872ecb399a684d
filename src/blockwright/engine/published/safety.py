"""Screening, signs that stop a session, blood pressure: what the product prints the source of.

Nothing here diagnoses. Every finding leads to one of two things: carry on, or see a licensed
professional first.
"""

from dataclasses import dataclass
from typing import Literal

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source

WARNING_SIGNS = Finding(
    (
        "pain or pressure in the chest, neck, jaw or arms",
        "short of breath at rest or with mild effort",
        "dizziness or fainting",
        "short of breath lying down or waking at night",
        "swollen ankles",
        "palpitations or a racing heart",
        "pain in the calves on walking that goes with rest",
        "a known heart murmur",
        "unusual tiredness or breathlessness with usual activity",
    ),
    "signs",
    Source("ACSM", None, "major signs and symptoms", "Guidelines for Exercise Testing and "
           "Prescription, Table 2.x", "seen"),
    note="any of them: stop and see a professional",
)  # fmt: skip

RIEBE_2015 = Source(
    "Riebe et al.", 2015, "screening decision table", "MSSE 47:2473, Fig 2", "from memory",
    "10.1249/MSS.0000000000000664",
)  # fmt: skip
"""Active means at least 30 min of moderate exercise on 3 days a week for the last 3 months."""

Clearance = Literal["none", "first", "before vigorous", "stop"]


@dataclass(frozen=True, slots=True)
class ScreeningOutcome:
    """What the table says. `then` is how to go on once that is settled."""

    clearance: Clearance
    """none; first: before any exercise; before vigorous: within the last 12 months; stop: stop
    exercising and seek clearance."""
    then: Literal["light to moderate, progress slowly", "continue", "as cleared"]


def riebe_outcome(*, active: bool, known_disease: bool, symptoms: bool) -> ScreeningOutcome:
    """The six branches of the decision table (`RIEBE_2015`, from memory).

    Symptoms outweigh known disease. `known_disease` is heart, metabolic or kidney disease.
    """
    if symptoms:
        return ScreeningOutcome("stop" if active else "first", "as cleared")
    if known_disease:
        if active:
            return ScreeningOutcome("before vigorous", "continue")
        return ScreeningOutcome("first", "light to moderate, progress slowly")
    if active:
        return ScreeningOutcome("none", "continue")
    return ScreeningOutcome("none", "light to moderate, progress slowly")


BLOOD_PRESSURE_LIMITS = Finding(
    table({"refer above": (160, 100), "do not train above": (180, 110)}),
    "mmHg (systolic, diastolic)",
    Source("AHA", 2007, "relative and absolute limits", "scientific statement", "from memory"),
)
