"""The evening page: every letter that waits, one under the other, decided with a key or a tap."""

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.accounts.models import User
from blockwright.verbs.evening import NotWritten, evening, write_all
from blockwright.verbs.phone_home import today_of
from blockwright.web.pages.review import face_context
from blockwright.web.person import person_of


@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest) -> HttpResponse:
    """The letters; POST writes all that are due."""
    person = _coach(request)
    today = today_of(person, timezone.now())
    failed: list[NotWritten] = []
    if request.method == "POST":
        _, failed = write_all(person, today)
        if not failed:
            return redirect("evening")
    found = evening(person, today)
    shown = {
        "evening": found,
        "not_written": failed,
        "back": "evening",
        "letters": [
            {"waiting": one, "lifter": one.lifter, **face_context(one.face, may_change=True)}
            for one in found.letters
        ],
    }
    return render(request, "web/evening.html", shown, status=422 if failed else 200)


def _coach(request: HttpRequest) -> User:
    person = person_of(request)
    if not person.may_add_lifters:
        raise PermissionDenied
    return person
