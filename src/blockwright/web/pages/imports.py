"""A coach's own spreadsheets: what was understood, one button to store it, and to take it back."""

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.engine.errors import BlockwrightError
from blockwright.verbs.import_batches import (
    PERSON,
    answer,
    batch_of,
    batches_of,
    drop,
    forget_old_files,
    preview,
    store_batch,
    take_back,
    waits,
)
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.notes import keep_notes, notes_for
from blockwright.web.person import person_of

ROWS_SHOWN = 200
SKIPPED_SHOWN = 100


@require_http_methods(["GET", "HEAD", "POST"])
def imports(request: HttpRequest, key: UUID) -> HttpResponse:
    """All imports of a lifter; each can be taken back whole."""
    frame = lifter_frame(request, key, "change")
    row = frame["lifter"]
    forget_old_files(timezone.now())
    problems: Any = ()
    if request.method == "POST":
        try:
            batch = batch_of(row, _key(request.POST.get("batch", "")))
            count = take_back(person_of(request), row, batch, timezone.now())
            keep_notes(request, key, [f"Taken back: {count} sets and check-ins."])
            return redirect("imports", key=key)
        except BlockwrightError as error:
            problems = error.problems
    page = {"batches": batches_of(row), "problems": problems, "notes": notes_for(request, key)}
    return render(request, "web/imports.html", frame | page, status=409 if problems else 200)


@require_http_methods(["GET", "HEAD", "POST"])
def one(request: HttpRequest, key: UUID, batch: UUID) -> HttpResponse:
    """One import that waits: its preview, its questions, and the button that stores it."""
    frame = lifter_frame(request, key, "change")
    row = frame["lifter"]
    forget_old_files(timezone.now())
    held = batch_of(row, batch)
    if not waits(held):
        return redirect("imports", key=key)
    problems: Any = ()
    if request.method == "POST":
        try:
            return _decided(request, row, held)
        except BlockwrightError as error:
            problems = error.problems
    found = preview(held)
    page = {
        "batch": held,
        "found": found,
        "rows": found.rows[:ROWS_SHOWN],
        "doubtful": [line for line in found.rows if line.doubt],
        "checkins": found.measured[:ROWS_SHOWN],
        "more_rows": max(0, len(found.rows or found.checkins) - ROWS_SHOWN),
        "skipped": found.draft.skipped[:SKIPPED_SHOWN],
        "more_skipped": max(0, len(found.draft.skipped) - SKIPPED_SHOWN),
        "problems": problems,
    }
    return render(request, "web/import.html", frame | page, status=422 if problems else 200)


def _decided(request: HttpRequest, row: Any, held: Any) -> HttpResponse:
    """Carries out the button that was pressed; answers count with every one but "forget"."""
    action = request.POST.get("do", "")
    if action == "forget":
        drop(held)
        keep_notes(request, row.key, ["Nothing was stored, and the files are forgotten."])
        return redirect("lifter", key=row.key)
    found = preview(held)
    asked = {question.id for question in found.draft.questions}
    given = {name: text for name in {*asked, PERSON} if (text := request.POST.get(name))}
    answer(held, given)
    if action != "store":
        return redirect("import", key=row.key, batch=held.key)
    count = store_batch(person_of(request), row, held, timezone.now())
    kind = "check-ins" if found.checkins else "sets"
    keep_notes(request, row.key, [f"Stored: {count} new {kind}. Imports can be taken back whole."])
    return redirect("lifter", key=row.key)


def _key(text: str) -> UUID:
    try:
        return UUID(text)
    except ValueError:
        return UUID(int=0)
