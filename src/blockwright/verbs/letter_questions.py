"""The questions of a letter, each with what answers it where it is read."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from blockwright.accounts.models import User
from blockwright.files.catalogue import catalogue_for
from blockwright.sheets.letter import settle_lines
from blockwright.sheets.report_shapes import Document
from blockwright.store.facts import facts_of
from blockwright.store.models import Fact, Proposals
from blockwright.store.standing import FactVerdict, verdicts
from .amend_fact import Dispute, answer, answers_to, disputes_of, gone
from .desk_log import AskedSet, asked_set
from .stored_values import block_value
from .take_log import sent_json

_SET = re.compile(r"(\d{4}-\d\d-\d\d), (.+), set (\d+)")  # The place of a question about one set
_MEANT = re.compile(r": ([\d.]+) (?:kg|lb) meant\?")  # How a slip is asked about (`ask_slip`)


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedLine:
    says: str
    sets: tuple[AskedSet, ...]
    disputes: tuple[Dispute, ...]
    told: tuple["WordQuestion", ...]
    way: tuple[str, str, str]
    """Page, place on it and words of the way to where it is changed; empty where there is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WordQuestion:
    """A question that words answer, or how much it hurts by now."""

    id: str
    choices: tuple[str, ...]
    about: str  # What hurts; "" where the question is another one
    answer: str  # What was said of it; "" where nothing was


_CHOICES = {
    "missed": ("Away", "Ill", "Short of time"),
    "unlogged": ("Not done", "Not written down"),
    "bodyweight": ("Meant", "Not meant"),
}
"""By the first word of a question's id."""
_BLOCK = ("block", "", "Open the block")
_WAYS = {
    "screening": ("lifter_file", "part-screening", "Answer the screening"),
    "pin": ("lifter_file", "part-wishes", "Change what is pinned"),
    **dict.fromkeys(("missed", "unspared", "stall", "floor"), _BLOCK),
}


def letter_questions(stored: Proposals) -> tuple[AskedLine, ...]:
    """The questions of a stored letter in the order of its face."""
    lines, _ = settle_lines(stored.document)
    sets = _asked_sets(stored, [one for _, told in lines for one in told])
    names = {one["id"] for _, told in lines for one in told}
    asked = disputes_of(stored.lifter) if any("dispute" in name for name in names) else ()
    told_of = {one.id: one for one in _told(stored)}
    return tuple(
        AskedLine(
            says=says,
            sets=tuple(sets[one["id"]] for one in told if one["id"] in sets),
            disputes=tuple(d for d in asked for one in told if one["id"].endswith(str(d.first))),
            told=tuple(told_of[one["id"]] for one in told if one["id"] in told_of),
            way=next((way for one in told if (way := _WAYS.get(_kind(one)))), ("", "", "")),
        )
        for says, told in lines
    )


def _kind(question: Document) -> str:
    return str(question["id"]).partition("-")[0]


def _told(stored: Proposals) -> list[WordQuestion]:
    asked = [o for o in stored.document["settle"] if _kind(o) == "pain" or _kind(o) in _CHOICES]
    names = {one["id"]: f"{stored.block.start} {one['id']}" for one in asked}
    answers = answers_to(stored.lifter, names.values()) if asked else {}
    return [
        WordQuestion(
            id=one["id"],
            choices=_CHOICES.get(_kind(one), ()),
            about=one["place"].partition(", ")[2] if _kind(one) == "pain" else "",
            answer=answers.get(names[one["id"]], ""),
        )
        for one in asked
    ]


def answer_question(
    person: User, stored: Proposals, name: str, typed: Mapping[str, str], now: datetime
) -> str:
    """Stores what was said to a question of the letter; says so. BadInput where it asks nothing
    like it, or names what cannot be read."""
    one = next((told for told in _told(stored) if told.id == name), None)
    if one is None or (one.choices and typed["choice"] not in one.choices):
        raise gone("the letter asks this no more")
    pain = {"measure": "pain", "about": typed["about"], "value": typed["pain"]}
    text = f"{name.replace('-', ' ', 1)}: {typed['choice']}"
    said = {"what": "note", "text": text} if one.choices else pain | {"note": typed["words"]}
    return answer(person, stored.lifter, f"{stored.block.start} {name}", said, now)


def _asked_sets(stored: Proposals, asked: Iterable[Document]) -> dict[str, AskedSet]:
    """By the question's id; a set that was taken back meanwhile is left out."""
    places = {one["id"]: found for one in asked if (found := _SET.fullmatch(one["place"]))}
    if not places:
        return {}
    catalogue = catalogue_for(block_value(stored.block).lifter)
    by_place = {
        (str(one.first.day), catalogue.canonical(said["lift"]), str(said["set"])): one
        for one in verdicts(facts_of(stored.lifter))
        if one.first.kind == Fact.SET and one.stands and (said := sent_json(one.last)["set"])
    }
    return {
        one["id"]: _asked_set(by_place[at], one["asks"])
        for one in asked
        if one["id"] in places and (at := places[one["id"]].groups()) in by_place
    }


def _asked_set(one: FactVerdict, asks: str) -> AskedSet:
    said = sent_json(one.last)["set"]
    meant, typed = _MEANT.search(asks), f"{said['load']} {said['unit']} × {said['reps']}"
    corrected = f"Corrected: {typed}." if one.last != one.first else ""
    answer = "It is true." if said["confirmed"] else corrected
    return asked_set(one.last, f"{said['lift']}, {typed}", meant[1] if meant else "", answer)
