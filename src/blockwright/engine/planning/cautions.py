"""Screening to a status, and the cautions of a block. None of them can be declined."""

from collections.abc import Sequence
from datetime import date

from blockwright.engine.published.safety import RIEBE_2015, riebe_outcome
from blockwright.engine.reasons import Caution
from blockwright.engine.training import Catalogue, Entry, Lifter, Week


def screening_cautions(lifter: Lifter, on: date) -> tuple[Caution, ...]:
    """What the screening answers ask for; those with code `screening_refer` need clearance.

    The decision table of Riebe et al. 2015 (from memory) for disease, symptoms and activity,
    vigorous effort being what a block asks for; pregnancy, surgery or injury within a year and
    youth defer to licensed practice whatever the table says.
    """
    screening = lifter.screening
    found: list[Caution] = []
    disease = bool(screening.heart_or_metabolic_condition or screening.kidney_disease)
    outcome = riebe_outcome(
        active=bool(screening.currently_active),
        known_disease=disease,
        symptoms=bool(screening.symptoms_at_effort),
    )
    if outcome.clearance != "none":
        why = (
            "signs or symptoms at effort"
            if screening.symptoms_at_effort
            else ("a known heart, metabolic or kidney condition")
        )
        found.append(
            Caution(
                code="screening_refer",
                facts={"why": why, "clearance": outcome.clearance},
                source=str(RIEBE_2015),
            )
        )
    if screening.pregnant_or_postpartum:
        found.append(_refer("pregnancy or recent birth"))
    if screening.surgery_or_injury_last_year:
        found.append(_refer("surgery or injury in the last year"))
    if is_minor(lifter, on):
        found.append(_refer("a lifter under 18"))
    if screening.high_blood_pressure:
        found.append(Caution(code="high_blood_pressure", source="Sorace 2012; AHA 2007"))
    return tuple(found)


def _refer(why: str) -> Caution:
    return Caution(
        code="screening_refer",
        facts={"why": why, "clearance": "first"},
        source="licensed practice and local rules",
    )


def is_minor(lifter: Lifter, on: date) -> bool:
    """Under 18 as said, or by the year of birth: the year in which 18 is reached counts as
    under, since the day is not known."""
    if lifter.screening.under_18:
        return True
    return lifter.born is not None and on.year - lifter.born <= 18


def status_of(lifter: Lifter, cautions: Sequence[Caution]) -> str:
    """ "refer" while an answer needs clearance that nobody has recorded, else "ready"."""
    needs = any(caution.code == "screening_refer" for caution in cautions)
    return "refer" if needs and lifter.screening.cleared_on is None else "ready"


def block_cautions(
    lifter: Lifter, catalogue: Catalogue, weeks: Sequence[Week]
) -> tuple[Caution, ...]:
    """Screening, a spotter where free weights come near failure, and sudden great volume.

    What a single lift asks for stands on the sheet, beside the lift.
    """
    start = lifter.start
    if start is None:
        raise ValueError("a block needs a start")
    found = list(screening_cautions(lifter, start))
    spotter = spotter_lifts(weeks, catalogue)
    if spotter:
        found.append(
            Caution(
                code="spotter",
                facts={"lifts": ", ".join(spotter)},
                source="NSCA Essentials, spotting (from memory)",
            )
        )
    found.append(Caution(code="sudden_volume", source="Honda 2017, case reports"))
    return tuple(found)


def spotter_lifts(weeks: Sequence[Week], catalogue: Catalogue) -> tuple[str, ...]:
    """Free-weight lifts whose sets come within two repetitions of failure."""
    near = {e.lift for e in _entries(weeks) if any(row.rir <= 2 for row in e.sets)}
    found = []
    for name in sorted(near):
        lift = catalogue.find(name)
        if lift is not None and lift.stability == "free" and not lift.safe_to_fail:
            found.append(name)
    return tuple(found)


def _entries(weeks: Sequence[Week]) -> list[Entry]:
    return [e for week in weeks for session in week.sessions for e in session.entries]
