"""What a training partner does not get: the one place where a lifter's rows are cut by right.

`access.lifter_for` marks the row of a lifter it gives to a partner (`Lifter.reader`); every row
that the store reads for a marked lifter goes through `as_seen`. Pages, JSON, paper and plots are
made from what is left, so they cannot tell more.

Cut: screening with its cautions, reasons, proposals and decisions; year of birth, sex, bodyweight
(lifts that need it have no estimate and no advice); notes, and the warning signs found in them;
referrals with their clearances; check-ins; whatever the lifter's policy says of screening; a
coach's words. Of decisions and sentences stay those whose kind or code `files/data/partner.toml`
lets be told; where another asks for care, a caution says what to do and not why."""

from collections.abc import Collection, Iterable, Mapping
from copy import copy
from typing import Any, TypeVar

from blockwright.engine.reasons import Caution, Reason, each_once
from blockwright.engine.signs import SIGN_CODES
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.reading import shipped
from blockwright.files.words import (
    caution_lines,
    reason_says,
    reason_short,
    sentences,
    why_json,
)
from .models import BlockRevision, Decision, Fact, Lifter, Proposals

Row = TypeVar("Row", BlockRevision, Proposals, Fact)
Document = dict[str, Any]

_LIFTER = ("screening", "signs", "born", "sex", "bodyweight")
_DECIDED = shipped("partner.toml")
_TELL: Collection[str] = frozenset(_DECIDED["tell"])
_INSTEAD: Mapping[str, str] = _DECIDED["instead"]
"""By code, what may be told and what stands in another's place; anything else is not told."""
_UNTOLD_CODES = frozenset(_DECIDED["untold"])
_UNTOLD = Reason(code="partner_untold")
_WORDS = ("note", "text", "why", "where", "region")
"""Of a fact: what somebody wrote, and where it hurts."""
_KINDS = frozenset(_DECIDED["kinds"])
_OWN_FINDINGS = ("pain", "weight")  # Of a block's report


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
        # Beside an empty note of theirs may stand one kept from before they corrected: not theirs.
        sent = (row.event or {}).get(Fact.SET, {"note": "own"})
        return row if row.by_id == lifter.reader and sent.get("note") else _fact(row)
    if isinstance(row, Proposals):
        row.reader = lifter.reader
        row.block = as_seen(lifter, row.block)
    if "document" in row.get_deferred_fields():
        return row
    cut = _block if isinstance(row, BlockRevision) else _letter
    row.document = cut(row.document)
    return row


def all_seen(lifter: Lifter, rows: Iterable[Row]) -> list[Row]:
    return [as_seen(lifter, row) for row in rows]


def facts_to_think_with(lifter: Lifter, facts: list[Fact]) -> list[Fact]:
    """Facts for sheets and numbers, where nothing is told but what follows: pain, sleep and signs
    in notes (`review.case.open_signs`) keep their say; a bodyweight could be read off numbers."""
    if lifter.reader is None:
        return facts
    return [f for f in facts if f.kind != Fact.CHECKIN or f.body.get("measure") != "bodyweight"]


def is_answer(fact: Fact) -> bool:
    """Whether a fact says how the lifter is: a check-in, a set's pain, an answer to a letter."""
    measured = fact.body.get("measure") not in (None, "session_minutes", "machines")
    hurts = fact.kind == Fact.SET and fact.body["pain"] is not None
    return measured or hurts or "answers" in (fact.event or {})


def of_the_body(fact: Fact) -> bool:
    """Whether a fact bears that, somebody's words, or a sign: no partner's to take back."""
    told = is_answer(fact) or fact.body.get("what") == "hurts"
    return told or any(fact.body.get(key) for key in _WORDS)


def told_decisions(letter: Proposals, decisions: list[Decision]) -> list[Decision]:
    """Those on proposals that the letter still has, without the coach's words."""
    if letter.reader is None:
        return decisions
    offered = {item["id"] for item in letter.document["proposals"]}
    found = [one for one in decisions if one.proposal in offered]
    for one in found:
        one.words, one.change = "", _change(one.change)
    return found


def told_in_block(lifter: Lifter, decisions: list[Document]) -> list[Document]:
    """The decisions of a block without referrals, clearances and those an answer led to."""
    return decisions if lifter.reader is None else _decided(decisions)


def _decided(lines: Iterable[Document]) -> list[Document]:
    return [one | {"words": "", "change": _change(one["change"])} for one in _told(lines)]


def _change(change: Mapping[str, Any]) -> Document:
    """Without where it hurts, and the rules that were broken for it."""
    return {k: v for k, v in change.items() if k not in ("about", "region", "insisted")}


def _told(lines: Iterable[Document]) -> list[Document]:
    return [one for one in lines if one["kind"] in _KINDS]


def told(lifter: Lifter, document: Document) -> Document:
    """A document made of a lifter's rows, as their reader gets it."""
    if lifter.reader is None:
        return document
    kept = _plain(document)
    if "findings" in kept:
        kept["findings"] |= dict.fromkeys(_OWN_FINDINGS, why_json(_UNTOLD))
    return kept


def told_cautions(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    """A sheet's cautions as a partner gets them."""
    found = []
    for one in cautions:
        instead = _instead_of(one.code, one.facts)
        if instead != "":
            found.append(one if instead is None else _caution(instead, one.facts))
    return each_once(found)


def told_notes(notes: Iterable[Reason]) -> tuple[Reason, ...]:
    """A sheet's notes as a partner gets them."""
    return tuple(one for one in notes if one.code in _TELL)


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
    # What a sign asks for today the sheet says; a block would say it on when it was cleared.
    said = [one for one in document["cautions"] if one["code"] not in SIGN_CODES]
    kept = _plain({**document, "cautions": said})
    kept["lifter"] = _lifter(document["lifter"])
    kept["decisions"] = _decided(document["decisions"])
    if document["status"] == "refer":
        kept["cautions"] = [why_json(Caution(code="sheet_ask_first")), *kept["cautions"]]
    if "coach_policy" in kept:
        kept["coach_policy"] = _policy(kept["coach_policy"])
    return kept


def _letter(document: Mapping[str, Any]) -> Document:
    asked = [_line(item) for item in _told(document["proposals"])]
    kept = _plain({**document, "proposals": asked})
    cautions = (Caution(code=c["code"], facts=c["facts"]) for c in kept["cautions"])
    return kept | {
        "verdict": document.get("verdict_shared", reason_says(_UNTOLD)),
        "stays": [one for one in kept["stays"] if one.get("why_code") in _TELL],
        "settle": [one for one in kept["settle"] if one.get("asks_code") in _TELL],
        "caution_lines": caution_lines(cautions),
        "message": "",  # what the coach says to the lifter is between the two
    }


def _line(item: Mapping[str, Any]) -> Document:
    """A proposal with the first reason that may be told on its line, and of its sentence, claim
    and runner-up what may be."""
    reasons = item["reasons"]
    why = next((r for r in reasons if _instead_of(r["code"], r["facts"]) is None), None)
    said = "" if why is None else reason_short(Reason(code=why["code"], facts=why["facts"]))
    untold = {"why": said, "brief": "", "cause": "", "place": ""}
    line = item["line"] if reasons[:1] == [why] else item["line"] | untold
    kept = {k: v for k, v in item.items() if not k.endswith("_code")} | {"line": line}
    if item.get("says_code") not in _TELL:
        kept["says"] = f"{line['about']}: {line['change']}"
    if item.get("claim_code") not in _TELL:
        kept["claim"] = "it is better so"
    if item["runner_up"] and item["runner_up"].get("says_code") not in _TELL:
        kept["runner_up"] = None
    return kept


def _plain(value: Mapping[str, Any]) -> Document:
    """A document with every reason and caution that an answer led to put otherwise, or out."""
    return {key: _cut(item) for key, item in value.items()}


def _cut(value: Any) -> Any:
    if isinstance(value, Mapping):
        return _why(value) or why_json(_UNTOLD) if "code" in value else _plain(value)
    if not isinstance(value, list):
        return value
    found: list[Any] = []
    for item in value:
        if isinstance(item, Mapping) and item.get("skipped") in _UNTOLD_CODES:
            continue  # a set of which something of the body says why it is no evidence
        is_why = isinstance(item, Mapping) and "code" in item
        made = _why(item) if is_why else _cut(item)
        if not is_why or (made is not None and made not in found):
            found.append(made)
    return found


def _why(value: Mapping[str, Any]) -> Document | None:
    """A reason or caution as it may be told, or what stands in its place; None for nothing."""
    facts = value.get("facts", {})
    instead = _instead_of(value["code"], facts)
    if instead is None:
        return _plain(value)
    return why_json(_caution(instead, facts)) if instead else None


def _instead_of(code: str, facts: Mapping[str, Any]) -> str | None:
    """The code that stands in a sentence's place; "" for none, None where it may be told."""
    lift = facts.get("lift")
    if lift and lift == facts.get("about") and not builtin_catalogue().find(str(lift)):
        return ""  # somebody's own words for a place
    return None if code in _TELL else _INSTEAD.get(code, "")


def _caution(code: str, facts: Mapping[str, Any]) -> Caution:
    """What may be told: of the facts only those that its own words name."""
    words = sentences()[code]
    return Caution(code=code, facts={k: v for k, v in facts.items() if f"{{{k}}}" in words})


def _fact(fact: Fact) -> Fact:
    """Without what somebody wrote in words."""
    fact = copy(fact)
    fact.body = _wordless(fact.body)
    if fact.event is not None:
        said = fact.event.get(fact.kind)
        fact.event = fact.event | {fact.kind: _wordless(said)} if said else fact.event
    return fact


def _wordless(said: Mapping[str, Any]) -> Document:
    """Figures stay: by how much a lift hurts today the phone stops it, on the partner's too."""
    return {key: "" if key in _WORDS else value for key, value in said.items()}
