"""Parts of addresses as values; Http404 for what names nothing."""

from datetime import date

from django.http import Http404

_MOST = 10**9


def day_of(text: str) -> date:
    """The date of an address: 2027-01-04."""
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise Http404("no such day") from error


def number_of(number: int) -> int:
    """A number that a database column holds."""
    if number > _MOST:
        raise Http404("no such number")
    return number
