"""Composing a block: asked for by a form, searched for elsewhere, waited for here."""

from datetime import date
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from blockwright.engine.errors import BadInput, Problem
from blockwright.store.access import or_404
from blockwright.store.blocks import last_block, open_search, revisions_of, search_of
from blockwright.verbs.house_templates import MOST_NAME, templates_told
from blockwright.verbs.search_block import (
    ComposeQuestion,
    begin_composing,
    default_start,
    settled,
    stop_search,
)
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import notes_for, person_of

TEMPLATE = "web/compose.html"


@require_http_methods(["GET", "HEAD", "POST"])
def compose(request: HttpRequest, key: UUID) -> HttpResponse:
    """The form: from which Monday, and after which block."""
    frame = lifter_frame(request, key, "change")
    row, today, now = frame["lifter"], frame["today"], timezone.now()
    going = settled(open_search(row), now)
    if request.method != "POST":
        if going is not None:
            return redirect("composing", key=key, search=going.pk)
        notes = {"notes": notes_for(request, key)}
        return render(request, TEMPLATE, frame | _page(row, today) | notes)
    try:
        question = _question(request)
        search = begin_composing(person_of(request), row, question, today, now)
    except BadInput as error:
        was = request.POST.dict()
        if was.get("start", "") < today.isoformat():
            # What has passed is answered with the next Monday, one tap away.
            was["start"] = default_start(row, today).isoformat()
        page = frame | _page(row, today) | {"problems": error.problems, "was": was}
        return render(request, TEMPLATE, page, status=422)
    return redirect("composing", key=key, search=search.pk)


def _page(row: Any, today: date) -> dict[str, Any]:
    starts = sorted({revision.start for revision in revisions_of(row)}, reverse=True)
    last = last_block(row)
    return {
        "start": default_start(row, today),
        "starts": starts,
        "last": last,
        "templates": templates_told(),
    }


def _question(request: HttpRequest) -> ComposeQuestion:
    problems = []
    days: dict[str, date | None] = {}
    for name in ("start", "previous"):
        text = request.POST.get(name, "")
        try:
            days[name] = date.fromisoformat(text) if text else None
        except ValueError:
            mend = "write it as 2027-01-04"
            problems.append(Problem(column=name, says=f"{text[:40]!r} is no date", mend=mend))
    start = days.get("start")
    if start is None and not problems:
        problems.append(Problem(column="start", says="no start is given", mend="give a Monday"))
    if problems or start is None:
        raise BadInput(problems)
    return ComposeQuestion(
        start=start,
        previous=days.get("previous"),
        template=request.POST.get("template", "")[:MOST_NAME],
    )


@require_safe
def composing(request: HttpRequest, key: UUID, search: int) -> HttpResponse:
    """What a search is at, or how it ended."""
    frame = lifter_frame(request, key, "change")
    found = or_404(search_of(frame["lifter"], search), "search")
    if settled(found, timezone.now()) is None:
        found.refresh_from_db()
    if found.state == "made":
        if found.kind == "rest":
            return redirect("block_rest", key=key, start=found.start)
        return redirect("block_of", key=key, start=found.start)
    page = frame | {"search": found, "open": found.state in found.OPEN}
    answer = render(request, "web/composing.html", page)
    answer["Cache-Control"] = "no-store"
    return answer


@require_POST
def stop_composing(request: HttpRequest, key: UUID, search: int) -> HttpResponse:
    """Ends a search that is not wanted any more."""
    frame = lifter_frame(request, key, "change")
    found = or_404(search_of(frame["lifter"], search), "search")
    stop_search(found)
    return redirect("composing", key=key, search=search)
