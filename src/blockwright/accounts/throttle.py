"""Whose failed sign-ins are counted together, and how many are too many.

Axes counts five failures of a name from one address. Beside it stand a limit of each address,
whatever the names, and one of each name, whatever the addresses. A single address reaches its own
limit before that of a name: it cannot lock somebody out who signs in from elsewhere."""

from collections.abc import Iterable, Mapping
from ipaddress import IPv6Address, IPv6Network
from typing import Any

from axes.handlers.proxy import AxesProxyHandler
from axes.models import AccessAttempt, AccessFailureLog, AccessLog
from django.conf import settings
from django.contrib.auth.signals import user_login_failed
from django.db.models import Q, Sum
from django.http import HttpRequest
from django.utils import timezone

FIELD = "username"  # What the sign-in form and `authenticate` call the sign-in name
MOST_OF_AN_ADDRESS = 30  # Failures within the cool-off; a gym's phones may share one address
MOST_OF_A_NAME = 60


def counted_name(request: HttpRequest, credentials: Mapping[str, Any] | None) -> str:
    """The sign-in name without case and outer space: "Cato" and "cato " are one account, so they
    are one count."""
    return _counted((credentials or {}).get(FIELD) or request.POST.get(FIELD) or "")


def _counted(name: object) -> str:
    # As long as the column that counts it.
    return str(name).strip().casefold()[:255]


def counted_address(request: HttpRequest) -> str | None:
    """The client's address; of IPv6 its /64, since a household or a machine has all of one."""
    said = request.META.get("REMOTE_ADDR") or None
    if said is None or ":" not in said:
        return said
    address = IPv6Address(said)
    whole = IPv6Network((address, 64), strict=False).network_address
    return str(address.ipv4_mapped or whole)


def is_throttled(request: HttpRequest, name: str) -> bool:
    """Whether no password may be tried now: asked before any is hashed."""
    if not getattr(settings, "AXES_ENABLED", True):
        return False
    now = timezone.now()
    # Where the clock was set back: a lockout lasts its quarter of an hour from here on.
    if (ahead := AccessAttempt.objects.filter(attempt_time__gt=now)).exists():
        ahead.update(attempt_time=now)
    if not AxesProxyHandler.is_allowed(request, {FIELD: name}):
        return True
    recent = AccessAttempt.objects.filter(attempt_time__gte=now - settings.AXES_COOLOFF_TIME)
    address = counted_address(request)
    return (
        _failures(recent.filter(ip_address=address)) >= MOST_OF_AN_ADDRESS
        or _failures(recent.filter(username=_counted(name))) >= MOST_OF_A_NAME
    )


def _failures(attempts: Any) -> int:
    return int(attempts.aggregate(of=Sum("failures_since_start"))["of"] or 0)


def count_failure(request: HttpRequest, name: str) -> None:
    """A wrong password outside of the sign-in page counts like one on it."""
    user_login_failed.send(sender=__name__, credentials={FIELD: name}, request=request)


def forget_names(names: Iterable[str]) -> None:
    """Deletes what was written down about the sign-ins of these names."""
    for name in names:
        whose = Q(username=_counted(name)) | Q(username=name)
        for rows in (AccessAttempt, AccessFailureLog, AccessLog):
            rows.objects.filter(whose).delete()
