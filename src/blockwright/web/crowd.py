"""What somebody sees who would have to queue for their password to be checked."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from blockwright.accounts.hashing import Crowded
from blockwright.web.pages.trouble import come_later


class CrowdMiddleware:
    """A page instead of an error where the queue of password checks is full."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self._get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self._get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        return come_later(request) if isinstance(error, Crowded) else None
