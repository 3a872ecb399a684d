"""Signs out who has not been here for a while: a desk left open is a file cabinet left open. And
tells the phone page whose it is, without signal too: a cookie that its script can read.

The page keeps sheets and sets on the phone. When somebody signs out, or somebody else signs in,
it must show nothing of the one before, even where the server cannot be asked. The cookie names an
account by number, opens nothing, and outlives the sign-in: a sign-in that ran out changes nothing.
"""

import time
from collections.abc import Callable, Mapping
from datetime import timedelta
from typing import Any

from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.contrib.auth.signals import user_logged_in, user_logged_out
from django.db import OperationalError
from django.dispatch import receiver
from django.http import HttpRequest, HttpResponse

from .models import User

IDLE: Mapping[str, timedelta] = {
    # Who sees the health of many sits at a desk that others pass.
    User.OWNER: timedelta(hours=12),
    User.COACH: timedelta(hours=12),
    # A phone of one's own, in a pocket from one session to the next.
    User.PARTNER: timedelta(days=21),
    User.LIFTER: timedelta(days=21),
}
"""How long one may be away; judgement."""
_SEEN = "seen"
_LISTENS = "/api/sync"
"""What an open phone page asks by itself, every few seconds: nobody need be there."""
_WRITTEN_EVERY_S = 300  # Not at every request: it is a row in the database


def who_is_here(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware, after the one that knows the person: ends a sign-in that has idled, and writes
    the cookie where a request signed somebody in or out."""

    def answer(request: HttpRequest) -> HttpResponse:
        if isinstance(person := request.user, User) or person.is_authenticated:
            _look(request, str(getattr(person, "role", User.OWNER)))
        found = get_response(request)
        if (changed := getattr(request, _CHANGED, None)) is not None:
            say_who(found, changed)
        return found

    return answer


def _look(request: HttpRequest, role: str) -> None:
    away_s = time.time() - request.session.get(_SEEN, time.time())
    if away_s > IDLE[role].total_seconds():
        # Not a sign-out by hand: what the phone keeps is still its person's.
        request.session.flush()
        request.user = AnonymousUser()
    elif request.path != _LISTENS or _SEEN not in request.session or away_s < 0:
        is_here(request)


def is_here(request: HttpRequest) -> None:
    """Somebody opened, tapped or typed something just now; or the clock was set back."""
    now = time.time()
    if abs(now - request.session.get(_SEEN, 0.0)) > _WRITTEN_EVERY_S:
        request.session[_SEEN] = now
        try:
            request.session.save()
        except OperationalError:  # A full disk, say: the page can still be read
            request.session.modified = False


COOKIE = "person"
_AGE_S = 400 * 24 * 60 * 60  # The longest that browsers keep one
_CHANGED = "person_changed"


@receiver([user_logged_in, user_logged_out], dispatch_uid="phone knows who signed in or out")
def _changed(signal: Any, request: HttpRequest | None, user: Any, **_more: Any) -> None:
    if request is not None:
        setattr(request, _CHANGED, str(user.pk) if signal is user_logged_in else "")


def say_who(answer: HttpResponse, person: str) -> None:
    """Names the person to the phone page; nobody where `person` is empty."""
    if person:
        answer.set_cookie(
            COOKIE, person, max_age=_AGE_S, secure=settings.HTTPS, httponly=False, samesite="Lax"
        )
    else:
        answer.delete_cookie(COOKIE, samesite="Lax")
