"""Every revision of a block: who made it, what it changed, what it looked like, the way back."""

from itertools import pairwise
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from blockwright.store.access import Right
from blockwright.store.blocks import block_of, revision_of, revisions_of
from blockwright.verbs.block_page import block_page
from blockwright.verbs.edit_block import GoBack, changes_between
from blockwright.verbs.margin_notes import margin_notes
from blockwright.verbs.stored_case import stored_block
from blockwright.verbs.stored_values import block_value
from blockwright.web.addresses import day_of, number_of
from blockwright.web.block_change_form import answered
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.pages.block import shown


@require_safe
def block_revisions(request: HttpRequest, key: UUID, start: str) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    rows = [row for row in revisions_of(frame["lifter"]) if row.start == day_of(start)]
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
def block_revision(request: HttpRequest, key: UUID, start: str, revision: int) -> HttpResponse:
    """An earlier revision, read only; posting goes back to it where no week has begun."""
    right: Right = "change" if request.method == "POST" else "read"
    frame = lifter_frame(request, key, right)
    there = revision_of(frame["lifter"], day_of(start), number_of(revision))
    latest = block_of(frame["lifter"], day_of(start))
    if there is None or latest is None:
        raise Http404("no such revision")
    stored = stored_block(frame["lifter"], there, frame["today"])
    page = block_page(stored, read_only=True)
    told = frame | shown(request, frame, there, page) | {"latest": latest}
    if request.method == "POST":
        return answered(request, told, there.start, GoBack(revision), "web/block_revision.html")
    return render(request, "web/block_revision.html", told)
