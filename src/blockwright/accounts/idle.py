"""Signs out who has not been here for a while: a desk left open is a file cabinet left open."""

import time
from collections.abc import Callable, Mapping
from datetime import timedelta

from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse

from blockwright.accounts.models import User

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
_WRITTEN_EVERY_S = 300
"""Not at every request: it is a row in the database."""


def idle_sign_out(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware, after the one that knows the person."""

    def answer(request: HttpRequest) -> HttpResponse:
        if isinstance(person := request.user, User) or person.is_authenticated:
            _look(request, str(getattr(person, "role", User.OWNER)))
        return get_response(request)

    return answer


def _look(request: HttpRequest, role: str) -> None:
    now = time.time()
    away_s = now - request.session.get(_SEEN, now)
    if away_s > IDLE[role].total_seconds():
        # Not a sign-out by hand: what the phone keeps is still its person's (`accounts.who`).
        request.session.flush()
        request.user = AnonymousUser()
    elif away_s > _WRITTEN_EVERY_S or _SEEN not in request.session:
        request.session[_SEEN] = now
