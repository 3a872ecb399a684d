"""A published mean with its spread."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Spread:
    """A mean and its standard deviation, as printed."""

    mean: float
    sd: float
