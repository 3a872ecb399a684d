"""The phone's queue comes in here, and what the phone has not seen goes out. docs/sync.md."""

from datetime import datetime
from typing import Annotated, Any, Literal

from django.http import HttpRequest
from django.utils import timezone
from django.views.decorators.gzip import gzip_page
from ninja import Router, Schema
from ninja.decorators import decorate_view
from pydantic import Field

from blockwright.api import whose
from blockwright.api.errors import CHANGE_ERRORS, ApiError
from blockwright.api.signed_in import person_of
from blockwright.api.values import MOST_SEQ, WHOLE, Key, Moment, Strict
from blockwright.verbs.take_log import Sent, take_log

MOST_EVENTS = 200
MOST_LIFTERS = 50

router = Router()


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


@router.post(
    "/sync",
    response={200: SyncOut, **CHANGE_ERRORS},
    summary="Send the queue, get the news",
    description=f"{whose.ANYONE} Each event is checked for its lifter. The contract: docs/sync.md.",
)
@decorate_view(gzip_page)
def sync(request: HttpRequest, message: SyncIn) -> dict[str, Any]:
    received_at = timezone.now()
    person = person_of(request)
    if message.person is not None and message.person != str(person.pk):
        says = "somebody else is signed in on this phone"
        raise ApiError(401, "other_person", says, "they stay here until their own person signs in")
    sent = Sent(sent_at=message.sent_at, events=message.events, seen=message.seen)
    return take_log(person, sent, received_at)
