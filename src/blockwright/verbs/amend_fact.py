"""A later word on a fact, said at the desk by somebody who knows all that is stored: a
correction, a confirmation, or that it was not done."""

import hashlib
import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput, Problem
from blockwright.store.facts import NewFact, append, last_seq
from blockwright.store.models import Fact, Lifter
from blockwright.verbs.phone_home import day_of
from blockwright.verbs.take_log import fact_json


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
) -> NewFact:
    """The fact as it was sent, with `said` and `body` changed. `knew` is the last stored `seq`,
    looked up where it is not given; `amends` is another fact than this where two words on one are
    settled."""
    at = now.astimezone(ZoneInfo(person.zone)) if person.zone else now.astimezone()
    sent = fact_json(fact)
    event = {
        "id": str(uuid4()),
        "kind": fact.kind,
        "lifter": str(row.key),
        "device": None,
        "n": 0,
        "at": at.isoformat(timespec="milliseconds"),
        "zone": person.zone,
        "began": None,
        "amends": str(amends or fact.id),
        "withdrawn": withdrawn,
        "knew": last_seq(row) if knew is None else knew,
        "plan": sent["plan"],
        fact.kind: {**sent[fact.kind], **(said or {})},
    }
    canonical = json.dumps(event, sort_keys=True, separators=(",", ":"))
    return NewFact(
        id=UUID(str(event["id"])),
        kind=fact.kind,
        day=day_of(person, now),
        at=at,
        zone=person.zone,
        amends=amends or fact.id,
        withdrawn=withdrawn,
        body={**fact.body, **(body or {})},
        event=event,
        digest=hashlib.sha256(canonical.encode()).hexdigest(),
    )


def amend(person: User, row: Lifter, fact: Fact, now: datetime, **changed: Any) -> None:
    """Stores an `amendment` of the fact; the caller holds the lifter's lock."""
    append(amendment(person, row, fact, now, **changed), row, person, now)


def gone(what: str) -> BadInput:
    """The refusal of an answer to what somebody else settled first."""
    return BadInput(Problem(says=what, mend="look at what stands now"))
