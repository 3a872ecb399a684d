"""Questions that a review cannot answer from the facts and asks instead."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from blockwright.engine.review.exposures import DOUBTED
from blockwright.engine.signs import Warning
from blockwright.engine.strength import Beliefs


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question of a letter."""

    id: str
    """Stable between letters of the same facts."""
    asks: str
    place: str
    """The day and what was being done."""


def set_questions(beliefs: Beliefs, start: date, end: date) -> tuple[Question, ...]:
    """One lifter's sets of `start` to `end` that were set aside and nobody confirmed: each true?"""
    found = sorted(
        (
            (flag.day, lift, flag.set_number, flag)
            for whose, lift in beliefs.series
            for flag in beliefs.flags(lift, whose)
            if flag.code in DOUBTED and start <= flag.day <= end
        ),
        key=lambda one: one[:3],
    )
    return tuple(
        Question(
            id="set-" + re.sub(r"[^a-z0-9]+", "-", f"{lift.lower()} {day} {number}").strip("-"),
            asks=f"{lift} on {day}, {flag.facts['load']} {flag.facts['unit']} x "
            f"{flag.facts['reps']}: set aside as far from everything known. Is it true?",
            place=f"{day}, {lift}, set {number}",
        )
        for day, lift, number, flag in found
    )


def sign_questions(warnings: Iterable[Warning]) -> tuple[Question, ...]:
    """What to ask about the signs that are in doubt."""
    return tuple(
        Question(
            id="sign-" + re.sub(r"[^a-z0-9]+", "-", f"{one.sign} {one.day}").strip("-"),
            asks=f"{one.day} ({one.lift}): {one.asks}",
            place=f"{one.day}, {one.lift}",
        )
        for one in warnings
        if one.asks is not None
    )
