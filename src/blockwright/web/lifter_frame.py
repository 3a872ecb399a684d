"""What every page of one lifter carries: who it is, what this person may do, the way on."""

from datetime import date
from typing import Any, NamedTuple
from uuid import UUID

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils import timezone

from blockwright.actions.lifter_page import block_start_on
from blockwright.actions.phone_home import today_of
from blockwright.store.access import Right, lifter_for, rights_for
from blockwright.web.person import person_of


class Way(NamedTuple):
    """One page of the lifter's navigation: the right it needs, and the pages that lie under it."""

    words: str
    address: str
    right: Right
    under: tuple[str, ...] = ()
    of_block: bool = False
    """Whether its address ends in the start of a block."""


WAYS = (
    Way("Sheets", "lifter", "see", ("sheet",)),
    Way(
        "Block",
        "block",
        "read",
        (
            "block_of",
            "compose",
            "composing",
            "change_lift",
            "block_session",
            "block_rest",
            "block_revisions",
            "block_revision",
        ),
    ),
    Way("Review", "review", "read", ("letter",)),
    Way("Strength", "strength", "read"),
    Way("Sets", "sets", "read"),
    Way("Ledger", "ledger", "read"),
    Way("Report", "report", "read", of_block=True),
    Way("Lifter file", "lifter_file", "export"),
)


def lifter_frame(request: HttpRequest, key: UUID, right: Right) -> dict[str, Any]:
    """For the template: `lifter` (the row), `rights`, `today` (where the person is) and `nav`
    (for `web/lifter_nav.html`). Http404 and PermissionDenied as `lifter_for`."""
    person = person_of(request)
    lifter = lifter_for(person, key, right)
    rights = rights_for(person, lifter)
    today = today_of(person, timezone.now())
    start = block_start_on(lifter, today)
    here = request.resolver_match.url_name if request.resolver_match else None
    return {
        "lifter": lifter,
        "rights": rights,
        "today": today,
        "nav": [
            {"words": way.words, "address": address, "here": here in (way.address, *way.under)}
            for way in WAYS
            if way.right in rights and (address := _address(way, key, start))
        ],
    }


def _address(way: Way, key: UUID, start: date | None) -> str | None:
    """None for a page that is not there (yet), or that needs a block where there is none."""
    if way.of_block and start is None:
        return None
    try:
        return reverse(
            way.address, args=[key, start.isoformat()] if way.of_block and start else [key]
        )
    except NoReverseMatch:
        return None
