"""The lifter a form asks about, by the key in the address."""

from uuid import UUID

from django.http import Http404, HttpRequest


def asked_lifter(request: HttpRequest) -> UUID | None:
    """None for nobody's gym in particular; Http404 for what is no key."""
    typed = request.GET.get("lifter", "")
    try:
        return UUID(typed) if typed else None
    except ValueError as error:
        raise Http404("no such lifter") from error
