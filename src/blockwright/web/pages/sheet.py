"""A session's sheet as a page and on paper, from the same document as the phone's."""

from datetime import date
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.engine.day_sheet import Partner
from blockwright.engine.units import Unit
from blockwright.sheets.pdf import Paper, sheets_pdf
from blockwright.sheets.phrases import rests, shared_bar_sentence, targets
from blockwright.verbs.coming_session import trains_beside
from blockwright.verbs.phone_sheet import SessionName, prepare, sheet_document
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import person_of


@require_safe
def sheet(request: HttpRequest, key: UUID, block: date, week: int, session: int) -> HttpResponse:
    frame = lifter_frame(request, key, "see")
    prepared = prepare(frame["lifter"], SessionName(block, week, session))
    day = prepared.chosen.session.day
    asked, paper = request.GET.get("with"), request.GET.get("paper")
    others = [] if asked is None else list(trains_beside(person_of(request), frame["lifter"], day))
    other = next((one for one in others if str(one.lifter.key) == asked), None)
    partner = None if other is None else Partner(other.lifter.name, other.planned.session)
    document = sheet_document(prepared, partner)
    if paper:
        return _printed(document, "letter" if paper == "letter" else "a4")
    page = {
        "sheet": _worded(document),
        "day": day,
        "start": block,
        "session": session,
        "asked": asked is not None,
        "others": others,
        "other": other,
    }
    return render(request, "web/sheet.html", {**frame, **page})


def _printed(document: dict[str, Any], paper: Paper) -> HttpResponse:
    """The one page to write on, `?paper=a4` or `letter`."""
    answer = HttpResponse(sheets_pdf([document], paper), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="sheet-{document["date"]}.pdf"'
    answer["Cache-Control"] = "private, no-store"
    return answer


def _worded(document: dict[str, Any]) -> dict[str, Any]:
    """The document, each lift with its sets and its rest in the words of the paper sheet."""
    unit: Unit = document["units"]
    rest = rests(document["entries"])
    entries = [
        {
            **entry,
            "targets": list(targets(entry, unit)),
            "rest": rest[entry["order"]],
            "shared": entry["shared_bar"] and shared_bar_sentence(entry["shared_bar"], unit),
        }
        for entry in document["entries"]
    ]
    return {**document, "entries": entries}
