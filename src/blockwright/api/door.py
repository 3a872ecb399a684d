"""What every call goes through first: bounds before a byte is read, one shape for every refusal."""

import json
from collections.abc import Callable
from functools import wraps
from typing import Any, NoReturn

from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from ninja.parser import Parser
from ninja.types import DictStrAny

from blockwright.api.errors import error_answer
from blockwright.files.limits import UnstorableError, what_cannot_be_kept
from blockwright.files.near import did_you_mean, listed

MOST_BYTES = 256 * 1024
_JUDGED_ELSEWHERE = ("events", "document")


class StrictParser(Parser):
    """JSON as the standard has it: no NaN, no infinity; and nothing that cannot be kept. Events of
    a sync are judged one by one, so that a bad one stops no other, and a lifter by their reader."""

    def parse_body(self, request: HttpRequest) -> DictStrAny:
        found: DictStrAny = json.loads(request.body, parse_constant=_not_json)
        looked_at = found
        if isinstance(found, dict):
            looked_at = {key: one for key, one in found.items() if key not in _JUDGED_ELSEWHERE}
        wrong = what_cannot_be_kept(looked_at)
        if wrong is not None:
            raise UnstorableError(wrong)
        return found


def _not_json(name: str) -> NoReturn:
    raise ValueError(f"{name} is not JSON")


def through_the_door(
    view: Callable[..., Any], queries: Callable[[str, str], frozenset[str] | None]
) -> Callable[..., Any]:
    """The view, with what is too long refused unread (no length is an empty body), keys after the
    `?` that `queries` (of method and route) does not have, and a wrong method in the one shape."""

    @wraps(view)
    def entered(request: HttpRequest, *args: Any, **more: Any) -> HttpResponse:
        length = request.headers.get("Content-Length") or "0"
        if not length.isdigit() or int(length) > MOST_BYTES:
            says = f"more than {MOST_BYTES // 1024} KB at once"
            return error_answer(413, "too_much", says, "send fewer entries at a time")
        unknown_key = _unknown_key(request, queries)
        if unknown_key is not None:
            return unknown_key
        answer: HttpResponse = view(request, *args, **more)
        return _method_said(answer) if answer.status_code == 405 else answer

    return entered


def _unknown_key(
    request: HttpRequest, queries: Callable[[str, str], frozenset[str] | None]
) -> HttpResponse | None:
    """A refusal where something is asked that this call does not know; the signed-out get their
    401 instead."""
    if not request.GET or not request.user.is_authenticated or request.resolver_match is None:
        return None
    known = queries(str(request.method), request.resolver_match.route)
    strange = [] if known is None else [key for key in request.GET if key not in known]
    if known is None or not strange:
        return None
    says = f"there is no {strange[0][:80]} to ask for here"
    mend = did_you_mean(strange[0], known, f"leave it out, or write {listed(sorted(known))}"
                        if known else "leave it out")  # fmt: skip
    return error_answer(422, "bad_request", says, mend)


def _method_said(refusal: HttpResponse) -> HttpResponse:
    assert isinstance(refusal, HttpResponseNotAllowed)
    allowed = ", ".join(sorted(refusal["Allow"].split(", ")))
    answer = error_answer(405, "wrong_method", "this address is asked in another way",
                          f"use {allowed}")  # fmt: skip
    answer["Allow"] = allowed
    return answer


def unknown(_request: HttpRequest, rest: str = "") -> HttpResponse:
    """Every address under /api/ that is none."""
    says = f"there is no call /api/{rest[:200]}"
    return error_answer(404, "not_found", says, "see /api/openapi.json for every call")
