"""What went wrong outside of any page or call: a page for people, JSON under /api/."""

from django.http import HttpRequest, HttpResponse

from blockwright.api.errors import error_answer
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
