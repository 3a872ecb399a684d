"""The one shape of every error: {"error": {"code", "says", "mend"}}."""

from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from ninja import NinjaAPI, Schema
from ninja.errors import HttpError, ValidationError

from blockwright.engine.errors import BlockwrightError


class ErrorWords(Schema):
    """What went wrong and the mend, for a person."""

    code: str
    says: str
    mend: str = ""


class ErrorAnswer(Schema):
    error: ErrorWords


class ApiError(Exception):
    """An answer other than 200."""

    def __init__(self, status: int, code: str, says: str, mend: str = "") -> None:
        super().__init__(says)
        self.status = status
        self.words = {"code": code, "says": says, "mend": mend}


ERRORS = dict.fromkeys((400, 401, 403, 404, 413, 422), ErrorAnswer)


def add_error_answers(api: NinjaAPI) -> None:
    """Every exception a call can end in, in the one shape."""

    def answer(request: HttpRequest, status: int, code: str, says: str, mend: str = "") -> Any:
        words = {"code": code, "says": says, "mend": mend}
        return api.create_response(request, {"error": words}, status=status)

    @api.exception_handler(ApiError)
    def api_error(request: HttpRequest, error: ApiError) -> HttpResponse:
        return api.create_response(request, {"error": error.words}, status=error.status)

    @api.exception_handler(Http404)
    def not_found(request: HttpRequest, _error: Http404) -> HttpResponse:
        says = "there is nothing here that you may see"
        return answer(request, 404, "not_found", says)  # type: ignore[no-any-return]

    @api.exception_handler(PermissionDenied)
    def not_allowed(request: HttpRequest, _error: PermissionDenied) -> HttpResponse:
        says = "you may see this lifter but not do this"
        return answer(request, 403, "not_allowed", says, "ask the coach")  # type: ignore[no-any-return]

    @api.exception_handler(ValidationError)
    def not_valid(request: HttpRequest, error: ValidationError) -> HttpResponse:
        first = error.errors[0]
        place = ".".join(str(part) for part in first["loc"][1:])
        says = f"{place}: {first['msg']}"
        return answer(request, 422, "bad_request", says)  # type: ignore[no-any-return]

    @api.exception_handler(BlockwrightError)
    def bad_input(request: HttpRequest, error: BlockwrightError) -> HttpResponse:
        first = error.problems[0]
        return answer(request, 422, "bad_request", first.says, first.mend)  # type: ignore[no-any-return]

    @api.exception_handler(HttpError)
    def other(request: HttpRequest, error: HttpError) -> HttpResponse:
        return answer(request, error.status_code, "bad_request", str(error))  # type: ignore[no-any-return]
