"""A proposal as one line of a letter: day, what, as printed -> as proposed, certainty, reason."""

from dataclasses import dataclass

from blockwright.engine.reasons import Certainty, Reason, certainty_word
from blockwright.engine.review import Proposal, Review, To
from blockwright.engine.review.named_session import day_of
from blockwright.engine.training import Lift
from blockwright.engine.units import Unit, in_unit, load_text, number_text
from blockwright.files.words import reason_short

_GENERAL = ("load_supported", "load_stays", "load_not_supported", "smallest_step")
"""Reasons from estimate or kit alone: what was lifted says the same, as a coach would."""
_WEEKS = {
    "repeat": "repeat the week",
    "light": "two thirds of the sets, one more in reserve",
    "deload": "deload",
}


@dataclass(frozen=True, slots=True)
class LetterLine:
    """The line's parts, ready to be read."""

    day: str
    """ "" for what is not of one session."""
    about: str
    change: str
    certainty: Certainty
    why: str


def line_of(proposal: Proposal, review: Review) -> LetterLine:
    """A proposal as a line of its letter."""
    lift = review.case.catalogue.find(proposal.lift or "")
    return LetterLine(
        day=_day(proposal, review),
        about=_about(proposal),
        change=_change(proposal, lift, review.case.lifter.units),
        certainty=certainty_word(proposal.confidence),
        why=reason_short(_strongest(proposal)),
    )


def _day(proposal: Proposal, review: Review) -> str:
    sessions = review.case.next_sessions
    here = next((one for one in sessions if one.session == proposal.session), None)
    if here is None:
        return ""
    day = day_of(here, sessions)
    return day[:1].upper() + day[1:]


def _about(proposal: Proposal) -> str:
    if proposal.lift is not None:
        return proposal.lift
    if proposal.kind == "refer":
        return str(proposal.says.facts.get("about", ""))
    if proposal.muscle is not None:
        return proposal.muscle.replace("_", " ")
    return "the block" if proposal.kind == "extend_block" else f"week {proposal.week}"


def _change(proposal: Proposal, lift: Lift | None, unit: Unit) -> str:
    before, after = proposal.before, proposal.after
    if proposal.kind == "refer":
        return "refer"
    if after is None:
        return "out"
    if after.key == "lift":
        return f"→ {after.value}"
    if after.key == "load_kg":
        return _loads(before, after, lift, unit)
    if after.key == "week_kind":
        ends = getattr(after, "then", None) == "end"
        return _WEEKS.get(str(after.value), str(after.value)) + (", then end" if ends else "")
    noun = "build weeks" if after.key == "weeks" else "sets"
    was = "" if before is None or before.value is None else f"{_number(before.value)} → "
    return f"{was}{_number(after.value)} {noun}"


def _loads(before: To | None, after: To, lift: Lift | None, unit: Unit) -> str:
    """ "85 → 90 kg", "+30 → +32.5 kg", "help 20 → 15 kg"."""
    kind = "external" if lift is None else lift.load_kind
    sign = "+" if kind == "bodyweight_plus" else ""
    help_ = "help " if kind == "assisted" else ""
    to = f"{sign}{load_text(float(after.value or 0), unit)}"
    if before is None or not isinstance(before.value, float | int):
        return f"first load {help_}{to}"
    return f"{help_}{sign}{number_text(in_unit(float(before.value), unit))} → {to}"


def _number(value: float | str | None) -> str:
    return number_text(value) if isinstance(value, float | int) else str(value)


def _strongest(proposal: Proposal) -> Reason:
    """The first reason, or what was lifted in place of one from the estimate alone."""
    first = proposal.reasons[0]
    lifted = next((one for one in proposal.reasons if one.code == "lifted_last"), None)
    general = (*_GENERAL, "fill_the_range") if proposal.kind == "lower_load" else _GENERAL
    return lifted if lifted is not None and first.code in general else first
