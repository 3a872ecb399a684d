"""One event of a phone to a fact, or a sentence that says why not. The rules: docs/sync.md."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Annotated, Any, Literal, TypeVar
from uuid import UUID
from zoneinfo import ZoneInfo

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    ValidationError,
    ValidationInfo,
    create_model,
)

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
from .save_account import is_zone

PHONE = "update the page, then make the entry again"
CLOCK = "set the phone's clock right and write it down again"
MOST_BYTES = 8 * 1024
AHEAD = timedelta(days=1)
"""An event further in the future than this, by the clock set right, was written under another
clock than it was sent (judgement)."""
BEFORE_BLOCK = timedelta(days=28)
"""The same of a planned set that is so much older than its block (judgement)."""
_LONGEST_TEXT = 1000
_CLOCK_YEARS = range(1969, 2200)
"""What a phone's clock can say, however wrong: from where computers begin to count."""
_FIRST_YEAR = 1990
_OTHER_VERSION = "this page is of another version than the server"


def not_readable(key: str | None = None) -> BadInput:
    """An entry that no page of ours writes."""
    return BadInput.of("this entry is not readable", PHONE, column=key)


def _id(value: object, key: str | None) -> UUID:
    """An id as phones write it: two ways to write one id would be two ids to a phone."""
    try:
        found = UUID(str(value))
    except ValueError:
        found = None
    if found is None or str(found) != value:
        raise BadInput.of(f"this entry has no readable {key}", PHONE)
    return found


def _moment(value: object, asked: ValidationInfo) -> datetime:
    """A time of the phone's clock with its offset, as the phone had it."""
    key = asked.field_name
    try:
        found = datetime.fromisoformat(str(value))
    except ValueError:
        raise BadInput.of(f"{key}: this entry has no readable time", PHONE) from None
    if found.tzinfo is None:
        raise BadInput.of(f"{key}: the time lacks its zone", PHONE)
    if found.year not in _CLOCK_YEARS:
        raise BadInput.of(f"it says it was done in {found.year}", CLOCK)
    return found


def _start(value: object) -> date:
    """The first day of a block, written so and no other way: ValueError for others."""
    found = date.fromisoformat(str(value))
    if found.isoformat() != value:
        raise ValueError("another way to write a day")
    return found


# -------------------------------------------------------------------------------- what a phone says


class _Said(BaseModel):
    """An event or a part of it: each value of its own type; what is said besides is kept unread."""

    model_config = ConfigDict(strict=True)


_SAYS_NOTHING = BeforeValidator(lambda value: "" if value is None else value)
_Text = Annotated[str, Field(max_length=_LONGEST_TEXT), _SAYS_NOTHING]
_Count = Annotated[int, Field(ge=1, le=10_000)] | None
_Serial = Annotated[int, Field(ge=0, le=2**53)]
_Id = Annotated[UUID, BeforeValidator(lambda value, asked: _id(value, asked.field_name))]
_Moment = Annotated[datetime, BeforeValidator(_moment)]


_COUNTED: Any = (_Count, None)
_SAID: Any = (_Text, "")


def _made(**keys: Any) -> type[_Said]:
    return create_model("Part", __base__=_Said, **keys)


_CELLS = {
    "set": _made(
        **dict.fromkeys(("lift", "load", "unit", "reps", "rir", "method", "note"), _SAID),
        **dict.fromkeys(("rest_s", "pain"), (float | None, None)),
        set=(Annotated[int, Field(ge=1, le=200)], ...),
        full_range=(bool, True),
        confirmed=(bool, False),
    ),
    "checkin": _made(**dict.fromkeys(("measure", "about", "value", "unit"), _SAID)),
}
"""By kind: what a phone says, each the cell of a file, whose reader bounds it."""
_SESSIONS = {
    "began": _made(),
    "ended": _made(),
    "swap_lift": _made(entry=_COUNTED, lift=_SAID, why=_SAID),
    "add_lift": _made(lift=_SAID),
    "skip_lift": _made(entry=_COUNTED, why=_SAID),
    "short_of_time": _made(
        minutes=(Annotated[float, Field(ge=0, le=24 * 60)] | None, None), left_out=_SAID
    ),
    "machine_taken": _made(entry=_COUNTED),
    "hurts": _made(
        entry=_COUNTED,
        lift=_SAID,
        # Where it hurts; empty for elsewhere, and from a page that did not ask.
        region=(Annotated[Literal["", *REGIONS], _SAYS_NOTHING], ""),
        where=_SAID,
        pain=(Annotated[float, Field(ge=0, le=10)] | None, None),
    ),
    "note": _made(text=_SAID),
}
"""By what happened besides sets and check-ins: what is said of it."""


class _Plan(_Said):
    model_config = ConfigDict(strict=True, extra="forbid")

    block: Annotated[date, BeforeValidator(_start)] | None = None
    revision: _Count = None
    week: _Count = None
    session: _Count = None
    entry: _Count = None
    set: _Count = None


class _Event(_Said):
    """What every kind says."""

    zone: _Text = ""
    at: _Moment
    began: _Moment | None = None
    plan: _Plan | None = None
    amends: _Id | None = None
    withdrawn: bool = False
    device: _Id
    n: _Serial
    knew: _Serial | None = None


Part = TypeVar("Part", bound=_Said)


def _read(part: type[Part], said: object) -> Part:
    """The part as its model has it; BadInput for the first value that is none."""
    try:
        return part.model_validate(said)
    except ValidationError as error:
        wrong = error.errors()[0]
        key = str(wrong["loc"][0 if wrong["type"] == "extra_forbidden" else -1])
        if wrong["type"] == "string_too_long":
            says = f"more than {_LONGEST_TEXT} letters"
            raise BadInput.of(says, "shorten it", column=key) from error
        raise not_readable(key) from error


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
        id=_id(event.get("id"), "id"),
        lifter=_id(event.get("lifter"), "lifter"),
        kind=str(kind),
        event=event,
        digest=hashlib.sha256(canonical.encode()).hexdigest(),
    )


def read_event(envelope: Envelope, lifter: Lifter, catalogue: Catalogue, arrival: Arrival) -> Fact:
    """The fact of an event. Raises BadInput with the sentence to show."""
    said = _read(_Event, envelope.event)
    # One this machine does not know is kept in the event alone.
    zone = said.zone if len(said.zone) <= 64 and is_zone(said.zone) else ""
    fact = Fact(
        id=envelope.id,
        kind=envelope.kind,
        day=_day(said, zone, arrival),
        # Without a zone the database keeps the digits of the wall clock.
        at=said.at if zone else said.at.replace(tzinfo=UTC),
        zone=zone,
        amends=said.amends,
        withdrawn=said.withdrawn,
        device=said.device,
        n=said.n,
        event=dict(envelope.event),
        digest=envelope.digest,
    )
    if fact.amends == fact.id:
        raise BadInput.of("this entry amends itself", PHONE)
    fact.body = _body(envelope, fact.day, lifter, catalogue)
    return fact


def _day(said: _Event, zone: str, arrival: Arrival) -> date:
    """The day it belongs to by the phone's clock set right. BadInput where that cannot be."""
    done, began = set_right(said.at, arrival.clock_ahead_s), said.began
    if began is not None:
        # The session may have begun on another phone, whose clock was right.
        own = set_right(began, arrival.clock_ahead_s)
        began = own if _is_of_session(done, own) else began
    day = day_done(done, began, zone)
    if done - arrival.received_at > AHEAD:
        raise BadInput.of(f"it says it was done on {day}, which has not come yet", CLOCK)
    if done.year < _FIRST_YEAR:
        raise BadInput.of(f"it says it was done in {done.year}", CLOCK)
    block = None if said.plan is None else said.plan.block
    if block is not None and block - day > BEFORE_BLOCK:
        says = f"it says it was done on {day}, long before its block of {block}"
        raise BadInput.of(says, CLOCK)
    return day


def day_done(at: datetime, began: datetime | None, zone: str) -> date:
    """The day something belongs to: the evening its session began, else its own date (also of
    what a clock says was done before its session began)."""
    if began is not None and _is_of_session(at, began):
        # By the offset it was written with, as the phone reads it: the zone may change in between.
        return (began if began.utcoffset() else _local(began, zone)).date()
    return _local(at, zone).date()


def _is_of_session(at: datetime, began: datetime) -> bool:
    return timedelta(0) <= at - began <= LONGEST_SESSION


def _local(at: datetime, zone: str) -> datetime:
    return at.astimezone(ZoneInfo(zone)) if zone else at


def _body(envelope: Envelope, day: date, lifter: Lifter, catalogue: Catalogue) -> dict[str, Any]:
    said = envelope.event[envelope.kind]
    if envelope.kind == "session":
        what = said.get("what")
        part = _SESSIONS.get(what) if isinstance(what, str) else None
        if part is None or set(said) - part.model_fields.keys() - {"what"}:
            raise BadInput.of(_OTHER_VERSION, PHONE)
        _read(part, said)
        return dict(said)
    cells = _read(_CELLS[envelope.kind], said).model_dump()
    table = one_row({"when": day.isoformat(), **cells})
    if envelope.kind == "set":
        return set_body(sets_of_table(table, catalogue, lifter).value[0])
    return checkin_body(checkins_of_table(table).value[0])
