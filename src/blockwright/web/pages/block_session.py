"""What comes in between: a session short of time, missed, without a lift, with something sore."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods

from blockwright.engine.editing import session_at
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.trouble import Trouble
from blockwright.engine.training import MUSCLES, REGIONS, Session
from blockwright.files.words import caution_says
from blockwright.store.blocks import block_of
from blockwright.verbs.stored_case import StoredBlock, stored_block
from blockwright.web.addresses import day_of
from blockwright.web.block_change_form import answered, whole
from blockwright.web.lifter_frame import lifter_frame

TEMPLATE = "web/block_session.html"


@require_http_methods(["GET", "HEAD", "POST"])
def block_session(
    request: HttpRequest, key: UUID, start: str, week: int, session: int
) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    there = block_of(frame["lifter"], day_of(start))
    if there is None:
        raise Http404("no such block")
    stored = stored_block(frame["lifter"], there, frame["today"])
    try:
        _, found = session_at(stored.block, week, session)
    except BadInput as error:
        raise Http404("no such session") from error
    page = frame | _page(stored, week, found)
    if request.method != "POST":
        return render(request, TEMPLATE, page)
    try:
        trouble = _trouble(request, week, found)
    except BadInput as error:
        return render(request, TEMPLATE, page | {"problems": error.problems}, status=422)
    return answered(request, page, there.start, trouble, TEMPLATE)


def _trouble(request: HttpRequest, week: int, session: Session) -> Trouble:
    """What was posted; BadInput names the field that is missing."""
    lifts = tuple(name for name in request.POST.getlist("without"))
    hurts = tuple(name for name in request.POST.getlist("hurts"))
    sore = tuple(name for name in request.POST.getlist("sore") if name in MUSCLES)
    minutes = whole(request, "minutes")
    problem = None
    match request.POST.get("edit"):
        case "missed":
            return Trouble(week=week, session=session.session, missed=True)
        case "without" if lifts:
            return Trouble(week=week, session=session.session, without=lifts)
        case "hurts" if hurts:
            place = request.POST.get("region", "")
            region = place if place in REGIONS else ""
            return Trouble(week=week, session=session.session, hurts=hurts, region=region)
        case "sore" if sore:
            return Trouble(week=week, session=session.session, sore=sore)
        case "minutes" if minutes:
            return Trouble(week=week, session=session.session, minutes=minutes)
        case "hurts":
            problem = Problem(column="hurts", says="no lift is ticked", mend="tick one or more")
        case "without":
            problem = Problem(column="without", says="no lift is ticked", mend="tick one or more")
        case "sore":
            problem = Problem(column="sore", says="no muscle is ticked", mend="tick one or more")
        case _:
            problem = Problem(column="minutes", says="no minutes are given", mend="give a number")
    raise BadInput(problem)


def _page(stored: StoredBlock, week: int, session: Session) -> dict[str, Any]:
    trained = {
        muscle
        for entry in session.entries
        if (lift := stored.catalogue.find(entry.lift)) is not None
        for muscle in lift.direct
    }
    return {
        "revision": stored.revision,
        "week_number": week,
        "session": session,
        "muscles": [(name, name.replace("_", " ")) for name in MUSCLES if name in trained],
        "regions": [(name, name.replace("_", " ")) for name in REGIONS],
        "cautions": [caution_says(caution) for caution in stored.block.cautions],
        "over": session.day in stored.closed.trained,
        "past": session.day < stored.today,
    }
