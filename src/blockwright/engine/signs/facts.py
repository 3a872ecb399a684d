"""Warning signs in what a lifter logged: the notes of sets and check-ins."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from blockwright.engine.policy import Policy
from blockwright.engine.signs.grammar import SignFound, signs_found
from blockwright.engine.signs.tables import (
    ARM,
    BLOOD,
    BREATH,
    CALF,
    CHEST,
    FAINT,
    HEAD,
    HEART,
    POSSIBLE,
    QUESTIONS,
    SWELLING,
    URINE,
)
from blockwright.engine.training import Catalogue, CheckIn, SetDone

STOP_SIGN = "a stop sign"
"""What the phone's button says: pain or pressure in the chest, faintness, numbness, unusual
breathlessness or sharp pain ended the session; nobody said which."""

SIGN_SOURCE = "ACSM Guidelines, major signs and symptoms; Honda 2017 (dark urine)"

WHOLE_BODY_SIGNS = frozenset(
    {CHEST, BREATH, BLOOD, FAINT, HEART, ARM, HEAD, URINE, SWELLING, CALF, POSSIBLE, STOP_SIGN}
)
"""Signs that stop all progress until somebody licensed has looked; the others stop their lift."""


SIGNS = frozenset({*QUESTIONS, STOP_SIGN})
"""Every sign by the name under which it is told and cleared."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warning:
    """A warning sign found in what somebody wrote."""

    sign: str
    day: date
    lift: str
    """What was being done, or what the check-in is about."""
    sure: bool = True
    """Whether the words leave no doubt; a doubtful one is referred too, and asked about."""
    row: int = 0
    """Of the file, or of the log in the order done."""

    @property
    def asks(self) -> str | None:
        """The question that would settle it; None where there is no doubt."""
        return None if self.sure else QUESTIONS.get(self.sign)


def signs_in_sets(sets: Iterable[SetDone]) -> tuple[Warning, ...]:
    """Warning signs in the notes of sets, each once a day, in order of day and row."""
    return _once_a_day(
        Warning(sign=one.sign, day=done.moment.day, lift=done.lift, sure=one.sure, row=done.row)
        for done in sets
        if done.note
        for one in signs_found(done.note)
    )


def signs_in_checkins(
    checkins: Iterable[CheckIn], catalogue: Catalogue, policy: Policy
) -> tuple[Warning, ...]:
    """Warning signs in check-ins: in their notes and in what they say they are about. Pain in the
    chest above the carry-on line is one: a file cannot show that it is only the muscle."""
    carry_on = policy.number("safety.pain_carry_on")
    return _once_a_day(
        Warning(
            sign=one.sign,
            day=said.moment.day,
            lift=said.about or said.measure.replace("_", " "),
            sure=one.sure,
            row=said.row,
        )
        for said in checkins
        for one in _in_checkin(said, catalogue, carry_on)
    )


def _in_checkin(said: CheckIn, catalogue: Catalogue, carry_on: float) -> Iterator[SignFound]:
    yield from signs_found(said.note)
    about = said.about or ""
    if said.measure in ("sore", "machines") or (said.measure == "pain" and said.value <= 0):
        return
    yield from signs_found(f"{about} {said.value:g}" if said.measure == "pain" else about)
    if said.measure == "pain" and said.value > carry_on and catalogue.find(about) is None:
        yield from (one for one in signs_found(f"pain in {about}") if one.sign == CHEST)


def uncleared_signs(
    found: Iterable[Warning], cleared: Mapping[str, date], first: date, last: date
) -> tuple[Warning, ...]:
    """The signs from `first` to `last` that no professional has cleared since, in order.
    `cleared`: by sign, the day it was cleared."""
    kept = (
        one
        for one in found
        if first <= one.day <= last and one.day > cleared.get(one.sign, date.min)
    )
    return tuple(sorted(kept, key=lambda each: (each.day, each.sign)))


def latest_of_each(signs: Iterable[Warning]) -> tuple[Warning, ...]:
    """Of signs in order, the latest of each kind only."""
    latest = {one.sign: one for one in signs}
    return tuple(sorted(latest.values(), key=lambda each: (each.day, each.sign)))


def _once_a_day(found: Iterable[Warning]) -> tuple[Warning, ...]:
    """Each sign once a day: the first that is sure, else the first."""
    kept: dict[tuple[str, date], Warning] = {}
    for one in sorted(found, key=lambda each: (each.day, each.row)):
        key = (one.sign, one.day)
        if key not in kept or (one.sure and not kept[key].sure):
            kept[key] = one
    return tuple(kept.values())
