"""Sentences for the next page, kept over the redirect that follows a form."""

from uuid import UUID

from django.http import HttpRequest

_KEY = "notes"


def keep_notes(request: HttpRequest, lifter: UUID, notes: list[str]) -> None:
    request.session[_KEY] = {"lifter": str(lifter), "says": notes}


def notes_for(request: HttpRequest, lifter: UUID) -> list[str]:
    """The notes about this lifter; they are shown once."""
    kept = request.session.get(_KEY)
    if not kept or kept["lifter"] != str(lifter):
        return []
    del request.session[_KEY]
    return list(kept["says"])
