"""What a page says of somebody's health is kept in no browser's or proxy's store."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse


def kept_nowhere(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware: `no-store` on every answer that does not say otherwise itself."""

    def answer(request: HttpRequest) -> HttpResponse:
        found = get_response(request)
        if not found.has_header("Cache-Control"):
            found["Cache-Control"] = "private, no-store"
        return found

    return answer
