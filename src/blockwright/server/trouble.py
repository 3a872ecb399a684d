"""What went wrong outside of any page or call: a page for people, JSON under /api/."""

import logging
import sys
from collections.abc import Callable

from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse
from django.utils.deprecation import MiddlewareMixin

from blockwright.accounts.hashing import Crowded
from blockwright.api.errors import error_answer
from blockwright.store.folder import PASSING, database_trouble
from blockwright.web.pages import trouble

_SAID = {
    400: ("bad_request", "this could not be read", "send it anew"),
    403: ("not_allowed", "you may not do this", "ask the coach"),
    404: ("not_found", "there is nothing here", "see /api/openapi.json"),
    500: ("our_fault", "our fault: nothing was changed", "try again in a while"),
}
"""To a call, by status: code, what went wrong, and the mend."""


def _handler(status: int) -> Callable[..., HttpResponse]:
    def answer(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
        if request.path.startswith("/api/"):
            return error_answer(status, *_SAID[status])
        return trouble.page(request, status)

    return answer


bad_request, not_allowed, not_found, _not_the_database = map(_handler, _SAID)


def our_fault(request: HttpRequest) -> HttpResponse:
    return _of_the_database(request, sys.exception()) or _not_the_database(request)


def _of_the_database(request: HttpRequest, error: BaseException | None) -> HttpResponse | None:
    found = None if error is None else database_trouble(error)
    if found is None:
        return None
    logging.getLogger(__name__).error("the database: %s; %s", *found)
    # Who asks stands in the database too.
    request.user = AnonymousUser()
    status = 503 if found in PASSING else 507
    if request.path.startswith("/api/"):
        return error_answer(status, "database", f"{found[0]}; nothing was changed", found[1])
    return trouble.database_says(request, status, *found)


class ExpectedTroubleMiddleware(MiddlewareMixin):
    """Words with a mend for what goes wrong without a fault of the code: a crowd at the door, a
    full disk, a damaged database."""

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        if isinstance(error, Crowded):
            return trouble.come_later(request)
        return _of_the_database(request, error)
