"""A lifter's log at the desk: single sets and check-ins corrected or taken back."""

from datetime import date
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.engine.errors import BadInput, BlockwrightError, Problem
from blockwright.verbs.desk_log import FIELDS, correct, log_days, withdraw
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.notes import keep_notes, notes_for
from blockwright.web.person import person_of


@require_http_methods(["GET", "HEAD", "POST"])
def log(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "export")
    problems: Any = ()
    if request.method == "POST":
        try:
            keep_notes(request, key, [_said(request, frame["lifter"])])
            return redirect(request.get_full_path())
        except BlockwrightError as error:
            problems = error.problems
    days, further = log_days(frame["lifter"], _before(request.GET.get("before", "")))
    page = {
        "days": days,
        "further": further,
        "problems": problems,
        "notes": notes_for(request, key),
        "kinds": ("kg", "lb"),
    }
    return render(request, "web/log.html", frame | page, status=422 if problems else 200)


def _said(request: HttpRequest, row: Any) -> str:
    person, now = person_of(request), timezone.now()
    try:
        fact = UUID(request.POST.get("fact", ""))
    except ValueError:
        problem = Problem(says="nothing was chosen", mend="press a button of the list")
        raise BadInput(problem) from None
    if request.POST.get("do") == "withdraw":
        return withdraw(person, row, fact, now)
    typed = {name: request.POST[name] for name in FIELDS if name in request.POST}
    return correct(person, row, fact, typed, now)


def _before(typed: str) -> date | None:
    try:
        return date.fromisoformat(typed) if typed else None
    except ValueError as error:
        raise Http404("no such day") from error
