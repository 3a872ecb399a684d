"""Text that no database can hold is refused before a page looks at it."""

from collections.abc import Callable, Iterator
from typing import Any

from django.http import HttpRequest, HttpResponse

from blockwright.files.limits import is_storable
from blockwright.web.pages.trouble import not_kept


class StorableMiddleware:
    """Refuses addresses and forms with a NUL (half an emoji never gets so far: Django decodes
    what comes as UTF-8). Last of all, so that signing in and the form's token come first."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self._get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self._get_response(request)

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
