"""What the phone reads, its first page and a session's sheet; its queue, which comes in here, and
what it has not seen, which goes out (docs/sync.md)."""

from datetime import datetime
from typing import TYPE_CHECKING, Annotated, Any, Literal

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.utils import timezone
from django.views.decorators.gzip import gzip_page
from ninja import Schema
from ninja.decorators import decorate_view
from pydantic import Field

from blockwright.accounts.idle import is_here, say_who
from blockwright.store.access import lifter_for, person_of
from blockwright.verbs.phone_home import phone_home
from blockwright.verbs.phone_sheet import (
    SessionName,
    phone_sheet,
    prepare,
    sheet_document,
    sheet_state,
)
from blockwright.verbs.remembered import remembered
from blockwright.verbs.take_log import Sent, take_log, unseen
from . import calls
from .calls import Calls
from .documents import Packed, json_answer, packed, packed_answer
from .errors import ApiError
from .signed_in import lifter_of
from .values import MOST_SEQ, WHOLE, Day, Key, Moment, Number, Seq, Strict

if TYPE_CHECKING:
    from blockwright.store.models import Lifter

router = Calls("Phone")

_REMEMBERED = 256  # Sheets kept in memory, some 15 KB each


@router.reads("/phone", dict[str, Any], calls.ANYONE)
def phone(request: HttpRequest) -> HttpResponse:
    """Me, my lifters, sessions around today. Sets the csrftoken cookie. docs/sync.md has the
    document."""
    get_token(request)  # sets the cookie whose value the queue sends along
    person = person_of(request)
    answer = json_answer(request, phone_home(person, timezone.now()))
    say_who(answer, str(person.pk))
    return answer


@router.reads("/lifters/{lifter}/sheets/{block}/{week}/{session}", dict[str, Any], calls.SEE)
def phone_sheet_of(
    request: HttpRequest, lifter: Key, block: Day, week: Number, session: Number
) -> HttpResponse:
    """A session's sheet, with all that is needed to do it without signal. docs/sync.md has the
    document."""
    row = lifter_of(request, lifter, "see")
    name = SessionName(block, week, session)
    return packed_answer(request, _packed(row, name))


@remembered(_REMEMBERED, sheet_state)
def _packed(row: "Lifter", name: SessionName) -> Packed:
    """Remembered: a phone asks at every look, and the answer stays until a fact comes in, the block
    is revised or the lifter's file changes."""
    return packed(phone_sheet(prepare(row, name)), is_kept=True)


MOST_EVENTS = 200
MOST_LIFTERS = 50

sync_calls = Calls("Phone")


class SyncIn(Strict):
    """One message of a phone. Events are read one by one, so that a bad one stops no other."""

    format: Literal["blockwright/sync/1"]
    sent_at: Moment
    events: Annotated[list[Any], Field(max_length=MOST_EVENTS)]
    person: Annotated[str | None, Field(max_length=40)] = None
    """Whose entries these are, by `me.id`; refused when somebody else is signed in."""
    seen: Annotated[
        dict[Key, Annotated[int, Field(ge=0, le=MOST_SEQ), WHOLE]],
        Field(max_length=MOST_LIFTERS, default_factory=dict),
    ]


class Answer(Schema):
    """What became of one event."""

    id: str | None
    state: Literal["stored", "already stored", "parked", "again"]
    seq: int | None
    says: str | None
    mend: str | None


class Unseen(Schema):
    """A lifter's facts after the last one the phone has."""

    through: int
    more: bool
    facts: list[dict[str, Any]]
    gone: bool


class SyncOut(Schema):
    format: Literal["blockwright/sync-answer/1"]
    received_at: datetime
    clock_ahead_s: float
    clock_says: str | None
    answers: list[Answer]
    facts: dict[str, Unseen]


@sync_calls.changes("/sync", {200: SyncOut}, calls.ANYONE)
@decorate_view(gzip_page)
def sync(request: HttpRequest, message: SyncIn) -> dict[str, Any]:
    """Send the queue, get the news. Each event is checked for its lifter. The contract:
    docs/sync.md."""
    received_at = timezone.now()
    person = person_of(request)
    if message.person is not None and message.person != str(person.pk):
        says = "somebody else is signed in on this phone"
        raise ApiError(401, "other_person", says, "they stay here until their own person signs in")
    if message.events:
        is_here(request)
    sent = Sent(sent_at=message.sent_at, events=message.events, seen=message.seen)
    return take_log(person, sent, received_at)


fact_calls = Calls("Facts")


@fact_calls.reads("/lifters/{lifter}/facts", Unseen, calls.SEE)
def facts(request: HttpRequest, lifter: Key, after: Seq = 0) -> dict[str, Any]:
    """A lifter's facts after one that is known. A training partner gets no check-ins and no notes
    but their own. At most 500 at a time; `through` is the next `after`. docs/sync.md has a fact's
    keys."""
    person = person_of(request)
    lifter_for(person, lifter, "see")
    return unseen(person, lifter, after)


sheet_calls = Calls("Sheets")


@sheet_calls.document(
    "/lifters/{lifter}/blocks/{start}/weeks/{week}/sessions/{session}/sheet", "sheet", calls.SEE
)
def sheet(
    request: HttpRequest, lifter: Key, start: Day, week: Number, session: Number
) -> HttpResponse:
    """A session's sheet. Made from what was logged up to the day before."""
    row = lifter_of(request, lifter, "see")
    name = SessionName(start, week, session)
    return json_answer(request, sheet_document(prepare(row, name)))
