"""Screening: what the answers ask for, what a clearance covers, how gently to begin.

A clearance belongs to the causes it names and lasts for so many months; a referral that it does not
cover makes the block wait. Nothing here diagnoses."""

import calendar
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from .policy import Policy
from .published.safety import BLOOD_PRESSURE_LIMITS, RIEBE_2015, riebe_clearance
from .reasons import Caution, FactValue, Reason
from .training import Block, Lifter, Screening

CAUSES: Mapping[str, str] = {
    "heart_or_metabolic_condition": "a known heart or metabolic condition",
    "symptoms_at_effort": "signs or symptoms at effort",
    "pregnant_or_postpartum": "pregnancy or recent birth",
    "kidney_disease": "a known kidney disease",
    "high_blood_pressure": "blood pressure",
    "under_18": "a lifter under 18",
    "surgery_or_injury_last_year": "surgery or injury in the last year",
}
"""What may ask for a clearance, and so what one may be for: answer to words."""
CODES = frozenset({
    "not_screened", "screening_refer", "screening_cleared", "pressure_stop", "high_blood_pressure",
    "clearance_to_come", "clearance_too_old", "clearance_for_other",
})  # fmt: skip
"""Every caution that stands in a block because of an answer."""
_LOCAL = "licensed practice and local rules"
_PRESSURE = str(BLOOD_PRESSURE_LIMITS.source)


@dataclass(frozen=True, slots=True)
class When:
    """The days a question about a lifter's screening is asked for."""

    start: date
    """When training begins, or goes on: a clearance may be so many months older and no more."""
    known: date  # The last day known: a clearance after it has not been given yet

    @classmethod
    def at(cls, lifter: Lifter, today: date) -> "When":
        """Asked today: of the start of the lifter's file where that is yet to come."""
        return cls(max(lifter.start or today, today), today)


@dataclass(frozen=True, slots=True)
class _Referral:
    causes: tuple[str, ...]
    caution: Caution
    lifts: bool = True  # Whether a clearance lifts it


def screening_cautions(lifter: Lifter, when: When, policy: Policy) -> tuple[Caution, ...]:
    """What the screening asks for: first that it was not answered, then every referral, or that it
    was cleared, then why the clearance written down does not free the block."""
    found: list[Caution] = []
    missing = unanswered(lifter)
    if missing:
        facts: dict[str, FactValue] = {"count": len(missing), "questions": ", ".join(missing)}
        found.append(Caution(code="not_screened", facts=facts, source=str(RIEBE_2015)))
    waits = _uncovered(lifter, when, policy)
    for one in _referrals(lifter, when, policy):
        found.append(one.caution if one in waits else _cleared(one, lifter.screening))
    found += _short_of(lifter, when, policy)
    if has_pressure(lifter.screening, policy):
        found.append(Caution(code="high_blood_pressure", source="Sorace 2012; AHA 2007"))
    return tuple(found)


def status_of(lifter: Lifter, when: When, policy: Policy) -> Literal["ready", "refer"]:
    """ "refer" while something needs a clearance that does not cover it, else "ready"."""
    return "refer" if _uncovered(lifter, when, policy) else "ready"


def unanswered(lifter: Lifter) -> tuple[str, ...]:
    """The questions of the file without an answer that the rest of the file does not give."""
    screening = lifter.screening
    said = {
        "under_18": lifter.born is not None,
        "pregnant_or_postpartum": lifter.sex == "male",
        "high_blood_pressure": screening.systolic is not None,
    }
    questions = (*CAUSES, "currently_active")
    return tuple(q for q in questions if getattr(screening, q) is None and not said.get(q))


def causes_of(lifter: Lifter, when: When, policy: Policy) -> tuple[str, ...]:
    """The causes that ask for a clearance, as a clearance names them."""
    return tuple(c for one in _referrals(lifter, when, policy) for c in one.causes)


def is_minor(lifter: Lifter, on: date) -> bool:
    """Under 18 as said, or by the year of birth: the year in which 18 is reached counts as
    under, since the day is not known."""
    if lifter.screening.under_18:
        return True
    return lifter.born is not None and on.year - lifter.born <= 18


def is_too_old(cleared_on: date, on: date, policy: Policy) -> bool:
    """Whether a clearance lasts no longer on a day."""
    months = on.year * 12 + on.month - 1 - policy.whole("screening.clearance_months")
    year, month = divmod(months, 12)
    day = min(on.day, calendar.monthrange(year, month + 1)[1])
    return cleared_on < date(year, month + 1, day)


def as_on(block: Block, day: date, policy: Policy) -> Block:
    """The block as it stands on a day: it waits once the clearance it was made under has lasted
    its time, until the coach writes down another."""
    lifter = block.lifter
    cleared_on = lifter.screening.cleared_on
    if block.status == "refer" or cleared_on is None or not is_too_old(cleared_on, day, policy):
        return block
    if status_of(lifter, When(day, day), policy) == "ready":
        return block
    late = _too_old(cleared_on, policy)
    cautions = block.cautions if late in block.cautions else (late, *block.cautions)
    return replace(block, status="refer", cautions=cautions)


# --------------------------------------------------------------------------- how hard it may be


def has_pressure(screening: Screening, policy: Policy) -> bool:
    """High blood pressure as answered, or as measured above the line for a referral."""
    return bool(screening.high_blood_pressure) or _reads(screening, policy, "refer")


def keeps_from_failure(lifter: Lifter, policy: Policy) -> bool:
    """Whether nothing goes to failure in the block, and no set is rest-paused or dropped."""
    return has_pressure(lifter.screening, policy) or begins_gently(lifter)


def begins_gently(lifter: Lifter) -> bool:
    """Whether somebody who has not been active starts light to moderate (Riebe et al. 2015)."""
    return lifter.screening.currently_active is False


def is_new(lifter: Lifter) -> bool:
    """Whether heavy sets are not yet for this lifter: a novice, or somebody not active."""
    return lifter.experience == "novice" or begins_gently(lifter)


def fewest_reps(lifter: Lifter, policy: Policy) -> int:
    """Repetitions below which no set is printed or loaded for this lifter; 0 for no limit."""
    new = is_new(lifter) and not policy.switch("planning.novice_low")
    pressed = has_pressure(lifter.screening, policy) and not policy.switch("planning.pressure_low")
    return policy.whole("planning.no_low_reps") if new or pressed else 0


def inactive_reason(policy: Policy) -> Reason:
    """Why more is kept in reserve at first."""
    keys = ("screening.inactive_weeks", "screening.inactive_rir")
    facts: dict[str, FactValue] = {"weeks": policy.whole(keys[0]), "rir": policy.number(keys[1])}
    return Reason(code="rir_kept_to_begin", facts=facts, policy=keys, source=str(RIEBE_2015))


def least_rir(lifter: Lifter, week: int, policy: Policy) -> float:
    """The least reserve of build week `week` (1, 2, ...) of somebody's block; 0 for no limit."""
    least = 0.0
    if has_pressure(lifter.screening, policy):
        least = policy.number("ramp.least_rir_high_blood_pressure")
    if begins_gently(lifter):
        after = max(0, week - policy.whole("screening.inactive_weeks"))
        least = max(least, policy.number("screening.inactive_rir") - after)
    return least


# ------------------------------------------------------------------------------------ referrals


def _referrals(lifter: Lifter, when: When, policy: Policy) -> list[_Referral]:
    """Every answer that needs a clearance.

    The decision table of Riebe et al. 2015 (from memory) for disease, symptoms and activity,
    vigorous effort being what a block asks for; pregnancy, surgery or injury within a year and
    youth defer to licensed practice whatever the table says."""
    said = lifter.screening
    disease = [c for c in ("heart_or_metabolic_condition", "kidney_disease") if getattr(said, c)]
    clearance = riebe_clearance(
        active=bool(said.currently_active),
        known_disease=bool(disease),
        symptoms=bool(said.symptoms_at_effort),
    )
    found: list[_Referral] = []
    if said.symptoms_at_effort:
        disease = ["symptoms_at_effort", *disease]
    for cause in disease:
        found.append(_referral(cause, str(RIEBE_2015), clearance))
    for cause in ("pregnant_or_postpartum", "surgery_or_injury_last_year"):
        if getattr(said, cause):
            found.append(_referral(cause, _LOCAL))
    if is_minor(lifter, when.start):
        found.append(_referral("under_18", _LOCAL))
    return [*found, *_by_pressure(said, policy)]


def _referral(cause: str, source: str, clearance: str = "first") -> _Referral:
    facts: dict[str, FactValue] = {"why": CAUSES[cause], "clearance": clearance, "cause": cause}
    return _Referral((cause,), Caution(code="screening_refer", facts=facts, source=source))


def _cleared(referral: _Referral, said: Screening) -> Caution:
    """What stays of a referral that a clearance covers."""
    facts = {**referral.caution.facts, "date": str(said.cleared_on)}
    return replace(referral.caution, code="screening_cleared", facts=facts)


def _by_pressure(said: Screening, policy: Policy) -> list[_Referral]:
    """A reading above the first line refers; at the second nobody trains, cleared or not."""
    cause = "high_blood_pressure"
    reading = f"{said.systolic or '?'}/{said.diastolic or '?'}"
    if _reads(said, policy, "stop"):
        facts: dict[str, FactValue] = {"reading": reading, "limit": _limit(policy, "stop")}
        caution = Caution(code="pressure_stop", facts=facts, source=_PRESSURE)
        return [_Referral((cause,), caution, lifts=False)]
    if not _reads(said, policy, "refer"):
        return []
    why = f"blood pressure of {reading}, above {_limit(policy, 'refer')}"
    facts = {"why": why, "clearance": "first", "cause": cause}
    caution = Caution(code="screening_refer", facts=facts, source=_PRESSURE)
    return [_Referral((cause,), caution)]


def _reads(said: Screening, policy: Policy, line: Literal["refer", "stop"]) -> bool:
    """Whether a reading is above the line of a referral, or at or above that of a stop."""
    pairs = (
        (said.systolic, policy.number(f"screening.systolic_{line}")),
        (said.diastolic, policy.number(f"screening.diastolic_{line}")),
    )
    at = line == "stop"
    return any(r is not None and (r > most or (at and r == most)) for r, most in pairs)


def _limit(policy: Policy, line: str) -> str:
    systolic = policy.number(f"screening.systolic_{line}")
    return f"{systolic:g}/{policy.number(f'screening.diastolic_{line}'):g}"


def _uncovered(lifter: Lifter, when: When, policy: Policy) -> list[_Referral]:
    said, referrals = lifter.screening, _referrals(lifter, when, policy)
    day = said.cleared_on
    if day is None or day > when.known or is_too_old(day, when.start, policy):
        return referrals
    if said.cleared_for is None:
        return [one for one in referrals if not one.lifts]
    covered = set(said.cleared_for)
    return [one for one in referrals if not (one.lifts and covered.issuperset(one.causes))]


def _short_of(lifter: Lifter, when: When, policy: Policy) -> list[Caution]:
    """Why the clearance that is written down does not free the block."""
    day = lifter.screening.cleared_on
    left = [one for one in _uncovered(lifter, when, policy) if one.lifts]
    if day is None or not left:
        return []
    if day > when.known:
        return [Caution(code="clearance_to_come", facts={"date": day.isoformat()})]
    if is_too_old(day, when.start, policy):
        return [_too_old(day, policy)]
    why = ", ".join(CAUSES[cause] for one in left for cause in one.causes)
    facts: dict[str, FactValue] = {"date": day.isoformat(), "why": why}
    return [Caution(code="clearance_for_other", facts=facts)]


def _too_old(day: date, policy: Policy) -> Caution:
    months = policy.whole("screening.clearance_months")
    facts: dict[str, FactValue] = {"date": day.isoformat(), "months": months}
    return Caution(code="clearance_too_old", facts=facts, source=str(RIEBE_2015))
