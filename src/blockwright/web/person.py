"""The signed-in person of a request."""

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest

from blockwright.accounts.models import User


def person_of(request: HttpRequest) -> User:
    """The account; the sign-in wall stands before every page, so there is one."""
    if not isinstance(request.user, User):
        raise PermissionDenied
    return request.user
