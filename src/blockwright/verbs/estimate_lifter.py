"""A lifter's strength from the facts the site holds: the estimate, and how it came about.

Remembered until a fact comes or the lifter's file changes: a log of ten years (31,000 sets) takes
about four seconds of a processor the first time (docs/site.md).
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any
from uuid import UUID

from blockwright.engine.units import Unit
from blockwright.files.json_text import plain
from blockwright.store.facts import last_seq
from blockwright.store.models import Lifter
from blockwright.store.partner import again
from blockwright.verbs.estimate_strength import estimate_strength
from blockwright.verbs.stored_case import stored_case
from blockwright.verbs.stored_values import load_lifter

_REMEMBERED = 32
"""Estimates kept in memory, about 2 MB each for ten years of four sessions a week."""


@dataclass(frozen=True, slots=True)
class LifterEstimate:
    """The `blockwright/estimate/1` document of one lifter, and the history of each lift."""

    document: dict[str, Any]
    history: dict[str, dict[str, Any]]
    """By lift with evidence, what `report_plots.strength_svg` draws: every session's belief in
    kg, the belief now, the trend and where it heads; and `scale`, what a 1RM weighs."""
    unit: Unit


def estimate_lifter(row: Lifter, unit: Unit | None = None) -> LifterEstimate:
    """The estimate as of each lift's last set; `unit` (the lifter's if None) rounds its loads.

    BadInput if the lifter's row was written by a newer version.
    """
    shown = unit or load_lifter(row).value.units
    return _estimated(row.key, row.reader, row.version, last_seq(row), shown)


@lru_cache(maxsize=_REMEMBERED)
def _estimated(
    key: UUID, reader: int | None, _version: int, _seq: int, unit: Unit
) -> LifterEstimate:
    row = again(key, reader)
    case = stored_case(row)
    found = estimate_strength([case], unit)
    return LifterEstimate(
        plain(found.document), plain({one["lift"]: one for one in found.histories}), unit
    )
