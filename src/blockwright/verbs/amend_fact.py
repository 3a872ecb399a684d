"""A later word on a fact, said at the desk by somebody who knows all that is stored: a
correction, a confirmation, or that it was not done.

What was corrected in two ways by people who did not know of each other is asked on the lifter's
page (and on the phone) until somebody says which is true. The rule: `store.standing`."""

import hashlib
import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, NamedTuple
from uuid import UUID, uuid4

from blockwright.accounts.models import User
from blockwright.engine.case import Disputed
from blockwright.engine.errors import BadInput
from blockwright.files.checkins_file import checkins_of_table
from blockwright.files.csv_text import one_row
from blockwright.store.convert import checkin_body
from blockwright.store.facts import append, families, last_seq, locked
from blockwright.store.models import Fact, Lifter
from blockwright.store.standing import FactVerdict, verdicts
from .phone_home import local, today_of
from .take_log import event_of, sent_json

_MISSED = re.compile(r"\d{4}-\d\d-\d\d")  # The days in the id of a question about missed sessions


def amendment(
    person: User,
    row: Lifter,
    fact: Fact,
    now: datetime,
    *,
    knew: int | None = None,
    said: Mapping[str, Any] | None = None,
    body: Mapping[str, Any] | None = None,
    amends: UUID | None = None,
    withdrawn: bool = False,
) -> Fact:
    """The fact as it was sent, with `said` and `body` changed. `knew` is the last stored `seq`,
    looked up where it is not given; `amends` is another fact than this where two words on one are
    settled."""
    sent = sent_json(fact)
    amending = {
        "amends": str(amends or fact.id),
        "withdrawn": withdrawn,
        "knew": last_seq(row) if knew is None else knew,
        "plan": sent["plan"],
    }
    said, body = {**sent[fact.kind], **(said or {})}, {**fact.body, **(body or {})}
    made = _at_the_desk(person, fact, said, body, now, amending)
    made.amends, made.withdrawn = amends or fact.id, withdrawn
    return made


def _at_the_desk(
    person: User,
    fact: Fact,
    said: Mapping[str, Any],
    body: Mapping[str, Any],
    now: datetime,
    more: Mapping[str, Any],
) -> Fact:
    """A fact of the kind and lifter of another, with what its event says besides."""
    at = local(person, now)
    key = uuid4()
    told = {"at": at.isoformat(timespec="milliseconds"), "zone": person.zone}
    event = event_of(key, fact, dict(said)) | told | dict(more)
    canonical = json.dumps(event, sort_keys=True, separators=(",", ":"))
    return Fact(
        id=key,
        kind=fact.kind,
        day=at.date(),
        at=at,
        zone=person.zone,
        body=dict(body),
        event=event,
        digest=hashlib.sha256(canonical.encode()).hexdigest(),
    )


def amend(person: User, row: Lifter, fact: Fact, now: datetime, **changed: Any) -> None:
    """Stores an `amendment` of the fact; the caller holds the lifter's lock."""
    append(amendment(person, row, fact, now, **changed), row, person, now)


def answer(person: User, row: Lifter, question: str, said: Mapping[str, str], now: datetime) -> str:
    """Stores what somebody answered to a letter's question, a check-in or a note; says so. BadInput
    names what cannot be read."""
    kind, body = (Fact.CHECKIN, {}) if "measure" in said else (Fact.SESSION, dict(said))
    if kind == Fact.CHECKIN:
        table = one_row({"when": today_of(person, now).isoformat(), **said})
        body = checkin_body(checkins_of_table(table).value[0])
    made = _at_the_desk(person, Fact(kind=kind, lifter=row), said, body, now, {"answers": question})
    with locked(row.key):
        append(made, row, person, now)
    return "written down"


def answers_to(row: Lifter, questions: Iterable[str]) -> dict[str, str]:
    """By question: the answer that stands, in words."""
    facts = Fact.objects.filter(lifter=row)
    said = list(facts.filter(event__answers__in=list(questions)))
    later = list(facts.filter(amends__in=[one.id for one in said]))
    asked = {one.id: one.event["answers"] for one in said if one.event}
    return {
        asked[one.first.id]: _answer_words(one.last)
        for one in verdicts([*said, *later])
        if one.stands
    }


def days_explained(facts: Iterable[Fact]) -> tuple[date, ...]:
    """Missed days of which a letter was told why, in order."""
    asked = [str((one.first.event or {}).get("answers")) for one in verdicts(facts) if one.stands]
    days = {day for one in asked for day in _MISSED.findall(one.partition(" missed-")[2])}
    return tuple(sorted(map(date.fromisoformat, days)))


def _answer_words(fact: Fact) -> str:
    said = fact.body
    if fact.kind == Fact.SESSION:
        return str(said["text"]).rpartition(": ")[2]
    note = f"; {said['note']}" if said.get("note") else ""
    return f"pain {said['value']:g} of 10 in {said['about']}{note}"


def gone(what: str) -> BadInput:
    return BadInput.of(what, "look at what stands now")


class Word(NamedTuple):
    id: UUID
    says: str


@dataclass(frozen=True, slots=True)
class Dispute:
    """A fact of `day`, as it was first, and what may be true of it; what stands now comes first."""

    first: UUID
    day: date
    says: str
    words: tuple[Word, ...]


def disputes_of(row: Lifter) -> tuple[Dispute, ...]:
    """What somebody must say of this lifter's log, in the order it came."""
    return tuple(
        Dispute(
            first=one.first.id,
            day=one.first.day,
            says=_words(one.first),
            words=tuple(Word(word.id, _words(word)) for word in (one.last, *one.others)),
        )
        for one in _disputed(families(row))
    )


def told_plainly(facts: Iterable[Fact]) -> tuple[Disputed, ...]:
    """What is disputed among facts, for letters, which partners read too: without notes and what
    check-ins say."""
    return tuple(
        Disputed(
            id=str(one.first.id),
            day=one.first.day,
            says=" or ".join(dict.fromkeys(map(_plainly, (one.first, one.last, *one.others)))),
        )
        for one in _disputed(facts)
    )


def _plainly(fact: Fact) -> str:
    if fact.kind == Fact.CHECKIN:
        return "it was not done" if fact.withdrawn else "a check-in"
    return _words(fact).partition(", “")[0] if fact.kind == Fact.SET else "what was told"


def settle_dispute(person: User, row: Lifter, word: UUID, now: datetime) -> str:
    """Stores what somebody says is true, as a correction that knows both; says it in words.
    BadInput where that was settled meanwhile."""
    with locked(row.key):
        for one in _disputed(families(row)):
            for said in (one.last, *one.others):
                if said.id == word:
                    settled = {"amends": one.first.id, "withdrawn": said.withdrawn}
                    amend(person, row, said, now, **settled)
                    return f"{_words(said)}: written down as true"
    raise gone("somebody said meanwhile which is true")


def _disputed(facts: Iterable[Fact]) -> list[FactVerdict]:
    return [one for one in verdicts(facts) if one.others]


def _words(fact: Fact) -> str:
    if fact.withdrawn:
        return "it was not done"
    said: Mapping[str, Any] = sent_json(fact)[fact.kind]
    if fact.kind == Fact.SET:
        load = f"{said['load']} {said['unit']} × " if said["load"] else ""
        left = f", {said['rir']} in reserve" if said["rir"] else ""
        note = f", “{said['note']}”" if said["note"] else ""
        return f"{said['lift']}, {load}{said['reps']}{left}{note}"
    if fact.kind == Fact.CHECKIN:
        return " ".join(str(said[key]) for key in ("measure", "about", "value") if said[key])
    told = [str(value) for key, value in said.items() if key != "what" and value is not None]
    return ": ".join([str(said["what"]).replace("_", " "), ", ".join(told)]).removesuffix(": ")
