"""Who calls: a session cookie, and for unsafe calls the token that proves our own page sent it.

Signed out comes first: a queue waits on 401 and must not mistake it for a token gone stale."""

from datetime import date
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.http import HttpRequest
from django.utils import timezone
from ninja.security.base import AuthBase
from ninja.utils import check_csrf

from blockwright.accounts.models import User
from blockwright.store.access import Right, lifter_for, person_of
from blockwright.verbs.phone_home import today_of
from .errors import ApiError

if TYPE_CHECKING:
    from blockwright.store.models import Lifter

_SAFE = ("GET", "HEAD", "OPTIONS", "TRACE")


class SignedIn(AuthBase):
    """Lets signed-in people through; ApiError 401, 403 or 415 for others."""

    openapi_type = "apiKey"
    openapi_name = "sessionid"
    openapi_in = "cookie"

    def __call__(self, request: HttpRequest) -> Any:
        if not request.user.is_authenticated:
            raise ApiError(
                401, "signed_out", "you are signed out", "sign in; what is unsent stays here"
            )
        if request.method not in _SAFE:
            _require_json(request)
            if check_csrf(request) is not None:
                raise ApiError(
                    403, "csrf", "the page's token is stale", "read the token anew and send again"
                )
        return request.user


def _require_json(request: HttpRequest) -> None:
    """A body is JSON and says so. (A call without a body needs no type.)"""
    if request.headers.get("Content-Length", "0") in ("", "0"):
        return
    if request.content_type != "application/json":
        says = "the body must be JSON"
        raise ApiError(415, "wrong_type", says, "send Content-Type: application/json")


def lifter_of(request: HttpRequest, key: UUID, right: Right) -> "Lifter":
    """The lifter, where the account has that right to them; else as `lifter_for` refuses."""
    return lifter_for(person_of(request), key, right)


def changing(request: HttpRequest, key: UUID) -> tuple[User, "Lifter"]:
    """The account and the lifter whom it may change; else as `lifter_for` refuses."""
    person = person_of(request)
    return person, lifter_for(person, key, "change")


def today_for(request: HttpRequest) -> date:
    return today_of(person_of(request), timezone.now())


def name_of(person: User | None) -> str | None:
    return None if person is None else person.name
