"""What a lifter's screening answers ask for, in words."""

from dataclasses import dataclass
from datetime import date

from blockwright.engine.training import Lifter
from blockwright.files.words import caution_says


@dataclass(frozen=True, slots=True)
class Screened:
    """`refers` while an answer needs a clearance that nobody has recorded; the cautions stay."""

    refers: bool
    says: tuple[str, ...]


def screened(lifter: Lifter, today: date) -> Screened:
    """By the answers and the year of birth, at the start of the block or else today."""
    from blockwright.engine.planning.cautions import screening_cautions, status_of

    cautions = screening_cautions(lifter, lifter.start or today)
    return Screened(
        refers=status_of(lifter, cautions) == "refer",
        says=tuple(caution_says(one) for one in cautions),
    )
