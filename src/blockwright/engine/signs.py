"""Warning signs: their names, who is stopped by which, and those in what a lifter logged.

Reading a note is not done here: a case carries what reads one (`files/signs`), as it carries
catalogue and policy. Never diagnoses."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from .policy import Policy
from .reasons import Caution, FactValue
from .training import Catalogue, CheckIn, SetDone

CHEST, BREATH, FAINT = "chest pain", "breathlessness", "faintness"
HEART, ARM = "an irregular or racing heart", "pain in arm, jaw or neck"
BLOOD = "coughed-up blood"
HEAD, URINE = "a sudden headache or change of sight", "dark urine"
SWELLING, NUMB = "extreme swelling or weakness", "numbness"
CALF, SHARP = "calf pain or swelling", "sharp pain"
POSSIBLE = "a possible warning sign"

QUESTIONS: Mapping[str, str] = {
    CHEST: "chest pain, or sore chest muscles?",
    BREATH: "out of breath beyond what the work explains, or breathing hard from hard work?",
    BLOOD: "blood that came up from the lungs, or from the gums, the nose or a bitten lip?",
    FAINT: "faint or dizzy, or only tired?",
    HEART: "a heart beating wrongly or racing without work, or a high pulse from hard work?",
    ARM: "pain in arm, jaw or neck that comes with effort, or a tired muscle or stiff neck?",
    HEAD: "a sudden headache or change of sight during effort, or an ordinary headache?",
    URINE: "urine dark as tea or cola, or something else?",
    SWELLING: "a muscle badly swollen or too weak to use, or the usual pump and soreness?",
    NUMB: "numb, tingling or a grip that fails without cause, or only tired hands?",
    CALF: "a calf that hurts or swells at rest, or sore from training?",
    SHARP: "a sharp, stabbing or popping pain, or an ordinary ache or a click without pain?",
    POSSIBLE: "something that may be a warning sign, or ordinary training talk?",
}
"""By sign, in the order in which they are told: what is asked where it is in doubt."""
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


@dataclass(frozen=True, slots=True)
class SignFound:
    sign: str
    sure: bool
    """Whether the words leave no doubt; else it is referred all the same, and asked about."""


ReadNote = Callable[[str], tuple[SignFound, ...]]
"""The warning signs in what somebody wrote, each once, in the order of `QUESTIONS`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Warning:
    sign: str
    day: date
    lift: str  # What was being done, or what the check-in is about
    sure: bool = True
    """Whether the words leave no doubt; a doubtful one is referred too, and asked about."""
    row: int = 0  # Of the file, or of the log in the order done
    words: str = ""  # What was written; "" where a button was tapped.

    @property
    def asks(self) -> str | None:
        """The question that would settle it; None where there is no doubt."""
        return None if self.sure else QUESTIONS.get(self.sign)


def signs_in_sets(sets: Iterable[SetDone], read: ReadNote) -> tuple[Warning, ...]:
    """Warning signs in the notes of sets, each once a day, in order of day and row."""
    return _once_a_day(
        Warning(
            sign=one.sign,
            day=done.moment.day,
            lift=done.lift,
            sure=one.sure,
            row=done.row,
            words=done.note,
        )
        for done in sets
        if done.note
        for one in read(done.note)
    )


def signs_in_checkins(
    checkins: Iterable[CheckIn], catalogue: Catalogue, policy: Policy, read: ReadNote
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
            words=said.note,
        )
        for said in checkins
        for one in _in_checkin(said, catalogue, carry_on, read)
    )


def _in_checkin(
    said: CheckIn, catalogue: Catalogue, carry_on: float, read: ReadNote
) -> Iterator[SignFound]:
    yield from read(said.note)
    about = said.about or ""
    if said.measure in ("sore", "machines") or (said.measure == "pain" and said.value <= 0):
        return
    yield from read(f"{about} {said.value:g}" if said.measure == "pain" else about)
    if said.measure == "pain" and said.value > carry_on and catalogue.find(about) is None:
        yield from (one for one in read(f"pain in {about}") if one.sign == CHEST)


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


SIGN_CODES = _WHOLE, _LIFT, _DOUBT = ("sheet_sign", "sheet_sign_lift", "sheet_sign_in_doubt")


def sign_caution(one: Warning) -> Caution:
    """What a sheet and a block say of a sign that nobody has cleared."""
    facts: dict[str, FactValue] = {
        "sign": one.sign,
        "date": one.day.isoformat(),
        "lift": one.lift,
        "was": "was",
    }
    if one.asks is not None:
        return Caution(code=_DOUBT, facts=facts | {"asks": one.asks}, source=SIGN_SOURCE)
    code = _WHOLE if one.sign in WHOLE_BODY_SIGNS else _LIFT
    return Caution(code=code, facts=facts, source=SIGN_SOURCE)


def signs_said(cautions: Iterable[Caution]) -> tuple[Warning, ...]:
    """The signs that a block was made under, back from what it says of them."""
    return tuple(
        Warning(
            sign=str(one.facts["sign"]),
            day=date.fromisoformat(str(one.facts["date"])),
            lift=str(one.facts["lift"]),
            sure=one.code != _DOUBT,
        )
        for one in cautions
        if one.code in SIGN_CODES
    )


def still_said(cautions: Iterable[Caution], cleared: Mapping[str, date]) -> tuple[Caution, ...]:
    """A block's cautions without those of signs that were cleared since."""
    return tuple(
        one
        for one in cautions
        if one.code not in SIGN_CODES or uncleared_signs(signs_said([one]), cleared, *_EVER)
    )


_EVER = (date.min, date.max)
