"""A lifter's weekly sets per muscle, done against planned, beside the floor and the ceiling."""

from datetime import date
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.sheets.report_plots import DESK
from blockwright.sheets.sets_words import EVIDENCE, NOTE, sets_words
from blockwright.store.blocks import block_starts
from blockwright.verbs.count_sets import count_sets
from blockwright.web.lifter_frame import lifter_frame


@require_safe
def sets(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    row = frame["lifter"]
    document = count_sets(row, _start(request.GET.get("block", "")), frame["today"])
    here = document["start"]
    page = {
        "words": sets_words(document, DESK),
        "document": document,
        "start": date.fromisoformat(here) if here else None,
        "blocks": [{"start": day, "here": day.isoformat() == here} for day in block_starts(row)],
        "note": NOTE,
        "evidence": EVIDENCE,
    }
    return render(request, "web/sets.html", frame | page)


def _start(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed) if typed else None
    except ValueError as error:
        raise Http404("no such block") from error
