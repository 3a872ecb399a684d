"""The first page: the roster of a coach, in the order of who needs them; for somebody who trains,
their next session."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from blockwright.store.access import person_of
from blockwright.verbs.import_batches import forget_old_files
from blockwright.verbs.invitations import open_invitations
from blockwright.verbs.phone_home import own_home, today_of
from blockwright.verbs.roster import Roster, roster

FILTER_FROM = 12
"""People from which on a search by name is offered."""


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    now = timezone.now()
    today = today_of(person, now)
    found = None
    if person.may_add_lifters:
        forget_old_files(now)
        found = roster(person, today)
    name = request.GET.get("name", "").strip()[:200]
    shown = {
        "person": person,
        "today": today,
        "own": own_home(person, today),
        "roster": found,
        "invitations": [one for one in open_invitations(person, now) if one.lifter is None],
        "name": name,
        "lines": [] if found is None else _named(found, name),
        "offer_filter": found is not None and len(found.lines) >= FILTER_FROM,
    }
    return render(request, "web/home.html", shown)


def _named(found: Roster, name: str) -> list[object]:
    """Those whose name holds what was typed, in the roster's order."""
    wanted = name.casefold()
    return [line for line in found.lines if wanted in line.lifter.name.casefold()]
