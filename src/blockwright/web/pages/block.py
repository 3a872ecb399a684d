"""The block: weeks across, lifts down, done in ink, planned in grey."""

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from blockwright.store.blocks import block_of as latest_of
from blockwright.store.blocks import block_on, revisions_of
from blockwright.store.composings import open_search
from blockwright.verbs.block_page import block_page
from blockwright.verbs.block_setting import stored_block
from blockwright.web.addresses import day_of
from blockwright.web.lifter_frame import lifter_frame


@require_safe
def block(request: HttpRequest, key: UUID) -> HttpResponse:
    """The block in hand; where there is none yet, how to get one."""
    frame = lifter_frame(request, key, "read")
    there = block_on(frame["lifter"], frame["today"])
    if there is None:
        return render(request, "web/block_none.html", frame)
    return redirect("block_of", key=key, start=there.start)


@require_safe
def block_of(request: HttpRequest, key: UUID, start: str) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    there = latest_of(frame["lifter"], day_of(start))
    if there is None:
        raise Http404("no such block")
    stored = stored_block(frame["lifter"], there, frame["today"])
    page = block_page(stored)
    return render(request, "web/block.html", frame | shown(request, frame, there, page))


def shown(request: HttpRequest, frame: dict[str, Any], there: Any, page: Any) -> dict[str, Any]:
    """What the grid's template wants of a revision, current or not."""
    asked = request.GET.get("week", "")
    weeks = len(page.columns)
    picked = int(asked) if asked in {str(n) for n in range(1, weeks + 1)} else page.shown_week
    starts = {row.start: row for row in revisions_of(frame["lifter"])}
    return {
        "revision": there,
        "page": page,
        "picked": picked,
        "others": [other for other in starts.values() if other.start != there.start],
        "may_change": "change" in frame["rights"],
        "kept": request.GET.get("kept") == str(there.revision),
        "searching": open_search(frame["lifter"]) if "change" in frame["rights"] else None,
    }
