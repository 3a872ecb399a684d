"""A block's report as a page, and as a PDF."""

from datetime import date
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.sheets.report_pdf import report_pdf
from blockwright.sheets.report_plots import DESK
from blockwright.sheets.report_words import report_page
from blockwright.verbs.report_lifter import report_lifter
from blockwright.web.lifter_frame import lifter_frame


@require_safe
def report(request: HttpRequest, key: UUID, start: str) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    document = _document(frame, start)
    page = {
        "start": date.fromisoformat(start),
        "report": None if document is None else report_page(document, DESK),
    }
    return render(request, "web/report.html", frame | page)


@require_safe
def report_paper(request: HttpRequest, key: UUID, start: str) -> HttpResponse:
    """The report on A4, or on Letter with ?paper=letter."""
    frame = lifter_frame(request, key, "read")
    document = _document(frame, start)
    if document is None:
        raise Http404("nothing to report yet")
    letter = request.GET.get("paper") == "letter"
    answer = HttpResponse(
        report_pdf(document, "letter" if letter else "a4"), content_type="application/pdf"
    )
    answer["Content-Disposition"] = f'attachment; filename="report-{start}.pdf"'
    answer["Cache-Control"] = "private, no-store"
    return answer


def _document(frame: dict[str, Any], start: str) -> dict[str, Any] | None:
    try:
        day = date.fromisoformat(start)
    except ValueError as error:
        raise Http404("no such block") from error
    return report_lifter(frame["lifter"], day, frame["today"])
