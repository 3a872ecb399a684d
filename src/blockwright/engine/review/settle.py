"""Questions that a review cannot answer from the facts and asks instead."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from blockwright.engine.signs import Warning


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question of a letter."""

    id: str
    """Stable between letters of the same facts."""
    asks: str
    place: str
    """The day and what was being done."""


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
