"""The phone's queue comes in here, and what the phone has not seen goes out. docs/sync.md."""

from datetime import datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.gzip import gzip_page
from ninja import Router, Schema
from ninja.decorators import decorate_view
from pydantic import AwareDatetime, Field

from blockwright.actions.take_log import Sent, take_log
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of

MOST_BYTES = 256 * 1024
MOST_EVENTS = 200
MOST_LIFTERS = 50

router = Router()


class SyncIn(Schema):
    """One message of a phone. Events are read one by one, so that a bad one stops no other."""

    format: Literal["blockwright/sync/1"]
    sent_at: AwareDatetime
    events: Annotated[list[Any], Field(max_length=MOST_EVENTS)]
    seen: Annotated[
        dict[UUID, Annotated[int, Field(ge=0)]],
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


def _bounded(view: Any) -> Any:
    """Refuses what is too long before a byte of it is read. (No length is an empty body.)"""

    def bounded(request: HttpRequest, *args: Any, **more: Any) -> Any:
        length = request.headers.get("Content-Length") or "0"
        if not length.isdigit() or int(length) > MOST_BYTES:
            says = f"more than {MOST_BYTES // 1024} KB at once"
            words = {"code": "too_much", "says": says, "mend": "send fewer entries at a time"}
            return JsonResponse({"error": words}, status=413)
        return view(request, *args, **more)

    return bounded


@router.post("/sync", response={200: SyncOut, **ERRORS}, summary="Send the queue, get the news")
@decorate_view(_bounded, gzip_page)
def sync(request: HttpRequest, message: SyncIn) -> dict[str, Any]:
    received_at = timezone.now()
    sent = Sent(sent_at=message.sent_at, events=message.events, seen=message.seen)
    return take_log(person_of(request), sent, received_at)
