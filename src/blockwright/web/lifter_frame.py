"""What every page of one lifter carries: who it is, what this person may do, the way on."""

from datetime import date
from typing import Any, NamedTuple
from uuid import UUID

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from blockwright.store.access import Right, lifter_for, person_of, rights_for
from blockwright.store.blocks import start_on
from blockwright.verbs.phone_home import today_of


class Way(NamedTuple):
    """One page of the lifter's navigation: the right it needs, and the pages that lie under it."""

    words: str
    address: str
    right: Right
    under: tuple[str, ...] = ()
    of_block: bool = False  # Whether its address ends in the start of a block
    is_first: bool = False  # Whether it stands in the line on a phone; the others wait under "More"


WAYS = (
    Way("Sheets", "lifter", "see", ("sheet", "imports", "import", "log"), is_first=True),
    Way("Block", "block", "read", (
        "block_of", "compose", "composing", "change_lift", "block_session", "block_rest",
        "block_revisions", "block_revision",
    ), is_first=True),
    Way("Review", "review", "read", ("letter",), is_first=True),
    Way("Strength", "strength", "read"),
    Way("Sets", "sets", "read"),
    Way("Ledger", "ledger", "read"),
    Way("Report", "report", "read", of_block=True),
    Way("Lifter file", "lifter_file", "export"),
)  # fmt: skip


def lifter_frame(request: HttpRequest, key: UUID, right: Right) -> dict[str, Any]:
    """For the template: `lifter` (the row), `rights`, `today` (where the person is) and `nav`
    (for `web/lifter_nav.html`). Http404 and PermissionDenied as `lifter_for`."""
    person = person_of(request)
    lifter = lifter_for(person, key, right)
    rights = rights_for(person, lifter)
    today = today_of(person, timezone.now())
    start = start_on(lifter, today)
    here = request.resolver_match.url_name if request.resolver_match else None
    return {
        "lifter": lifter,
        "rights": rights,
        "today": today,
        "nav": _nav(key, rights, start, here),
    }


def _nav(
    key: UUID, rights: frozenset[Right], start: date | None, here: str | None
) -> dict[str, Any]:
    """The pages this person may open, in the line and under "More"."""
    first: list[dict[str, Any]] = []
    more: list[dict[str, Any]] = []
    for way in WAYS:
        address = _address(way, key, start) if way.right in rights else None
        if address is not None:
            shown = {
                "words": way.words,
                "address": address,
                "here": here in (way.address, *way.under),
            }
            (first if way.is_first else more).append(shown)
    return {"first": first, "more": more, "here_in_more": any(one["here"] for one in more)}


def _address(way: Way, key: UUID, start: date | None) -> str | None:
    """None for a page that needs a block where there is none."""
    if not way.of_block:
        return reverse(way.address, args=[key])
    return None if start is None else reverse(way.address, args=[key, start.isoformat()])
