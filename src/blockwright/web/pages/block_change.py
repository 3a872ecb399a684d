"""One lift of a block: sets, another session, another lift, a pin. Shown before it is kept."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from blockwright.engine.editing import (
    Edit,
    MoveLift,
    PinLift,
    Place,
    SetCount,
    SwapLift,
    UnpinLift,
    entry_at,
    most_sets_named,
    pins_by_lift,
    session_at,
    swap_candidates,
)
from blockwright.engine.errors import BadInput
from blockwright.files.words import caution_says
from blockwright.store.blocks import block_of
from blockwright.verbs.block_words import pin_text, planned_lines
from blockwright.verbs.stored_case import StoredBlock, stored_block
from blockwright.web.addresses import day_of
from blockwright.web.block_change_form import answered, whole
from blockwright.web.lifter_frame import lifter_frame

TEMPLATE = "web/block_change.html"


@require_http_methods(["GET", "HEAD", "POST"])
def change_lift(
    request: HttpRequest, key: UUID, start: str, week: int, session: int, entry: int
) -> HttpResponse:
    """The forms for one entry of the block."""
    frame = lifter_frame(request, key, "change")
    there = block_of(frame["lifter"], day_of(start))
    if there is None:
        raise Http404("no such block")
    stored = stored_block(frame["lifter"], there, frame["today"])
    lift = _lift_at(stored, week, session, entry)
    if request.method == "POST":
        # A form from an older revision names its own lift; the number may be another's by now.
        lift = request.POST.get("lift", lift or "")
    if lift is None:
        raise Http404("no such entry")
    place = Place(week=week, session=session, lift=lift)
    page = frame | _page(stored, place)
    if request.method == "POST":
        return answered(request, page, there.start, _edit(request, place), TEMPLATE)
    if page.get("entry") is None:
        raise Http404("no such entry")
    return render(request, TEMPLATE, page)


def _lift_at(stored: StoredBlock, week: int, session: int, order: int) -> str | None:
    try:
        _, found = session_at(stored.block, week, session)
    except BadInput:
        return None
    return next((e.lift for e in found.entries if e.order == order), None)


def _edit(request: HttpRequest, place: Place) -> Edit:
    only = request.POST.get("weeks") == "only"
    match request.POST.get("edit"):
        case "move":
            to = whole(request, "to_session")
            return MoveLift(place=place, to_session=to, only_this_week=only)
        case "swap":
            other = request.POST.get("other", "")
            return SwapLift(place=place, other=other, only_this_week=only)
        case "pin":
            return PinLift(place=place)
        case "unpin":
            return UnpinLift(place=place)
        case _:
            return SetCount(place=place, sets=whole(request, "sets"), only_this_week=only)


def _page(stored: StoredBlock, place: Place) -> dict[str, Any]:
    """What the forms are filled with; little where the entry is not there (any more)."""
    page: dict[str, Any] = {"revision": stored.revision, "place": place, "entry": None}
    try:
        week, session, entry = entry_at(stored.block, place)
    except BadInput:
        return page
    lifter = stored.block.lifter
    pin = pins_by_lift(lifter, stored.catalogue).get(place.lift)
    same, others = swap_candidates(stored.block, place, stored.catalogue, stored.policy)
    return page | {
        "entry": entry,
        "week": week,
        "session": session,
        "lines": (),
        "planned": ", ".join(
            planned_lines(entry, week, stored.catalogue.find(entry.lift), lifter.units)
        ),
        "sessions": [
            other
            for other in week.sessions
            if other.session != session.session and not stored.closed.session(other)
        ],
        "same": same,
        "others": others,
        "pinned": pin is not None,
        "pin_days": "" if pin is None else pin_text(pin),
        "cautions": [caution_says(caution) for caution in stored.block.cautions],
        "most_sets": most_sets_named(entry, stored.policy),
        "builds": [w.week for w in stored.block.weeks if w.kind == "build"],
        "weeks_open": [
            (other.week, found.order)
            for other in stored.block.weeks
            if other.kind == "build"
            for planned in other.sessions
            if planned.session == session.session and not stored.closed.session(planned)
            for found in planned.entries
            if found.lift == place.lift
        ],
    }
