"""The cautions that the sets of a block ask for. None of them can be declined.

What a single lift asks for stands on the sheet, beside the lift."""

from collections.abc import Sequence

from blockwright.engine.reasons import Caution
from blockwright.engine.training import Catalogue, Week

SPOTTER_SOURCE = "NSCA Essentials, spotting (from memory)"
SUDDEN_VOLUME = Caution(code="sudden_volume", source="Honda 2017, case reports")


def effort_cautions(catalogue: Catalogue, weeks: Sequence[Week]) -> tuple[Caution, ...]:
    """A spotter where free weights come near failure, and sudden great volume."""
    lifts = ", ".join(spotter_lifts(weeks, catalogue))
    spotter = Caution(code="spotter", facts={"lifts": lifts}, source=SPOTTER_SOURCE)
    return (spotter, SUDDEN_VOLUME) if lifts else (SUDDEN_VOLUME,)


def spotter_lifts(weeks: Sequence[Week], catalogue: Catalogue) -> tuple[str, ...]:
    """Free-weight lifts whose sets come within two repetitions of failure."""
    entries = [e for week in weeks for e in week.entries]
    near = {e.lift for e in entries if any(row.rir <= 2 for row in e.sets)}
    lifts = catalogue.known(sorted(near))
    return tuple(x.name for x in lifts if x.wants_spotter)
