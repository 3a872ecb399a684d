"""Tells the phone page whose it is, without signal too: a cookie that its script can read.

The page keeps sheets and sets on the phone. When somebody signs out, or somebody else signs in,
it must show nothing of the one before, even where the server cannot be asked. The cookie names an
account by number, opens nothing, and outlives the sign-in: a sign-in that ran out changes nothing.
"""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.contrib.auth.signals import user_logged_in, user_logged_out
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse

COOKIE = "person"
_AGE_S = 400 * 24 * 60 * 60
"""The longest that browsers keep one."""
_CHANGED = "person_changed"


@receiver(user_logged_in, dispatch_uid="phone knows who signed in")
def _signed_in(request: HttpRequest | None, user: Any, **_more: Any) -> None:
    if request is not None:
        setattr(request, _CHANGED, str(user.pk))


@receiver(user_logged_out, dispatch_uid="phone knows who signed out")
def _signed_out(request: HttpRequest | None, **_more: Any) -> None:
    if request is not None:
        setattr(request, _CHANGED, "")


class WhoMiddleware:
    """Writes the cookie where a request signed somebody in or out."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self._get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        answer = self._get_response(request)
        changed = getattr(request, _CHANGED, None)
        if changed is not None:
            say_who(answer, changed)
        return answer


def say_who(answer: HttpResponse, person: str) -> None:
    """Names the person to the phone page; nobody where `person` is empty."""
    if person:
        answer.set_cookie(
            COOKIE, person, max_age=_AGE_S, secure=settings.HTTPS, httponly=False, samesite="Lax"
        )
    else:
        answer.delete_cookie(COOKIE, samesite="Lax")
