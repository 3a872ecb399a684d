"""What a training partner does not get: the one place where a lifter's rows are cut by right.

`access.lifter_for` marks the row of a lifter it gives to a partner (`Lifter.reader`); every row
that the store reads for a marked lifter goes through `as_seen`. Pages, JSON, paper and plots are
made from what is left, so they cannot tell more.

Cut: screening with its cautions, reasons, proposals and decisions; year of birth, sex, bodyweight
(lifts that need it have no estimate and no advice); notes, and the warning signs found in them;
whatever the lifter's policy says of screening. Where an answer or a sign asks for care, a caution
says what to do and not why.
"""

import re
from collections.abc import Iterable, Mapping
from copy import copy
from typing import Any, TypeVar

from blockwright.engine import screening
from blockwright.engine.reasons import Caution, Reason
from blockwright.files.words import caution_json, caution_lines, reason_says, reason_short
from blockwright.store.models import BlockRevision, Decision, Fact, Lifter, Proposals

Row = TypeVar("Row", BlockRevision, Proposals, Fact)
Document = dict[str, Any]

_LIFTER = ("screening", "signs", "born", "sex", "bodyweight")
_SAYS: Mapping[str, str] = {
    **dict.fromkeys(screening.CODES, ""),
    **dict.fromkeys(("edited_screening", "gentle_inactive"), ""),
    **dict.fromkeys(("rir_kept_for_pressure", "rir_kept_to_begin"), ""),
    "high_blood_pressure": "keep_in_reserve",
    "screening_not_cleared": "sheet_ask_first",
    "awaits_clearance": "awaits_coach",
    **dict.fromkeys(("sign_was_written", "sign_in_doubt", "sign_stops_progress"), ""),
    **dict.fromkeys(
        ("warning_sign", "warning_sign_lift", "warning_sign_in_doubt"), "sheet_ask_first"
    ),
}
"""Codes that an answer or a sign leads to, and what stands in their place; "" for nothing."""
_WORDS = ("note", "text", "why", "where")
"""Of a fact: what somebody wrote."""
_ABOUT = "screening"
"""What a referral for the answers is about, in a decision."""
_OWN_REFERRAL = re.compile(rf"refer-({_ABOUT}|.+-\d{{4}}-\d\d-\d\d)$")
"""How proposals end that an answer, or a sign of a day, led to."""


def for_partner(lifter: Lifter, reader: int) -> Lifter:
    """The lifter as their training partner gets them, and all that is read for them."""
    lifter.document = _lifter(lifter.document)
    lifter.reader = reader
    return lifter


def again(key: Any, reader: int | None) -> Lifter:
    """A lifter read anew for whom the row was read before."""
    row: Lifter = Lifter.objects.get(key=key)
    return row if reader is None else for_partner(row, reader)


def as_seen(lifter: Lifter, row: Row) -> Row:
    """A row of the lifter with what their reader may not see cut away."""
    if lifter.reader is None:
        return row
    if isinstance(row, Fact):
        return _own(row) if row.by_id == lifter.reader else _fact(row)
    if isinstance(row, Proposals):
        row.reader = lifter.reader
        row.block = as_seen(lifter, row.block)
    if "document" in row.get_deferred_fields():
        return row
    row.document = _block(row.document) if isinstance(row, BlockRevision) else _letter(row.document)
    return row


def all_seen(lifter: Lifter, rows: Iterable[Row]) -> list[Row]:
    return [as_seen(lifter, row) for row in rows]


def facts_to_think_with(lifter: Lifter, facts: list[Fact]) -> list[Fact]:
    """Facts for sheets and numbers, where nothing is told but what follows: pain, sleep and signs
    in notes (`review.case.open_signs`) keep their say; a bodyweight could be read off numbers."""
    if lifter.reader is None:
        return facts
    return [f for f in facts if f.kind != Fact.CHECKIN or f.body.get("measure") != "bodyweight"]


def told_decisions(letter: Proposals, decisions: list[Decision]) -> list[Decision]:
    """Those on proposals that the letter still has."""
    if letter.reader is None:
        return decisions
    offered = {item["id"] for item in letter.document["proposals"]}
    return [one for one in decisions if one.proposal in offered]


def told_in_block(lifter: Lifter, decisions: list[Document]) -> list[Document]:
    """The decisions of a block without those that an answer or a clearance led to."""
    if lifter.reader is None:
        return decisions
    return [one for one in decisions if not _of_answers(one)]


# ------------------------------------------------------------------------------------ documents


def _lifter(document: Mapping[str, Any]) -> Document:
    kept = {key: value for key, value in document.items() if key not in _LIFTER}
    if "policy" in kept:
        kept["policy"] = _policy(kept["policy"])
    return kept


def _policy(values: Mapping[str, Any]) -> Document:
    """Without the keys of screening, written dotted or as a table."""
    return {k: v for k, v in values.items() if k.partition(".")[0] != "screening"}


def _block(document: Mapping[str, Any]) -> Document:
    kept = _plain(document)
    kept["lifter"] = _lifter(document["lifter"])
    kept["decisions"] = [one for one in document["decisions"] if not _of_answers(one)]
    if document["status"] == "refer":
        kept["cautions"] = [_instead("sheet_ask_first"), *kept["cautions"]]
    if "coach_policy" in kept:
        kept["coach_policy"] = _policy(kept["coach_policy"])
    return kept


def _letter(document: Mapping[str, Any]) -> Document:
    asked = [_line(item) for item in document["proposals"] if not _refers_for_answers(item)]
    kept = _plain({**document, "proposals": asked})
    cautions = (Caution(code=c["code"], facts=c["facts"]) for c in kept["cautions"])
    # What the coach says to the lifter is between the two.
    waits = reason_short(Reason(code="awaits_clearance"))
    sign = reason_says(Reason(code="sign_stops_progress", facts={"signs": ""}))
    stays = [
        one for one in kept["stays"] if one["short"] != waits and not one["why"].endswith(sign)
    ]
    settle = [one for one in kept["settle"] if not one["id"].startswith("sign-")]
    lines = caution_lines(cautions)
    return {**kept, "stays": stays, "settle": settle, "caution_lines": lines, "message": ""}


def _line(item: Mapping[str, Any]) -> Document:
    """A proposal without its short reason where an answer is among the reasons."""
    if any(reason["code"] in _SAYS for reason in item["reasons"]):
        return {**item, "line": {**item["line"], "why": ""}}
    return dict(item)


def _plain(value: Mapping[str, Any]) -> Document:
    """A document with every reason and caution that an answer led to put otherwise, or out."""
    return {key: _cut(item) for key, item in value.items()}


def _cut(value: Any) -> Any:
    if isinstance(value, Mapping):
        return _plain(value)
    if not isinstance(value, list):
        return value
    found: list[Any] = []
    for item in value:
        code = item.get("code") if isinstance(item, Mapping) else None
        instead = _SAYS.get(str(code))
        if instead is None:
            found.append(_cut(item))
        elif instead and (made := _instead(instead)) not in found:
            found.append(made)
    return found


def _instead(code: str) -> Document:
    return caution_json(Caution(code=code))


def _of_answers(decision: Mapping[str, Any]) -> bool:
    return (
        decision["kind"] == "coach_screening"
        or decision["change"].get("about") == _ABOUT
        or bool(_OWN_REFERRAL.search(str(decision["proposal"])))
    )


def _refers_for_answers(item: Mapping[str, Any]) -> bool:
    return item["kind"] == "refer" and bool(_OWN_REFERRAL.search(item["id"]))


def _fact(fact: Fact) -> Fact:
    """Without what somebody wrote in words."""
    fact = copy(fact)
    fact.body = _wordless(fact.body)
    if fact.event is not None:
        said = fact.event.get(fact.kind)
        fact.event = fact.event | {fact.kind: _wordless(said)} if said else fact.event
    return fact


def _own(fact: Fact) -> Fact:
    """As they sent it: a note that was kept for a correction of theirs is not their own."""
    event = fact.event
    if event is None or fact.kind != Fact.SET:
        return fact
    fact = copy(fact)
    fact.body = fact.body | {"note": event["set"]["note"]}
    return fact


def _wordless(said: Mapping[str, Any]) -> Document:
    return {key: "" if key in _WORDS else value for key, value in said.items()}
