"""Whose failed sign-ins are counted together."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest

FIELD = "username"
"""What the sign-in form and `authenticate` call the sign-in name."""


def counted_name(request: HttpRequest, credentials: Mapping[str, Any] | None) -> str:
    """The sign-in name without case and outer space: "Cato" and "cato " are one account, so they
    are one count."""
    said = (credentials or {}).get(FIELD) or request.POST.get(FIELD) or ""
    return str(said).strip().casefold()
