"""The block: weeks across, lifts down, done in ink, planned in grey."""

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from blockwright.engine.errors import BadInput
from blockwright.store.blocks import block_of as latest_of
from blockwright.store.blocks import block_on, revisions_of
from blockwright.store.composings import open_search
from blockwright.verbs.block_page import block_page
from blockwright.verbs.house_templates import drop_template as dropped
from blockwright.verbs.house_templates import save_template, templates_told
from blockwright.verbs.stored_case import StoredBlock, stored_block
from blockwright.verbs.strength_page import weight_page
from blockwright.web.addresses import day_of, number_of
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.person import person_of


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
    return _answer(request, frame, _stored(frame, start), {})


@require_POST
def keep_template(request: HttpRequest, key: UUID, start: str) -> HttpResponse:
    """Keeps the block's frame under a name, as the house's template."""
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
    """Takes a template off the house's list; blocks made from it stay."""
    lifter_frame(request, key, "change")
    dropped(number_of(template))
    return redirect("compose", key=key)


def _stored(frame: dict[str, Any], start: str) -> StoredBlock:
    there = latest_of(frame["lifter"], day_of(start))
    if there is None:
        raise Http404("no such block")
    return stored_block(frame["lifter"], there, frame["today"])


def _answer(
    request: HttpRequest,
    frame: dict[str, Any],
    stored: StoredBlock,
    more: dict[str, Any],
    status: int = 200,
) -> HttpResponse:
    asked = request.GET.get("template", "")
    named = next(
        (one["frame"].name for one in templates_told() if str(one["frame"].pk) == asked), ""
    )
    page = frame | shown(request, frame, stored.revision, block_page(stored))
    page |= {"template_kept": named if "change" in frame["rights"] else ""}
    person, row, rights = person_of(request), frame["lifter"], frame["rights"]
    page["weight"] = weight_page(person, row, rights, frame["today"])
    return render(request, "web/block.html", page | more, status=status)


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
