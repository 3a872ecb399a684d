"""Screening, signs that stop a session, blood pressure: what the product prints the source of.

Nothing here diagnoses. Every finding leads to one of two things: carry on, or see a licensed
professional first."""

from typing import Literal

from blockwright.engine.sources import Source
from .finding import Finding, table

WARNING_SIGNS = Source(
    "ACSM", None, "major signs and symptoms",
    "Guidelines for Exercise Testing and Prescription, Table 2.x", "seen",
)  # fmt: skip
PAIN_BANDS = Source(
    "Thomeé et al.", 1997, "pain-monitoring bands", "Phys Ther 77:1690", "from memory"
)
SESSION_LOAD = Source(
    "Foster", 1998, "load and monotony", "MSSE 30:1164; population SD of seven days", "seen"
)
"""The SD is our choice: the sources seen do not say which."""
RIEBE_2015 = Source(
    "Riebe et al.", 2015, "screening decision table", "MSSE 47:2473, Fig 2", "from memory",
    "10.1249/MSS.0000000000000664",
)  # fmt: skip
"""Active means at least 30 min of moderate exercise on 3 days a week for the last 3 months."""

Clearance = Literal["none", "first", "before vigorous", "stop"]
"""none; first: before any exercise; before vigorous: within the last 12 months; stop: stop
exercising and seek clearance."""


def riebe_clearance(*, active: bool, known_disease: bool, symptoms: bool) -> Clearance:
    """The six branches of the decision table (`RIEBE_2015`, from memory).

    Symptoms outweigh known disease. `known_disease` is heart, metabolic or kidney disease."""
    if symptoms:
        return "stop" if active else "first"
    if not known_disease:
        return "none"
    return "before vigorous" if active else "first"


BLOOD_PRESSURE_LIMITS = Finding(
    table({"refer above": (160, 100), "do not train above": (180, 110)}),
    "mmHg (systolic, diastolic)",
    Source("AHA", 2007, "relative and absolute limits", "scientific statement", "from memory"),
)
