"""The one shape of every error: {"error": {"code", "says", "mend"}}."""

from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError

from blockwright.engine.errors import BlockwrightError
from blockwright.files.limits import MEND, UnstorableError
from blockwright.verbs.decide_letter import StaleLetter
from blockwright.verbs.edit_block import StaleRevision
from blockwright.verbs.save_lifter import ChangedMeanwhile

MOST_SAID = 5
"""Findings told at once; the rest are counted."""


_STALE = (ChangedMeanwhile, StaleLetter, StaleRevision)


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
    """Every exception a call can end in, in the one shape."""

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
        code = "changed_meanwhile" if isinstance(error, _STALE) else "not_possible"
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
