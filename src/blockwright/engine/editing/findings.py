"""What a rule finds: how badly it is broken, in what words, and whether a coach may insist."""

from dataclasses import dataclass
from typing import Literal

from blockwright.engine.reasons import Reason

Force = Literal["refused", "pin", "insist"]
Key = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Finding:
    size: float
    """How badly: larger is worse."""
    reason: Reason
    force: Force
