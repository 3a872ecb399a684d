"""One event of a phone to a fact, or a sentence that says why not. The rules: docs/sync.md."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from blockwright.engine.errors import BadInput
from blockwright.engine.training import Catalogue, Lifter
from blockwright.files.checkins_file import COLUMNS as CHECKIN_COLUMNS
from blockwright.files.checkins_file import checkins_of_table
from blockwright.files.csv_text import CsvFile
from blockwright.files.sets_file import COLUMNS as SET_COLUMNS
from blockwright.files.sets_file import sets_of_table
from blockwright.store.convert import checkin_body, set_body
from blockwright.store.facts import NewFact

MOST_BYTES = 8 * 1024
LONGEST_SESSION = timedelta(hours=12)
"""So long after a session began, what is done still belongs to its day (judgement)."""
AHEAD = timedelta(days=1)
"""An event further in the future than any time zone explains comes from a wrong clock."""

_LONGEST_TEXT = 1000
_FIRST_YEAR = 1990
_SESSION_KEYS: Mapping[str, frozenset[str]] = {
    "began": frozenset(),
    "ended": frozenset(),
    "swap_lift": frozenset({"entry", "lift", "why"}),
    "add_lift": frozenset({"lift"}),
    "skip_lift": frozenset({"entry", "why"}),
    "short_of_time": frozenset({"minutes", "left_out"}),
    "machine_taken": frozenset({"entry"}),
    "hurts": frozenset({"entry", "lift", "where", "pain"}),
    "note": frozenset({"text"}),
}
_PLAN_KEYS = frozenset({"block", "revision", "week", "session", "entry", "set"})
_PHONE = "update the page, then make the entry again"


class Parked(Exception):
    """This event cannot be stored as it is: `says` and `mend` are for the person."""

    def __init__(self, says: str, mend: str = "") -> None:
        super().__init__(says)
        self.says = says
        self.mend = mend


@dataclass(frozen=True, slots=True)
class Envelope:
    """The part of an event that says what it is and whose."""

    id: UUID
    lifter: UUID
    kind: str
    event: Mapping[str, Any]
    digest: str


def read_envelope(event: object) -> Envelope:
    """Raises Parked when the event cannot even be named."""
    if not isinstance(event, Mapping):
        raise Parked("this entry is not readable", _PHONE)
    canonical = json.dumps(event, sort_keys=True, separators=(",", ":"), allow_nan=False)
    if len(canonical) > MOST_BYTES:
        raise Parked("this entry is too long", "shorten the note, then write it down again")
    kind = event.get("kind")
    if kind not in ("set", "checkin", "session") or not isinstance(event.get(str(kind)), Mapping):
        raise Parked("this page is of another version than the server", _PHONE)
    return Envelope(
        id=_uuid(event, "id"),
        lifter=_uuid(event, "lifter"),
        kind=str(kind),
        event=event,
        digest=hashlib.sha256(canonical.encode()).hexdigest(),
    )


def read_event(
    envelope: Envelope, lifter: Lifter, catalogue: Catalogue, received_at: datetime
) -> NewFact:
    """The fact of an event. Raises Parked with the sentence to show."""
    event = envelope.event
    zone = _zone(event)
    at = _moment(event, "at")
    began = _moment(event, "began") if event.get("began") is not None else None
    if at - received_at > AHEAD:
        raise Parked(
            f"it says it was done on {_local(at, zone):%Y-%m-%d}, which has not come yet",
            "set the phone's clock right and write it down again",
        )
    fact = NewFact(
        id=envelope.id,
        kind=envelope.kind,
        day=day_of(at, began, zone),
        # Without a zone the database keeps the digits of the wall clock.
        at=at if zone else at.replace(tzinfo=UTC),
        zone=zone,
        amends=None if event.get("amends") is None else _uuid(event, "amends"),
        withdrawn=_flag(event, "withdrawn"),
        device=_uuid(event, "device"),
        n=_whole(event, "n", 0, 2**53),
        body={},
        event=dict(event),
        digest=envelope.digest,
    )
    if fact.amends == fact.id:
        raise Parked("this entry amends itself", _PHONE)
    _check_plan(event)
    return replace(fact, body=_body(envelope, lifter, catalogue))


def day_of(at: datetime, began: datetime | None, zone: str) -> date:
    """The day something belongs to: the evening its session began, else its own date."""
    if began is not None and timedelta(0) <= at - began <= LONGEST_SESSION:
        return _local(began, zone).date()
    return _local(at, zone).date()


def _local(at: datetime, zone: str) -> datetime:
    return at.astimezone(ZoneInfo(zone)) if zone else at


# ---------------------------------------------------------------------------------- what it says


def _body(envelope: Envelope, lifter: Lifter, catalogue: Catalogue) -> dict[str, Any]:
    said = envelope.event[envelope.kind]
    if envelope.kind == "session":
        return _session_body(said)
    try:
        if envelope.kind == "set":
            table = _table(SET_COLUMNS, envelope.event, _set_cells(said))
            return set_body(sets_of_table(table, catalogue, lifter).value[0])
        table = _table(CHECKIN_COLUMNS, envelope.event, _checkin_cells(said))
        return checkin_body(checkins_of_table(table).value[0])
    except BadInput as error:
        problem = error.problems[0]
        place = f"{problem.column}: " if problem.column else ""
        raise Parked(f"{place}{problem.says}", problem.mend) from error


def _table(columns: tuple[str, ...], event: Mapping[str, Any], cells: dict[str, str]) -> CsvFile:
    """The event as the one row of a file, so that phone and file are read by the same rules."""
    cells["when"] = str(event["at"])[:10]
    used = tuple(column for column in columns if column in cells)
    return CsvFile(file="", columns=used, rows=[(1, [cells[c] for c in used])], warnings=())


def _set_cells(said: Mapping[str, Any]) -> dict[str, str]:
    return {
        "lift": _text(said, "lift"),
        "set": str(_whole(said, "set", 1, 200)),
        "load": _text(said, "load"),
        "unit": _text(said, "unit"),
        "reps": _text(said, "reps"),
        "rir": _text(said, "rir"),
        "rest_s": _number_text(said, "rest_s"),
        "method": _text(said, "method"),
        "full_range": "yes" if _flag(said, "full_range", True) else "no",
        "pain": _number_text(said, "pain"),
        "note": _text(said, "note"),
        "confirmed": "yes" if _flag(said, "confirmed") else "no",
    }


def _checkin_cells(said: Mapping[str, Any]) -> dict[str, str]:
    return {name: _text(said, name) for name in ("measure", "about", "value", "unit")}


def _session_body(said: Mapping[str, Any]) -> dict[str, Any]:
    what = said.get("what")
    if not isinstance(what, str) or what not in _SESSION_KEYS:
        raise Parked("this page is of another version than the server", _PHONE)
    unknown = set(said) - _SESSION_KEYS[what] - {"what"}
    if unknown:
        raise Parked("this page is of another version than the server", _PHONE)
    for key in _SESSION_KEYS[what]:
        value = said.get(key)
        if isinstance(value, str):
            _text(said, key)
        elif value is not None and (isinstance(value, bool) or not isinstance(value, int | float)):
            raise Parked("this entry is not readable", _PHONE)
    return dict(said)


def _check_plan(event: Mapping[str, Any]) -> None:
    plan = event.get("plan")
    if plan is None:
        return
    if not isinstance(plan, Mapping) or set(plan) - _PLAN_KEYS:
        raise Parked("this entry is not readable", _PHONE)
    for key in _PLAN_KEYS - {"block"}:
        if plan.get(key) is not None:
            _whole(plan, key, 1, 10_000)


# -------------------------------------------------------------------------------------- plain keys


def _uuid(table: Mapping[str, Any], key: str) -> UUID:
    try:
        return UUID(str(table[key]))
    except (KeyError, ValueError) as error:
        raise Parked(f"this entry has no readable {key}", _PHONE) from error


def _text(table: Mapping[str, Any], key: str) -> str:
    value = table.get(key, "")
    if value is None:
        return ""
    if not isinstance(value, str):
        raise Parked(f"{key}: this entry is not readable", _PHONE)
    if len(value) > _LONGEST_TEXT:
        raise Parked(f"{key}: more than {_LONGEST_TEXT} letters", "shorten it")
    if "\x00" in value:
        raise Parked(f"{key}: holds a character that cannot be kept", "write it anew")
    return value


def _number_text(table: Mapping[str, Any], key: str) -> str:
    value = table.get(key)
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Parked(f"{key}: this entry is not readable", _PHONE)
    return f"{value:f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


def _whole(table: Mapping[str, Any], key: str, low: int, high: int) -> int:
    value = table.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise Parked(f"{key}: this entry is not readable", _PHONE)
    return value


def _flag(table: Mapping[str, Any], key: str, default: bool = False) -> bool:
    value = table.get(key, default)
    if not isinstance(value, bool):
        raise Parked(f"{key}: this entry is not readable", _PHONE)
    return value


def _moment(event: Mapping[str, Any], key: str) -> datetime:
    try:
        found = datetime.fromisoformat(str(event.get(key)))
    except ValueError as error:
        raise Parked(f"{key}: this entry has no readable time", _PHONE) from error
    if found.tzinfo is None:
        raise Parked(f"{key}: the time lacks its zone", _PHONE)
    if found.year < _FIRST_YEAR:
        raise Parked(
            f"it says it was done in {found.year}",
            "set the phone's clock right and write it down again",
        )
    return found


def _zone(event: Mapping[str, Any]) -> str:
    """The zone's name, "" for one this machine does not know (the event keeps what was said)."""
    name = _text(event, "zone")
    try:
        ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        return ""
    return name if len(name) <= 64 else ""
