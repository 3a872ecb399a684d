"""The block: composed, asked for by a form and waited for here; weeks across, lifts down, done in
ink, planned in grey; its revisions."""

from datetime import date
from itertools import pairwise
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from blockwright.engine.errors import BadInput
from blockwright.store.access import Right, or_404, person_of
from blockwright.store.blocks import block_of as latest_of
from blockwright.store.blocks import (
    block_on,
    block_starts,
    last_block,
    open_search,
    revision_of,
    revisions_of,
    search_of,
)
from blockwright.verbs.block_page import block_page
from blockwright.verbs.edit_block import GoBack, changes_between
from blockwright.verbs.house_templates import MOST_NAME, save_template, templates_told
from blockwright.verbs.house_templates import drop_template as dropped
from blockwright.verbs.ledger import margin_notes
from blockwright.verbs.report_lifter import weight_page
from blockwright.verbs.search_block import (
    ComposeQuestion,
    begin_composing,
    default_start,
    settled,
    stop_search,
)
from blockwright.verbs.stored_case import StoredBlock, last_stored, stored_block
from blockwright.verbs.stored_values import block_value
from blockwright.web.lifter_form.shown import in_form
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import notes_for, typed_day
from .block_change import answered


@require_safe
def block(request: HttpRequest, key: UUID) -> HttpResponse:
    """The block in hand; where there is none yet, how to get one."""
    frame = lifter_frame(request, key, "read")
    there = block_on(frame["lifter"], frame["today"])
    if there is None:
        return render(request, "web/block_none.html", frame)
    return redirect("block_of", key=key, start=there.start)


@require_safe
def block_of(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    return _answer(request, frame, _stored(frame, start), {})


@require_POST
def keep_template(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    stored = _stored(frame, start)
    name = request.POST.get("name", "")
    try:
        made = save_template(person_of(request), stored, name)
    except BadInput as error:
        more = {"template_problems": error.problems, "template_name": name[:100]}
        return _answer(request, frame, stored, more, status=422)
    answer = redirect("block_of", key=key, start=stored.block.start)
    answer["Location"] += f"?{urlencode({'template': made.pk})}"
    return answer


@require_POST
def drop_template(request: HttpRequest, key: UUID, template: int) -> HttpResponse:
    lifter_frame(request, key, "change")
    dropped(person_of(request), template)
    return redirect("compose", key=key)


def _stored(frame: dict[str, Any], start: date) -> StoredBlock:
    return last_stored(frame["lifter"], start, frame["today"])


def _answer(
    request: HttpRequest,
    frame: dict[str, Any],
    stored: StoredBlock,
    more: dict[str, Any],
    status: int = 200,
) -> HttpResponse:
    asked = request.GET.get("template", "")
    person, row, rights = person_of(request), frame["lifter"], frame["rights"]
    told = (one["frame"] for one in templates_told(person))
    named = next((each.name for each in told if str(each.pk) == asked), "")
    page = frame | shown(request, frame, stored.revision, block_page(stored))
    page |= {"template_kept": named if "change" in rights else ""}
    page["weight"] = weight_page(person, row, rights, frame["today"])
    return render(request, "web/block.html", page | more, status=status)


def shown(request: HttpRequest, frame: dict[str, Any], there: Any, page: Any) -> dict[str, Any]:
    """What the grid's template wants of a revision, current or not."""
    asked = request.GET.get("week", "")
    weeks = len(page.columns)
    picked = int(asked) if asked in {str(n) for n in range(1, weeks + 1)} else page.shown_week
    return {
        "revision": there,
        "page": page,
        "picked": picked,
        "others": [start for start in block_starts(frame["lifter"]) if start != there.start],
        "may_change": "change" in frame["rights"],
        "kept": request.GET.get("kept") == str(there.revision),
        "searching": open_search(frame["lifter"]) if "change" in frame["rights"] else None,
    }


@require_safe
def block_revisions(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    rows = [row for row in revisions_of(frame["lifter"]) if row.start == start]
    if not rows:
        raise Http404("no such block")
    changes = {new.pk: changes_between(old, new) for old, new in pairwise(rows)}
    notes = {row.pk: margin_notes(frame["lifter"], block_value(row)) for row in rows}
    before = {new.pk: len(notes[old.pk]) for old, new in pairwise(rows)}
    told = [
        {
            "row": row,
            "changes": changes.get(row.pk, ()),
            "notes": notes[row.pk][before.get(row.pk, 0) :],
        }
        for row in reversed(rows)
    ]
    return render(request, "web/block_revisions.html", frame | {"told": told, "revision": rows[-1]})


@require_http_methods(["GET", "HEAD", "POST"])
def block_revision(request: HttpRequest, key: UUID, start: date, revision: int) -> HttpResponse:
    """An earlier revision, read only; posting goes back to it where no week has begun."""
    right: Right = "change" if request.method == "POST" else "read"
    frame = lifter_frame(request, key, right)
    there = revision_of(frame["lifter"], start, revision)
    latest = latest_of(frame["lifter"], start)
    if there is None or latest is None:
        raise Http404("no such revision")
    stored = stored_block(frame["lifter"], there, frame["today"])
    page = block_page(stored, read_only=True)
    told = frame | shown(request, frame, there, page) | {"latest": latest}
    if request.method == "POST":
        return answered(request, told, there.start, GoBack(revision), "web/block_revision.html")
    return render(request, "web/block_revision.html", told)


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
        return render(request, TEMPLATE, frame | _compose_page(request, row, today) | notes)
    try:
        question = _question(request)
        search = begin_composing(person_of(request), row, question, today, now)
    except BadInput as error:
        was = request.POST.dict()
        if was.get("start", "") < today.isoformat():
            # What has passed is answered with the next Monday, one tap away.
            was["start"] = default_start(row, today).isoformat()
        wrong = {"problems": in_form(error.problems), "was": was}
        page = frame | _compose_page(request, row, today) | wrong
        return render(request, TEMPLATE, page, status=422)
    return redirect("composing", key=key, search=search.pk)


def _compose_page(request: HttpRequest, row: Any, today: date) -> dict[str, Any]:
    starts = block_starts(row)[::-1]
    last = last_block(row)
    return {
        "start": default_start(row, today),
        "starts": starts,
        "last": last,
        "templates": templates_told(person_of(request)),
    }


def _question(request: HttpRequest) -> ComposeQuestion:
    start = typed_day(request, "start")
    if start is None:
        raise BadInput.of("no start is given", "give a Monday", column="start")
    template = request.POST.get("template", "")[:MOST_NAME]
    return ComposeQuestion(start=start, previous=typed_day(request, "previous"), template=template)


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
    return render(request, "web/composing.html", page)


@require_POST
def stop_composing(request: HttpRequest, key: UUID, search: int) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    found = or_404(search_of(frame["lifter"], search), "search")
    stop_search(found)
    return redirect("composing", key=key, search=search)
