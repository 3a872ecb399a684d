"""The rest of a block solved anew: searched for, looked at, kept."""

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.engine.editing import first_open_week
from blockwright.engine.errors import BadInput
from blockwright.store.blocks import block_of
from blockwright.store.composings import last_search, open_search
from blockwright.verbs.block_words import pin_text
from blockwright.verbs.edit_block import TakeRest
from blockwright.verbs.search_block import begin_rest, is_waiting
from blockwright.verbs.stored_case import stored_block
from blockwright.web.addresses import day_of
from blockwright.web.block_change_form import answered, whole
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.person import person_of

TEMPLATE = "web/block_rest.html"


@require_http_methods(["GET", "HEAD", "POST"])
def block_rest(request: HttpRequest, key: UUID, start: str) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    row, today = frame["lifter"], frame["today"]
    there = block_of(row, day_of(start))
    if there is None:
        raise Http404("no such block")
    stored = stored_block(row, there, today)
    found = last_search(row, "rest", there.start)
    made = found if found is not None and is_waiting(found, there) else None
    page = frame | {
        "revision": there,
        "first_open": first_open_week(stored.block, stored.closed),
        "pins": [(pin.lift, pin_text(pin)) for pin in stored.block.lifter.pins],
        "made": made,
        "searching": open_search(row),
    }
    if request.method != "POST":
        return render(request, TEMPLATE, page)
    if request.POST.get("step") in ("show", "keep"):
        return answered(request, page, there.start, TakeRest(whole(request, "search")), TEMPLATE)
    try:
        search = begin_rest(
            person_of(request),
            row,
            there.start,
            whole(request, "revision"),
            today,
            timezone.now(),
            other_lifts=request.POST.get("other_lifts") == "yes",
        )
    except BadInput as error:
        return render(request, TEMPLATE, page | {"problems": error.problems}, status=422)
    return redirect("composing", key=key, search=search.pk)
