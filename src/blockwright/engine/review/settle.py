"""Questions that a review cannot answer from the facts and asks instead."""

import re
from dataclasses import dataclass

from blockwright.engine.reasons import FactValue, Reason
from blockwright.engine.review.case import WeekCase
from blockwright.engine.review.exposures import DOUBTED


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question of a letter."""

    id: str
    """Stable between letters of the same facts."""
    asks: Reason
    place: str
    """The day and what was being done."""


def questions_of(case: WeekCase) -> tuple[Question, ...]:
    """What was corrected in two ways, signs in doubt, pain that names no lift of the block, sets
    that stand out, missed days."""
    return (*_disputes(case), *_signs(case), *_pains(case), *_sets(case), *_missed(case))


def _named(*words: object) -> str:
    return re.sub(r"[^a-z0-9]+", "-", " ".join(map(str, words)).lower()).strip("-")


def _disputes(case: WeekCase) -> list[Question]:
    """Corrections that contradict each other, however old: what is asked below may rest on them."""
    return [
        Question(
            id=_named("dispute", one.id),
            asks=Reason(code="ask_dispute", facts={"iso": one.day.isoformat(), "says": one.says}),
            place=one.day.isoformat(),
        )
        for one in case.facts.disputes
    ]


def _signs(case: WeekCase) -> list[Question]:
    return [
        Question(
            id=_named("sign", one.sign, one.day),
            asks=Reason(
                code="ask_sign",
                facts={"iso": one.day.isoformat(), "lift": one.lift, "asks": one.asks},
            ),
            place=f"{one.day}, {one.lift}",
        )
        for one in case.warnings
        if one.asks is not None
    ]


def _pains(case: WeekCase) -> list[Question]:
    """One question for each live report of a place: what brings it on?"""
    found = []
    for state in case.pain_elsewhere.values():
        day = state.latest.day.isoformat()
        facts: dict[str, FactValue] = {"about": state.about, "pain": state.latest.pain, "date": day}
        found.append(
            Question(
                id=_named("pain", state.about, day),
                asks=Reason(code="ask_pain", facts=facts),
                place=f"{day}, {state.about}",
            )
        )
    return found


def _sets(case: WeekCase) -> list[Question]:
    """Sets of the week that were set aside and nobody confirmed: each true?"""
    beliefs = case.facts.beliefs()
    found = sorted(
        (
            (flag.day, lift, flag.set_number, flag.facts)
            for whose, lift in beliefs.series
            for flag in beliefs.flags(lift, whose)
            if flag.code in DOUBTED and case.window.holds(flag.day)
        ),
        key=lambda one: one[:3],
    )
    return [
        Question(
            id=_named("set", lift, day, number),
            asks=Reason(code="ask_set", facts={"lift": lift, "iso": day.isoformat(), **facts}),
            place=f"{day}, {lift}, set {number}",
        )
        for day, lift, number, facts in found
    ]


def _missed(case: WeekCase) -> list[Question]:
    """The missed sessions as one question, where the week was trained at all."""
    missed = case.evidence.missed
    if not missed:
        return []
    days = ", ".join(day.isoformat() for day in missed)
    return [
        Question(
            id=_named("missed", *missed),
            asks=Reason(code="ask_missed", facts={"dates": days, "sessions": len(missed)}),
            place=days,
        )
    ]
