"""What a training partner does not get: the one place where a lifter's rows are cut by right.

`access.lifter_for` marks the row of a lifter it gives to a partner (`Lifter.reader`); every row
that the store reads for a marked lifter goes through `as_seen`. Pages, JSON, paper and plots are
made from what is left, so they cannot tell more.

Cut: screening with its cautions, reasons, proposals and decisions; year of birth, sex, bodyweight
(lifts that need it have no estimate and no advice); notes, and the warning signs found in them;
referrals with their clearances, and the words for a place that hurts where they name no joint;
whatever the lifter's policy says of screening. Where an answer or a sign asks for care, a caution
says what to do and not why.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from copy import copy
from typing import Any, TypeVar

from blockwright.engine import screening
from blockwright.engine.pain import place_in
from blockwright.engine.reasons import Caution, Reason
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.words import caution_lines, reason_says, reason_short, why_json
from blockwright.store.models import BlockRevision, Decision, Fact, Lifter, Proposals

Row = TypeVar("Row", BlockRevision, Proposals, Fact)
Document = dict[str, Any]

_LIFTER = ("screening", "signs", "born", "sex", "bodyweight")
_SAYS: Mapping[str, str] = {
    **dict.fromkeys(screening.CODES, ""),
    **dict.fromkeys(("edited_screening", "gentle_inactive", "replan_held"), ""),
    **dict.fromkeys(("rir_kept_for_pressure", "rir_kept_to_begin", "no_low_pressure"), ""),
    **dict.fromkeys(("wellness_usual", "wellness_low", "bodyweight_trend", "energy_is_short"), ""),
    "pain_refer": "",
    "high_blood_pressure": "keep_in_reserve",
    "screening_not_cleared": "sheet_ask_first",
    "awaits_clearance": "awaits_coach",
    **dict.fromkeys(("sign_was_written", "sign_in_doubt", "sign_stops_progress"), ""),
    **dict.fromkeys(
        ("warning_sign", "warning_sign_lift", "warning_sign_in_doubt"), "sheet_ask_first"
    ),
}
"""Codes that an answer, a sign or a check-in leads to, and what stands in their place; "" for
nothing."""
_WORDS = ("note", "text", "why", "where")
"""Of a fact: what somebody wrote."""
_BETWEEN_COACH_AND_LIFTER = ("refer", "coach_screening")
"""Kinds of proposals and decisions: who is sent to a professional, and when one cleared it."""
_ASKED = ("sign-", "pain-", "screening", "bodyweight-")
"""How the names of a letter's questions on somebody's health begin."""
_LOOKED_AT = " before a professional has had a look"
"""Of a letter's verdict (`verdict_refer`)."""
_NAMES = ("id", "kind", "code", "before", "after")
"""Of a line: what is no prose, whatever words it is made of."""
_SOMEWHERE = "another place"
"""In place of a lifter's own words for where it hurts."""


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
    cut = _block if isinstance(row, BlockRevision) else _letter
    row.document = _without_own_words(lifter, row.document, cut(row.document))
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
    """The decisions of a block without referrals, clearances and those an answer led to."""
    return decisions if lifter.reader is None else _told(decisions)


def _told(lines: Iterable[Document]) -> list[Document]:
    return [one for one in lines if one["kind"] not in _BETWEEN_COACH_AND_LIFTER]


def place_told(lifter: Lifter, about: str) -> str:
    """Where it hurts as a partner reads it: a joint, muscle or lift, never other words of the
    lifter's."""
    own = (str(each.get("name", "")).lower() for each in lifter.document.get("lift", ()))
    known = place_in(about) or builtin_catalogue().find(about) or about.lower() in own
    return about if known else _SOMEWHERE


def _without_own_words(lifter: Lifter, whole: Document, cut: Document) -> Document:
    """`cut` of the document `whole` without the words in which a check-in says where it hurts."""
    said = {word for word in _places_in(whole) if word and place_told(lifter, word) != word}
    if not said:
        return cut
    either = "|".join(map(re.escape, sorted(said, key=len, reverse=True)))
    words = re.compile(rf"(?<!\w)({either})(?!\w)", re.IGNORECASE)
    return {key: _replaced(words, value) for key, value in cut.items()}


def _places_in(value: Any) -> Iterator[str]:
    """What pain is said to be about, wherever in a document."""
    if isinstance(value, Mapping):
        if str(value.get("code", "")).startswith("pain_"):
            yield str(value.get("facts", {}).get("about") or "")
        if str(value.get("id", "")).startswith("pain-"):
            yield str(value.get("place", "")).partition(", ")[2]
        value = value.values()
    elif not isinstance(value, list):
        return
    for each in value:
        yield from _places_in(each)


def _replaced(words: re.Pattern[str], value: Any) -> Any:
    if isinstance(value, str):
        return words.sub(_SOMEWHERE, value)
    if isinstance(value, Mapping):
        return {k: one if k in _NAMES else _replaced(words, one) for k, one in value.items()}
    return [_replaced(words, each) for each in value] if isinstance(value, list) else value


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
    kept["decisions"] = _told(document["decisions"])
    if document["status"] == "refer":
        kept["cautions"] = [_instead("sheet_ask_first"), *kept["cautions"]]
    if "coach_policy" in kept:
        kept["coach_policy"] = _policy(kept["coach_policy"])
    return kept


def _letter(document: Mapping[str, Any]) -> Document:
    asked = [_line(item) for item in _told(document["proposals"])]
    kept = _plain({**document, "proposals": asked})
    cautions = (Caution(code=c["code"], facts=c["facts"]) for c in kept["cautions"])
    # What the coach says to the lifter is between the two.
    waits = reason_short(Reason(code="awaits_clearance"))
    sign = reason_says(Reason(code="sign_stops_progress", facts={"signs": ""}))
    stays = [
        one for one in kept["stays"] if one["short"] != waits and not one["why"].endswith(sign)
    ]
    settle = [one for one in kept["settle"] if not one["id"].startswith(_ASKED)]
    lines = caution_lines(cautions)
    kept |= {"stays": stays, "settle": settle, "caution_lines": lines, "message": ""}
    return {**kept, "verdict": kept["verdict"].replace(_LOOKED_AT, "")}


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
    return why_json(Caution(code=code))


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
