"""The questions of a letter, each with what answers it where it is read."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from blockwright.files.catalogue import catalogue_for
from blockwright.sheets.letter import asked_lines
from blockwright.sheets.report_shapes import Document
from blockwright.store.facts import facts_of
from blockwright.store.models import Fact, Proposals
from blockwright.store.standing import Verdict, verdicts
from blockwright.verbs.amend_fact import Dispute, disputes_of
from blockwright.verbs.desk_log import AskedSet, asked_set
from blockwright.verbs.stored_values import block_value
from blockwright.verbs.take_log import fact_json

_SET = re.compile(r"(\d{4}-\d\d-\d\d), (.+), set (\d+)")
"""The place of a question about one set."""
_MEANT = re.compile(r": ([\d.]+) (?:kg|lb) meant\?")
"""How a slip is asked about (`ask_slip`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedLine:
    """A line of questions, and what in the log it asks about."""

    says: str
    sets: tuple[AskedSet, ...]
    disputes: tuple[Dispute, ...]
    screening: bool


def letter_questions(stored: Proposals) -> tuple[AskedLine, ...]:
    """The questions of a stored letter in the order of its face."""
    lines = asked_lines(stored.document)
    sets = _asked_sets(stored, [one for _, told in lines for one in told])
    names = {one["id"] for _, told in lines for one in told}
    asked = disputes_of(stored.lifter) if any("dispute" in name for name in names) else ()
    return tuple(
        AskedLine(
            says=says,
            sets=tuple(sets[one["id"]] for one in told if one["id"] in sets),
            disputes=tuple(d for d in asked for one in told if one["id"].endswith(str(d.first))),
            screening=any(one["id"] == "screening" for one in told),
        )
        for says, told in lines
    )


def _asked_sets(stored: Proposals, asked: Iterable[Document]) -> dict[str, AskedSet]:
    """By the question's id; a set that was taken back meanwhile is left out."""
    places = {one["id"]: found for one in asked if (found := _SET.fullmatch(one["place"]))}
    if not places:
        return {}
    catalogue = catalogue_for(block_value(stored.block).lifter)
    by_place = {
        (str(one.first.day), catalogue.canonical(said["lift"]), str(said["set"])): one
        for one in verdicts(facts_of(stored.lifter))
        if one.first.kind == Fact.SET and one.stands and (said := fact_json(one.last)["set"])
    }
    return {
        one["id"]: _asked_set(by_place[at], one["asks"])
        for one in asked
        if one["id"] in places and (at := places[one["id"]].groups()) in by_place
    }


def _asked_set(one: Verdict, asks: str) -> AskedSet:
    said = fact_json(one.last)["set"]
    meant = _MEANT.search(asks)
    says = f"{said['lift']}, {said['load']} {said['unit']} × {said['reps']}"
    corrected = f"Corrected: {said['load']} {said['unit']} × {said['reps']}."
    answer = "It is true." if said["confirmed"] else corrected if one.last != one.first else ""
    return asked_set(one.last, says, meant[1] if meant else "", answer)
