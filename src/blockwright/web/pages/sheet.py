"""A session's sheet as a page, from the same document as paper and phone."""

from datetime import date
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.engine.units import Unit
from blockwright.sheets.phrases import rests, targets
from blockwright.verbs.phone_sheet import SessionName, prepare, sheet_document
from blockwright.web.lifter_frame import lifter_frame


@require_safe
def sheet(request: HttpRequest, key: UUID, block: str, week: int, session: int) -> HttpResponse:
    frame = lifter_frame(request, key, "see")
    try:
        start = date.fromisoformat(block)
    except ValueError as error:
        raise Http404 from error
    name = SessionName(start, week, session)
    document = sheet_document(prepare(frame["lifter"], name))
    page = {
        "sheet": _worded(document),
        "day": date.fromisoformat(document["date"]),
        "start": start,
        "session": session,
    }
    return render(request, "web/sheet.html", {**frame, **page})


def _worded(document: dict[str, Any]) -> dict[str, Any]:
    """The document, each lift with its sets and its rest in the words of the paper sheet."""
    unit: Unit = document["units"]
    rest = rests(document["entries"])
    entries = [
        {**entry, "targets": list(targets(entry, unit)), "rest": rest[entry["order"]]}
        for entry in document["entries"]
    ]
    return {**document, "entries": entries}
