"""Dates and times on a page are the person's: their zone holds while their request is answered."""

from collections.abc import Callable
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.utils import timezone


def persons_zone(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware, after the one that knows the person. Without a zone of theirs: the site's."""

    def answer(request: HttpRequest) -> HttpResponse:
        zone = getattr(request.user, "zone", "")
        if not zone:
            return get_response(request)
        with timezone.override(ZoneInfo(zone)):
            return get_response(request)

    return answer
