"""The first page: the roster of a coach, in the order of who needs them; for somebody who trains,
their next session."""

from contextlib import suppress

from django.db import OperationalError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from blockwright.store.access import person_of
from blockwright.verbs.import_batches import forget_old_files
from blockwright.verbs.invitations import open_invitations
from blockwright.verbs.phone_home import own_home, today_of
from blockwright.verbs.roster import roster

FILTER_FROM = 12  # People from which on a search by name is offered


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    now = timezone.now()
    today = today_of(person, now)
    found = None
    if person.may_add_lifters:
        with suppress(OperationalError), transaction.atomic():  # On a full disk
            forget_old_files(now)
        found = roster(person, today)
    lines = found.lines if found is not None else ()
    name = request.GET.get("name", "").strip()[:200]
    shown = {
        "person": person,
        "today": today,
        "own": own_home(person, today),
        "roster": found,
        "invitations": [one for one in open_invitations(person, now) if one.lifter is None],
        "name": name,
        "lines": [line for line in lines if name.casefold() in line.lifter.name.casefold()],
        "offer_filter": len(lines) >= FILTER_FROM,
    }
    return render(request, "web/home.html", shown)
