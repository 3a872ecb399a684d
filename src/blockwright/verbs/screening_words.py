"""What a lifter's screening answers ask for, in words."""

from dataclasses import dataclass
from datetime import date

from blockwright.engine.policy import Policy
from blockwright.engine.training import Lifter
from blockwright.files.words import caution_says


@dataclass(frozen=True, slots=True)
class Screened:
    """`refers` while an answer needs a clearance that nobody has recorded; the cautions stay."""

    refers: bool
    says: tuple[str, ...]


def screened(lifter: Lifter, policy: Policy, today: date) -> Screened:
    """By the answers, the readings and the year of birth, as they stand today."""
    from blockwright.engine.screening import When, screening_cautions, status_of

    when = When.at(lifter, today)
    return Screened(
        refers=status_of(lifter, when, policy) == "refer",
        says=tuple(caution_says(one) for one in screening_cautions(lifter, when, policy)),
    )
