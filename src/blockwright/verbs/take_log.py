"""Takes what a phone has queued and gives back what it has not seen. The contract: docs/sync.md.

Everything of one request commits together or not at all, so a server that dies in between has
stored either all of it or nothing, and the phone, which keeps every event until its id is
acknowledged, sends again."""

import logging
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db import DatabaseError, DataError, IntegrityError, transaction
from django.http import Http404

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.files.facts_csv import set_cells
from blockwright.store import facts as fact_rows
from blockwright.store.access import lifter_for
from blockwright.store.convert import set_of
from blockwright.store.models import Fact, Lifter
from blockwright.store.partner import again, is_answer, of_the_body
from blockwright.store.standing import CLOCK_TOLERANCE_S, done_at
from .read_event import Arrival, Envelope, not_readable, read_envelope, read_event
from .stored_values import KnownLifter, load_lifter

FORMAT = "blockwright/sync-answer/1"
PARTNER_WRITES = timedelta(days=14)
"""How far back a training partner writes and corrects: longer than a phone is without signal,
shorter than what a log is judged by (judgement)."""
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Sent:
    sent_at: datetime
    events: Sequence[object]
    seen: Mapping[UUID, int]


def take_log(person: User, sent: Sent, received_at: datetime) -> dict[str, Any]:
    """Stores the events and answers each; the `blockwright/sync-answer/1` document."""
    clock_ahead_s = (sent.sent_at - received_at).total_seconds()
    with transaction.atomic():
        taker = _Taker(person, received_at, clock_ahead_s)
        answers = taker.take(sent.events)
    return {
        "format": FORMAT,
        "received_at": instant_text(received_at),
        "clock_ahead_s": round(clock_ahead_s, 3),
        "clock_says": _clock_says(clock_ahead_s),
        "answers": answers,
        "facts": {str(key): unseen(person, key, seq) for key, seq in sent.seen.items()},
    }


def _clock_says(ahead_s: float) -> str | None:
    if abs(ahead_s) <= CLOCK_TOLERANCE_S:
        return None
    word = "ahead of" if ahead_s > 0 else "behind"
    return (
        f"This phone's clock is {_length(abs(ahead_s))} {word} the server's. What was sent is "
        "stored at the day and time without that difference, and the phone's own time beside it; "
        "set the clock right once everything is sent."
    )


def _length(seconds: float) -> str:
    minutes = round(seconds / 60)
    if minutes < 120:
        return f"{minutes} minutes"
    hours = round(minutes / 60)
    return f"{hours} hours" if hours < 48 else f"{round(hours / 24)} days"


class _LaterError(BadInput):
    """Nothing is wrong with the event; it may go better later."""


_OUR_FAULT = BadInput.of(
    "this server could not take this entry; the fault is ours",
    "keep it, tell the coach, and send it again when the site was mended",
)

_PAIN_LEFT_OUT = BadInput.of(
    "stored without its pain, which a partner's word might end", "ask the lifter to write it"
)


class _Taker:
    def __init__(self, person: User, received_at: datetime, clock_ahead_s: float) -> None:
        self._person = person
        self._received_at = received_at
        self._clock_ahead_s = clock_ahead_s
        self._lifters: dict[UUID, Lifter | BadInput] = {}
        self._stored: dict[UUID, Fact] = {}

    def take(self, events: Sequence[object]) -> list[dict[str, Any]]:
        envelopes = [_envelope(event) for event in events]
        readable = [one for one in envelopes if isinstance(one, Envelope)]
        fact_rows.lock_lifters(one.lifter for one in readable)
        self._stored = fact_rows.stored_already(one.id for one in readable)
        return [
            self._answer(one)
            if isinstance(one, Envelope)
            else _answer(_id_text(event), "parked", one)
            for event, one in zip(events, envelopes, strict=True)
        ]

    def _answer(self, one: Envelope) -> dict[str, Any]:
        name = _id_text(one.event)
        try:
            fact = self._stored_first(one)
            if fact is None:
                return self._again(name, one, self._stored[one.id])
        except _LaterError as later:
            return _answer(name, "again", later)
        except BadInput as parked:
            return _answer(name, "parked", parked)
        except DataError:
            # The database will never take it. (Its words would hold what was written.)
            _log.error("the database refused an event of kind %s", one.kind)
            return _answer(name, "parked", _OUR_FAULT)
        except DatabaseError:
            # Nothing of this request is safe then: the phone keeps all of it and tries again.
            raise
        except Exception:  # noqa: BLE001 (one event must not stop the others)
            # What fails today fails tomorrow: a person sends it again when the site was mended.
            _log.exception("an event could not be taken")
            return _answer(name, "parked", _OUR_FAULT)
        self._stored[one.id] = fact
        return _answer(name, "stored", _left_out(fact), fact.seq)

    def _stored_first(self, one: Envelope) -> Fact | None:
        """The fact, stored now; None where its id is there already."""
        if one.id in self._stored:
            return None
        try:
            with transaction.atomic():
                return self._store(one)
        except IntegrityError:
            # Another message stored the id since we looked: for another lifter, ours is locked.
            self._stored |= fact_rows.stored_already([one.id])
            if one.id not in self._stored:
                raise
            return None

    def _again(self, name: str | None, one: Envelope, there: Fact) -> dict[str, Any]:
        if there.digest != one.digest or there.lifter_id != one.lifter:
            raise BadInput.of(
                "another entry is already stored under this one's id",
                "write it down again; it will get an id of its own",
            )
        self._lifter(one.lifter)
        return _answer(name, "already stored", _left_out(there), there.seq)

    def _store(self, one: Envelope) -> Fact:
        row = self._lifter(one.lifter)
        # Judged by the whole file, also where this person does not get all of it.
        known = _known(again(row.key, None) if row.reader is not None else row)
        arrival = Arrival(self._received_at, self._clock_ahead_s)
        new = read_event(one, known.value, known.catalogue, arrival)
        _check_kinds(new, row)
        if row.reader is not None:
            _cut_partner(new, row, known, self._received_at)
        return fact_rows.append(new, row, self._person, self._received_at, self._clock_ahead_s)

    def _lifter(self, key: UUID) -> Lifter:
        """The lifter, when this person may log for them; else BadInput."""
        if key not in self._lifters:
            self._lifters[key] = _lifter_or_parked(self._person, key)
        found = self._lifters[key]
        if isinstance(found, BadInput):
            raise found
        return found


def _known(row: Lifter) -> KnownLifter:
    try:
        return load_lifter(row)
    except BadInput as error:
        says = "the lifter file cannot be read by this server; it stays on the phone for now"
        raise _LaterError.of(says, "ask the coach to update the site") from error


def _check_kinds(new: Fact, row: Lifter) -> None:
    if new.amends is None:
        return
    kind = fact_rows.kind_of(row, new.amends)
    if kind is not None and kind != new.kind:
        says = "this entry would correct one of another kind"
        raise BadInput.of(says, "write it down again as an entry of its own")


def _cut_partner(new: Fact, row: Lifter, known: KnownLifter, received_at: datetime) -> None:
    """A training partner writes what they see at the rack, while it is fresh: no later word where
    somebody else wrote one of the body; of the body itself only a pain that ends nothing. A set
    whose pain might is stored without it. `row` is the lifter as they get them."""
    carry_on, stop = (known.policy.number(f"safety.pain_{k}") for k in ("carry_on", "stop_above"))
    family = [] if new.amends is None else fact_rows.family_of(row, new.amends)
    if min(one.day for one in (new, *family)) < received_at.date() - PARTNER_WRITES:
        says = f"a partner writes and corrects only the last {PARTNER_WRITES.days} days"
        raise BadInput.of(says, "ask the lifter or the coach to write it")
    said = new.body.get("value" if new.kind == Fact.CHECKIN else "pain")
    told = "answers" not in (new.event or {}) and new.body.get("measure", "pain") == "pain"
    kept = told and said is not None and float(said) > stop
    of_set = told and new.kind == Fact.SET
    tells = is_answer(new) or (new.body.get("what") == "hurts" and said is not None)
    over = any(one.by_id != row.reader and of_the_body(one) for one in family)
    if over or (tells and not kept and not of_set):
        says = "a partner writes nothing of the body, nor over what others wrote of it"
        raise BadInput.of(says, "ask the lifter or the coach, then throw this entry away")
    if of_set and said is not None and not kept:
        worse = said <= carry_on or fact_rows.has_worse_pain(row, said, family)
        new.body["pain"] = None if worse else said


def _left_out(fact: Fact) -> BadInput | None:
    """What is said of a partner's set whose pain was not taken."""
    sent = (fact.event or {}).get(Fact.SET, {}).get("pain")
    return None if sent is None or fact.body["pain"] is not None else _PAIN_LEFT_OUT


def _lifter_or_parked(person: User, key: UUID) -> Lifter | BadInput:
    try:
        return lifter_for(person, key, "log")
    except (Http404, PermissionDenied):
        if fact_rows.was_erased(key):
            return BadInput.of("this lifter was erased from the site", "throw the entry away")
        return BadInput.of(
            "this lifter is not shared with you, or not any more",
            "ask the coach, or sign in as somebody else",
        )


def _envelope(event: object) -> Envelope | BadInput:
    try:
        return read_envelope(event)
    except BadInput as parked:
        return parked
    except (ValueError, RecursionError):
        return not_readable()


def _id_text(event: object) -> str | None:
    named = event.get("id") if isinstance(event, Mapping) else None
    return named[:64] if isinstance(named, str) else None


def _answer(
    name: str | None, state: str, told: BadInput | None = None, seq: int | None = None
) -> dict[str, Any]:
    wrong = told.problems[0] if told else None
    place = f"{wrong.column}: " if wrong and wrong.column else ""
    return {
        "id": name,
        "state": state,
        "seq": seq,
        "says": f"{place}{wrong.says}" if wrong else None,
        "mend": wrong.mend if wrong else None,
    }


def unseen(person: User, key: UUID, seq: int) -> dict[str, Any]:
    """The facts after `seq`; of a lifter one may not see, nothing and a word."""
    try:
        lifter = lifter_for(person, key, "see")
    except (Http404, PermissionDenied):
        return {"through": seq, "more": False, "facts": [], "gone": True}
    facts, more = fact_rows.facts_after(lifter, seq)
    through = facts[-1].seq if facts else min(seq, fact_rows.last_seq(lifter))
    return {
        "through": through,
        "more": more,
        "facts": [fact_json(fact) for fact in facts],
        "gone": False,
    }


def fact_json(fact: Fact) -> dict[str, Any]:
    """A fact as the phone gets it: the event as sent, and what the server adds."""
    return {
        **sent_json(fact),
        "seq": fact.seq,
        "day": fact.day.isoformat(),
        "done_at": instant_text(done_at(fact)),
        "received_at": instant_text(fact.received_at),
        "by": fact.by.name if fact.by else None,
    }


def sent_json(fact: Fact) -> dict[str, Any]:
    """The event as sent, or a file's row in its shape; without a query."""
    event = fact.event if fact.event is not None else _imported(fact)
    if fact.kind == Fact.SET and fact.body["note"]:
        # A correction by a training partner has the note in its body alone.
        event = event | {"set": event["set"] | {"note": fact.body["note"]}}
    if _left_out(fact) is not None:
        event = event | {"set": event["set"] | {"pain": None}}
    return event


def _imported(fact: Fact) -> dict[str, Any]:
    """A row of a file in the shape of an event."""
    at = None if fact.at is None else fact.at.replace(tzinfo=None).isoformat()
    said = set_cells(set_of(fact)) if fact.kind == Fact.SET else dict(fact.body)
    return event_of(fact.id, fact, said) | {"n": fact.n, "at": at}


def event_of(key: UUID, fact: Fact, said: dict[str, Any]) -> dict[str, Any]:
    """An event that no phone sent, of the fact's kind and lifter."""
    return {
        "id": str(key),
        "kind": fact.kind,
        "lifter": str(fact.lifter_id),
        "device": None,
        "n": 0,
        "at": None,
        "zone": "",
        "began": None,
        "amends": None,
        "withdrawn": False,
        "plan": None,
        fact.kind: said,
    }


def instant_text(moment: datetime) -> str:
    """An instant in UTC with milliseconds."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
