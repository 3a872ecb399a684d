"""Pain bands, sudden great volume, limits for those who need them; nothing here diagnoses."""

from dataclasses import dataclass

from blockwright.engine.published.finding import Finding, table
from blockwright.engine.sources import Source

PAIN_BANDS = Finding(
    table({"safe": (0.0, 2.0), "acceptable": (2.0, 5.0), "high risk": (5.0, 10.0)}),
    "0-10, from and to",
    Source("Thomee", 1997, "pain monitoring", "Phys Ther 77:1690", "from memory"),
    note="a boundary belongs to the lower band",
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
