"""What the phone reads: its first page, and a session's sheet."""

import gzip
import hashlib
import json
from datetime import date
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, HttpResponseNotModified
from django.middleware.csrf import get_token
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from ninja import Router

from blockwright.actions.phone_home import phone_home
from blockwright.actions.phone_sheet import SessionName, phone_sheet, prepare
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import person_of
from blockwright.store.access import lifter_for

router = Router()


@router.get("/phone", response={200: dict[str, Any], **ERRORS}, summary="Me, my lifters, sessions")
def phone(request: HttpRequest) -> HttpResponse:
    get_token(request)  # sets the cookie whose value the queue sends along
    return json_answer(request, phone_home(person_of(request), timezone.now()))


@router.get(
    "/lifters/{lifter}/sheets/{block}/{week}/{session}",
    response={200: dict[str, Any], **ERRORS},
    summary="A session's sheet, with all that is needed to do it without signal",
)
def sheet(request: HttpRequest, lifter: UUID, block: date, week: int, session: int) -> HttpResponse:
    row = lifter_for(person_of(request), lifter, "see")
    return json_answer(request, phone_sheet(prepare(row, SessionName(block, week, session))))


def json_answer(request: HttpRequest, document: dict[str, Any]) -> HttpResponse:
    """JSON with an ETag, 304 where the phone has it already, compressed where it may be.

    Compressing is safe here: no answer holds a secret beside text that a stranger chose.
    """
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    body = text.encode()
    tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    if request.headers.get("If-None-Match", "").removeprefix("W/") == tag:
        answer: HttpResponse = HttpResponseNotModified()
    else:
        answer = HttpResponse(body, content_type="application/json")
        if "gzip" in request.headers.get("Accept-Encoding", ""):
            answer.content = gzip.compress(body, 6, mtime=0)
            answer["Content-Encoding"] = "gzip"
    answer["ETag"] = tag
    answer["Cache-Control"] = "private, no-cache"
    patch_vary_headers(answer, ["Accept-Encoding", "Cookie"])
    return answer
