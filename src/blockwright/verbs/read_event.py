"""One event of a phone to a fact, or a sentence that says why not. The rules: docs/sync.md."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from math import inf
from typing import Any, TypeVar
from uuid import UUID
from zoneinfo import ZoneInfo

from blockwright.engine.errors import BadInput
from blockwright.engine.pain import REGIONS
from blockwright.engine.training import Catalogue, Lifter
from blockwright.files.checkins_file import checkins_of_table
from blockwright.files.csv_text import one_row
from blockwright.files.limits import MEND, what_cannot_be_kept
from blockwright.files.sets_file import LONGEST_SESSION, sets_of_table
from blockwright.store.convert import checkin_body, set_body
from blockwright.store.models import Fact
from blockwright.store.standing import set_right
from blockwright.verbs.save_account import is_zone

Value = TypeVar("Value")

PHONE = "update the page, then make the entry again"
CLOCK = "set the phone's clock right and write it down again"
_LONGEST_TEXT = 1000
_CLOCK_YEARS = range(1969, 2200)
"""What a phone's clock can say, however wrong: from where computers begin to count."""


def not_readable(key: str | None = None) -> BadInput:
    """An entry that no page of ours writes."""
    return BadInput.of("this entry is not readable", PHONE, column=key)


def _read_as(read: Callable[[str], Value], value: object) -> Value | None:
    """What a text stands for; None of what is no such text."""
    try:
        return read(value) if isinstance(value, str) else None
    except ValueError:
        return None


def _id(table: Mapping[str, Any], key: str) -> UUID:
    """An id as phones write it: two ways to write one id would be two ids to a phone."""
    value = table.get(key)
    found = _read_as(UUID, value)
    if found is None or str(found) != value:
        raise BadInput.of(f"this entry has no readable {key}", PHONE)
    return found


def _text(table: Mapping[str, Any], key: str) -> str:
    value = table.get(key, "")
    if value is None:
        return ""
    if not isinstance(value, str):
        raise not_readable(key)
    if len(value) > _LONGEST_TEXT:
        raise BadInput.of(f"more than {_LONGEST_TEXT} letters", "shorten it", column=key)
    return value


def _number(table: Mapping[str, Any], key: str, low: float, high: float) -> float | None:
    value = table.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise not_readable(key)
    return value


def _whole(table: Mapping[str, Any], key: str, low: int, high: int) -> int:
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise not_readable(key)
    return value


def _maybe_whole(table: Mapping[str, Any], key: str, low: int, high: int) -> int | None:
    return None if table.get(key) is None else _whole(table, key, low, high)


def _flag(table: Mapping[str, Any], key: str, default: bool = False) -> bool:
    value = table.get(key, default)
    if not isinstance(value, bool):
        raise not_readable(key)
    return value


def _moment(event: Mapping[str, Any], key: str) -> datetime:
    """A time of the phone's clock with its offset, as the phone had it."""
    found = _read_as(datetime.fromisoformat, event.get(key))
    if found is None:
        raise BadInput.of(f"{key}: this entry has no readable time", PHONE)
    if found.tzinfo is None:
        raise BadInput.of(f"{key}: the time lacks its zone", PHONE)
    if found.year not in _CLOCK_YEARS:
        raise BadInput.of(f"it says it was done in {found.year}", CLOCK)
    return found


MOST_BYTES = 8 * 1024
AHEAD = timedelta(days=1)
"""An event further in the future than this, by the clock set right, was written under another
clock than it was sent (judgement)."""
BEFORE_BLOCK = timedelta(days=28)
"""The same of a planned set that is so much older than its block (judgement)."""

_FIRST_YEAR = 1990
_MOST_MINUTES = 24 * 60
_Key = Callable[[Mapping[str, Any], str], object]


def _count(said: Mapping[str, Any], key: str) -> object:
    return _maybe_whole(said, key, 1, 10_000)


def _number_to(most: float) -> _Key:
    return lambda said, key: _number(said, key, 0, most)


def _region(said: Mapping[str, Any], key: str) -> object:
    """Where it hurts; empty for elsewhere, and from a page that did not ask."""
    region = _text(said, key)
    if region and region not in REGIONS:
        raise not_readable(key)
    return region


_SESSION_KEYS: Mapping[str, Mapping[str, _Key]] = {
    "began": {},
    "ended": {},
    "swap_lift": {"entry": _count, "lift": _text, "why": _text},
    "add_lift": {"lift": _text},
    "skip_lift": {"entry": _count, "why": _text},
    "short_of_time": {"minutes": _number_to(_MOST_MINUTES), "left_out": _text},
    "machine_taken": {"entry": _count},
    "hurts": {
        "entry": _count,
        "lift": _text,
        "region": _region,
        "where": _text,
        "pain": _number_to(10),
    },
    "note": {"text": _text},
}
_CELLS: Mapping[str, Mapping[str, _Key]] = {
    "set": {
        **dict.fromkeys(("lift", "load", "unit", "reps", "rir", "method", "note"), _text),
        **dict.fromkeys(("rest_s", "pain"), lambda said, key: _number(said, key, -inf, inf)),
        "set": lambda said, key: _whole(said, key, 1, 200),
        "full_range": lambda said, key: _flag(said, key, True),
        "confirmed": _flag,
    },
    "checkin": dict.fromkeys(("measure", "about", "value", "unit"), _text),
}
"""By kind: what a phone says, each the cell of a file, whose reader bounds it."""
_PLAN_KEYS = frozenset({"block", "revision", "week", "session", "entry", "set"})
_OTHER_VERSION = "this page is of another version than the server"


@dataclass(frozen=True, slots=True)
class Envelope:
    """The part of an event that says what it is and whose."""

    id: UUID
    lifter: UUID
    kind: str
    event: Mapping[str, Any]
    digest: str


@dataclass(frozen=True, slots=True)
class Arrival:
    """When an event came in, and by how much the phone's clock was ahead then."""

    received_at: datetime
    clock_ahead_s: float


def read_envelope(event: object) -> Envelope:
    """Raises BadInput when the event cannot even be named."""
    if not isinstance(event, Mapping):
        raise not_readable()
    wrong = what_cannot_be_kept(event)
    if wrong is not None:
        raise BadInput.of(wrong, MEND)
    canonical = json.dumps(event, sort_keys=True, separators=(",", ":"), allow_nan=False)
    if len(canonical) > MOST_BYTES:
        raise BadInput.of("this entry is too long", "shorten the note, then write it down again")
    kind = event.get("kind")
    if kind not in ("set", "checkin", "session") or not isinstance(event.get(str(kind)), Mapping):
        raise BadInput.of(_OTHER_VERSION, PHONE)
    return Envelope(
        id=_id(event, "id"),
        lifter=_id(event, "lifter"),
        kind=str(kind),
        event=event,
        digest=hashlib.sha256(canonical.encode()).hexdigest(),
    )


def read_event(envelope: Envelope, lifter: Lifter, catalogue: Catalogue, arrival: Arrival) -> Fact:
    """The fact of an event. Raises BadInput with the sentence to show."""
    event = envelope.event
    name, at = _text(event, "zone"), _moment(event, "at")
    # One this machine does not know is kept in the event alone.
    zone = name if len(name) <= 64 and is_zone(name) else ""
    fact = Fact(
        id=envelope.id,
        kind=envelope.kind,
        day=_day(event, at, zone, arrival),
        # Without a zone the database keeps the digits of the wall clock.
        at=at if zone else at.replace(tzinfo=UTC),
        zone=zone,
        amends=None if event.get("amends") is None else _id(event, "amends"),
        withdrawn=_flag(event, "withdrawn"),
        device=_id(event, "device"),
        n=_whole(event, "n", 0, 2**53),
        event=dict(event),
        digest=envelope.digest,
    )
    if fact.amends == fact.id:
        raise BadInput.of("this entry amends itself", PHONE)
    _maybe_whole(event, "knew", 0, 2**53)
    fact.body = _body(envelope, fact.day, lifter, catalogue)
    return fact


def _day(event: Mapping[str, Any], at: datetime, zone: str, arrival: Arrival) -> date:
    """The day it belongs to by the phone's clock set right. BadInput where that cannot be."""
    done = set_right(at, arrival.clock_ahead_s)
    day = _day_of_done(event, done, zone, arrival)
    if done - arrival.received_at > AHEAD:
        raise BadInput.of(f"it says it was done on {day}, which has not come yet", CLOCK)
    if done.year < _FIRST_YEAR:
        raise BadInput.of(f"it says it was done in {done.year}", CLOCK)
    block = _block_of_plan(event)
    if block is not None and block - day > BEFORE_BLOCK:
        says = f"it says it was done on {day}, long before its block of {block}"
        raise BadInput.of(says, CLOCK)
    return day


def _day_of_done(event: Mapping[str, Any], done: datetime, zone: str, arrival: Arrival) -> date:
    if event.get("began") is None:
        return day_done(done, None, zone)
    # The session may have begun on another phone, whose clock was right.
    began = _moment(event, "began")
    own = set_right(began, arrival.clock_ahead_s)
    return day_done(done, own if _is_of_session(done, own) else began, zone)


def day_done(at: datetime, began: datetime | None, zone: str) -> date:
    """The day something belongs to: the evening its session began, else its own date (also of
    what a clock says was done before its session began)."""
    if began is not None and _is_of_session(at, began):
        return _local(began, zone).date()
    return _local(at, zone).date()


def _is_of_session(at: datetime, began: datetime) -> bool:
    return timedelta(0) <= at - began <= LONGEST_SESSION


def _local(at: datetime, zone: str) -> datetime:
    return at.astimezone(ZoneInfo(zone)) if zone else at


def _body(envelope: Envelope, day: date, lifter: Lifter, catalogue: Catalogue) -> dict[str, Any]:
    said = envelope.event[envelope.kind]
    if envelope.kind == "session":
        return _session_body(said)
    cells = {key: read(said, key) for key, read in _CELLS[envelope.kind].items()}
    table = one_row({"when": day.isoformat(), **cells})
    if envelope.kind == "set":
        return set_body(sets_of_table(table, catalogue, lifter).value[0])
    return checkin_body(checkins_of_table(table).value[0])


def _session_body(said: Mapping[str, Any]) -> dict[str, Any]:
    what = said.get("what")
    keys = _SESSION_KEYS.get(what) if isinstance(what, str) else None
    if keys is None or set(said) - set(keys) - {"what"}:
        raise BadInput.of(_OTHER_VERSION, PHONE)
    for key, read in keys.items():
        read(said, key)
    return dict(said)


def _block_of_plan(event: Mapping[str, Any]) -> date | None:
    """The start of the planned block, once the rest of `plan` was looked at."""
    plan = event.get("plan")
    if plan is None:
        return None
    if not isinstance(plan, Mapping) or set(plan) - _PLAN_KEYS:
        raise not_readable("plan")
    for key in sorted(_PLAN_KEYS - {"block"}):
        _maybe_whole(plan, key, 1, 10_000)
    start = plan.get("block")
    found = _read_as(date.fromisoformat, start)
    if start is not None and (found is None or found.isoformat() != start):
        raise not_readable("block")
    return found
