"""Pages for what went wrong: place and mend in words, nothing of the inside."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def _page(request: HttpRequest, status: int, says: str, mend: str) -> HttpResponse:
    return render(request, "web/trouble.html", {"says": says, "mend": mend}, status=status)


_SAID = {
    400: ("This could not be read.", "Go back and try once more."),
    403: ("You may not do this.", "Ask the coach."),
    404: ("There is nothing here that you may see.", ""),
    500: ("Our fault, not yours.", "Nothing was changed. Try again in a while."),
}


def page(request: HttpRequest, status: int) -> HttpResponse:
    """The page of a status that nothing more is known of."""
    return _page(request, status, *_SAID[status])


def not_kept(request: HttpRequest) -> HttpResponse:
    says = "What was sent holds a character that cannot be kept (a NUL)."
    return _page(request, 400, says, "Go back and write it anew without that character.")


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    return _page(request, 403, "This form was too old.", "Go back, load the page anew, send again.")


def too_many_tries(request: HttpRequest, *_of_axes: object) -> HttpResponse:
    return _page(
        request, 429, "Too many wrong passwords.", "Wait a quarter of an hour, then try again."
    )


def database_says(request: HttpRequest, status: int, says: str, mend: str) -> HttpResponse:
    sentence = f"{says[0].upper()}{says[1:]}. Nothing was changed."
    return _page(request, status, sentence, f"{mend[0].upper()}{mend[1:]}.")


def come_later(request: HttpRequest) -> HttpResponse:
    answer = _page(
        request, 503, "Many people are signing in just now.", "Wait a few seconds, then try again."
    )
    answer["Retry-After"] = "5"
    # The server's front asks again a few times before it passes this on.
    answer["Blockwright-Later"] = "1"
    return answer
