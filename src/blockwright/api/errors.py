"""What every call goes through first, bounds before a byte is read; and the one shape of every
error: {"error": {"code", "says", "mend"}}."""

import json
from collections.abc import Callable, Mapping, Sequence
from functools import wraps
from http import HTTPStatus
from typing import Any, NoReturn

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseNotAllowed, JsonResponse
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError
from ninja.parser import Parser
from ninja.types import DictStrAny

from blockwright.engine.errors import BlockwrightError, ChangedMeanwhile
from blockwright.files.limits import MEND, UnstorableError, what_cannot_be_kept
from blockwright.files.near import did_you_mean, listed
from blockwright.verbs.edit_block import StaleRevision

MOST_SAID = 5  # Findings told at once; the rest are counted


class ErrorWords(Schema):
    """What went wrong and the mend, for a person; `code` is for a program and stays."""

    code: str
    says: str
    mend: str = ""


class ErrorAnswer(Schema):
    """Every answer that is not a success."""

    error: ErrorWords


class ApiError(Exception):
    """An answer other than a success; its words as `error_answer` takes them."""

    def __init__(self, status: int, code: str, says: str, mend: str = "") -> None:
        super().__init__(status, code, says, mend)


_ASKING = (401, 403, 404, 422)
_CHANGING = (*_ASKING, 400, 409, 413, 415)

ERRORS: dict[int, Any] = dict.fromkeys(_ASKING, ErrorAnswer)
"""What a call that only reads may answer beside its success."""
CHANGE_ERRORS: dict[int, Any] = dict.fromkeys(sorted(_CHANGING), ErrorAnswer)
"""The same of a call with a body: 400 no JSON, 409 refused as things stand, 413, 415."""


def error_answer(status: int, code: str, says: str, mend: str = "") -> JsonResponse:
    words = {"code": code, "says": says, "mend": mend}
    return JsonResponse({"error": words}, status=status)


def add_error_answers(api: NinjaAPI) -> None:
    @api.exception_handler(ApiError)
    def api_error(_request: HttpRequest, error: ApiError) -> HttpResponse:
        return error_answer(*error.args)

    @api.exception_handler(Http404)
    def not_found(_request: HttpRequest, _error: Http404) -> HttpResponse:
        return error_answer(404, "not_found", "there is nothing here that you may see")

    @api.exception_handler(PermissionDenied)
    def not_allowed(_request: HttpRequest, _error: PermissionDenied) -> HttpResponse:
        return error_answer(403, "not_allowed", "you may not do this", "ask the coach")

    @api.exception_handler(ValidationError)
    def not_valid(_request: HttpRequest, error: ValidationError) -> HttpResponse:
        says = _joined([_finding(each) for each in error.errors])
        return error_answer(422, "bad_request", says, "see this call in /api/openapi.json")

    @api.exception_handler(BlockwrightError)
    def refused(_request: HttpRequest, error: BlockwrightError) -> HttpResponse:
        """Well formed, but not possible with this lifter, gym or block as they stand."""
        problems = error.problems
        says = _joined([f"{each.place}: {each.says}" if each.place else each.says
                        for each in problems])  # fmt: skip
        mend = _joined(list(dict.fromkeys(each.mend for each in problems if each.mend)))
        if isinstance(error, StaleRevision) and error.changes:
            says = _joined([says, *error.changes])
        code = "changed_meanwhile" if isinstance(error, ChangedMeanwhile) else "not_possible"
        return error_answer(409, code, says, mend)

    @api.exception_handler(HttpError)
    def other(_request: HttpRequest, error: HttpError) -> HttpResponse:
        says, mend = str(error), ""
        if error.status_code == HTTPStatus.BAD_REQUEST:
            says, mend = "the request's body is not JSON", "send UTF-8 JSON without NaN"
            if isinstance(error.__cause__, UnstorableError):
                says, mend = str(error.__cause__), MEND
        return error_answer(error.status_code, "bad_request", says, mend)


def _finding(error: Mapping[str, Any]) -> str:
    """What the schema found, with its place as dotted keys counting from 1."""
    # The first words are where it came (body, path, query) and the parameter of our function.
    parts = error["loc"][2:] if error["loc"][0] == "body" else error["loc"][1:]
    place = ".".join(str(part + 1) if isinstance(part, int) else str(part) for part in parts)
    says = str(error["msg"]).removeprefix("Value error, ")
    if error["type"] == "extra_forbidden":
        return f"{place}: there is no such key here"
    if error["type"] == "missing":
        return f"{place}: is missing" if place else "the body is missing"
    return f"{place}: {says}" if place else says


def _joined(findings: Sequence[str]) -> str:
    more = len(findings) - MOST_SAID
    said = "; ".join(findings[:MOST_SAID])
    return f"{said}; and {more} more" if more > 0 else said


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
