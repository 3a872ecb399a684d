"""What the phone reads: its first page, and a session's sheet."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.utils import timezone
from ninja import Router

from blockwright.accounts.who import say_who
from blockwright.api import whose
from blockwright.api.documents import Packed, json_answer, packed, packed_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import lifter_of, person_of
from blockwright.api.values import Day, Key, Number
from blockwright.verbs.phone_home import phone_home
from blockwright.verbs.phone_sheet import (
    Prepared,
    SessionName,
    SheetState,
    phone_sheet,
    prepare,
    sheet_state,
)

router = Router()

_REMEMBERED = 256
"""Sheets kept in memory, some 15 KB each."""


@router.get(
    "/phone",
    response={200: dict[str, Any], **ERRORS},
    summary="Me, my lifters, sessions around today",
    description=f"{whose.ANYONE} Sets the csrftoken cookie. docs/sync.md has the document.",
)
def phone(request: HttpRequest) -> HttpResponse:
    get_token(request)  # sets the cookie whose value the queue sends along
    person = person_of(request)
    answer = json_answer(request, phone_home(person, timezone.now()))
    say_who(answer, str(person.pk))
    return answer


@router.get(
    "/lifters/{lifter}/sheets/{block}/{week}/{session}",
    response={200: dict[str, Any], **ERRORS},
    summary="A session's sheet, with all that is needed to do it without signal",
    description=f"{whose.SEE} docs/sync.md has the document.",
)
def phone_sheet_of(
    request: HttpRequest, lifter: Key, block: Day, week: Number, session: Number
) -> HttpResponse:
    row = lifter_of(request, lifter, "see")
    name = SessionName(block, week, session)
    asked = _Asked(sheet_state(row, name), lambda: prepare(row, name))
    return packed_answer(request, _packed(asked))


@dataclass(frozen=True, slots=True)
class _Asked:
    state: SheetState
    prepared: Callable[[], Prepared] = field(compare=False)


@lru_cache(maxsize=_REMEMBERED)
def _packed(asked: _Asked) -> Packed:
    """Remembered: a phone asks at every look, and the answer stays until a fact comes in, the block
    is revised or the lifter's file changes."""
    return packed(phone_sheet(asked.prepared()))
