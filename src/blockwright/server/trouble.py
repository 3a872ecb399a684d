"""What went wrong outside of any page or call: a page for people, JSON under /api/."""

import logging
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from blockwright.accounts.hashing import Crowded
from blockwright.api.errors import error_answer
from blockwright.store.database_trouble import database_trouble
from blockwright.web.pages import trouble


def _is_call(request: HttpRequest) -> bool:
    return request.path.startswith("/api/")


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    if _is_call(request):
        return error_answer(400, "bad_request", "this could not be read", "send it anew")
    return trouble.bad_request(request, exception)


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    if _is_call(request):
        return error_answer(403, "not_allowed", "you may not do this", "ask the coach")
    return trouble.not_allowed(request, exception)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    if _is_call(request):
        return error_answer(404, "not_found", "there is nothing here", "see /api/openapi.json")
    return trouble.not_found(request, exception)


def our_fault(request: HttpRequest) -> HttpResponse:
    if _is_call(request):
        says = "our fault: nothing was changed"
        return error_answer(500, "our_fault", says, "try again in a while")
    return trouble.our_fault(request)


class ExpectedTroubleMiddleware:
    """Words with a mend for what goes wrong without a fault of the code: a crowd at the door, a
    full disk, a damaged database."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self._get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self._get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        if isinstance(error, Crowded):
            return trouble.come_later(request)
        found = database_trouble(error)
        if found is None:
            return None
        logging.getLogger(__name__).error("site.sqlite3: %s; %s", *found)
        if _is_call(request):
            return error_answer(507, "database", f"{found[0]}; nothing was changed", found[1])
        return trouble.database_says(request, *found)
