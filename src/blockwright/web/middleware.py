"""What every page passes through: dates and times are the person's, text that no database can hold
is refused, and what a page says of somebody's health is kept in no browser's or proxy's store."""

from collections.abc import Callable, Iterator
from contextlib import nullcontext
from typing import Any
from zoneinfo import ZoneInfo

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.deprecation import MiddlewareMixin

from blockwright.files.limits import is_storable
from .pages.trouble import not_kept


def persons_own(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware, after the one that knows the person: their zone (the site's where they said
    none), and `no-store` on every answer that does not say otherwise itself."""

    def answer(request: HttpRequest) -> HttpResponse:
        zone = getattr(request.user, "zone", "")
        with timezone.override(ZoneInfo(zone)) if zone else nullcontext():
            found = get_response(request)
        if not found.has_header("Cache-Control"):
            found["Cache-Control"] = "private, no-store"
        return found

    return answer


class StorableMiddleware(MiddlewareMixin):
    """Refuses addresses and forms with a NUL (half an emoji never gets so far: Django decodes
    what comes as UTF-8). Last of all, so that signing in and the form's token come first."""

    def process_view(
        self, request: HttpRequest, _view: Any, _args: Any, _named: Any
    ) -> HttpResponse | None:
        """The refusal; None lets the request pass. The API reads its own, and answers in JSON."""
        if request.path.startswith("/api/"):
            return None
        sound = all(is_storable(text) for text in _texts(request))
        return None if sound else not_kept(request)


def _texts(request: HttpRequest) -> Iterator[str]:
    yield request.path
    for typed in (request.GET, request.POST):
        for name, values in typed.lists():
            yield from (name, *map(str, values))
    for _, uploads in request.FILES.lists():
        yield from (str(upload.name) for upload in uploads)
