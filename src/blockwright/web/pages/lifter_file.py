"""The lifter file as a form: a new lifter, and everything about one who is there."""

from collections.abc import Iterable, Mapping
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.accounts.models import User
from blockwright.engine.errors import BlockwrightError, Problem
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.verbs.import_files import new_lifter
from blockwright.verbs.lifter_page import screened
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.save_lifter import ChangedMeanwhile, Saved, add_lifter, change_lifter
from blockwright.verbs.stored_values import load_lifter
from blockwright.web.lifter_form.shown import (
    blank_form,
    differences,
    judged,
    label_of,
    said,
    shown,
    turned,
    typed_in,
    without_origin,
)
from blockwright.web.lifter_form.typed import compacted, typed_from
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import given_files, keep_notes, person_of

Page = dict[str, Any]


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """A new lifter, by the form or from files."""
    person = person_of(request)
    if not person.may_add_lifters:
        raise PermissionDenied
    page: Page = {"may_change": True, **_lists()}
    if request.method != "POST":
        return _drawn(request, page, form=_blank(person))
    if "from_files" in request.POST or request.FILES:
        return _from_files(request, page)
    return _answer(request, page, {}, lambda table: add_lifter(person, table))


@require_http_methods(["GET", "HEAD", "POST"])
def lifter_file(request: HttpRequest, key: UUID) -> HttpResponse:
    """The stored file to read; who may change the lifter may change it here."""
    frame = lifter_frame(request, key, "export")
    row = frame["lifter"]
    known = load_lifter(row)
    page: Page = {
        **frame,
        "may_change": "change" in frame["rights"],
        "screened": screened(known.value, known.policy, frame["today"]),
        "version": row.version,
        **_lists(),
    }
    if request.method != "POST":
        return _drawn(request, page, form=shown(typed_from(row.document)))
    if not page["may_change"]:
        raise PermissionDenied
    version = _whole(request.POST.get("version", ""))
    page["version"] = version
    person, today = person_of(request), frame["today"]
    return _answer(
        request,
        page,
        row.document,
        lambda table: change_lifter(person, row, version, table, today),
    )


def _answer(request: HttpRequest, page: Page, base: Mapping[str, Any], save: Any) -> HttpResponse:
    """Rows more or fewer, what is wrong, what differs, or the way on to the lifter's page."""
    typed = typed_in(request.POST)
    after_turn = turned(request.POST, typed)
    if after_turn is not None:
        return _drawn(request, page, form=shown(after_turn[0], turn=after_turn[1]))
    typed = compacted(typed)
    made, problems = judged(typed, base)
    if problems:
        return _drawn(request, page, 422, form=shown(typed, problems, made.places))
    try:
        saved: Saved = save(made.table)
    except ChangedMeanwhile:
        return _stale(request, page, typed)
    except BlockwrightError as error:
        return _drawn(request, page, 422, form=shown(typed, error.problems, made.places))
    keep_notes(request, saved.row.key, ["The lifter file is saved.", *_notes(saved.warnings)])
    return redirect("compose" if "compose" in request.POST else "lifter", key=saved.row.key)


def _stale(request: HttpRequest, page: Page, typed: dict[str, list[str]]) -> HttpResponse:
    """Nothing is overwritten: what differs is shown, and saving again is a choice."""
    row = page["lifter"]
    row.refresh_from_db()
    page |= {"version": row.version, "differences": differences(typed, row.document)}
    return _drawn(request, page, 409, form=shown(without_origin(typed)), stale=True)


def _from_files(request: HttpRequest, page: Page) -> HttpResponse:
    person = person_of(request)
    try:
        row = new_lifter(person, given_files(request), timezone.now())
    except BlockwrightError as error:
        page |= {"problems": error.problems}
        return _drawn(request, page, 422, form=_blank(person))
    return redirect("lifter", key=row.key)


def _blank(person: User) -> Any:
    return shown(blank_form(person.units, today_of(person, timezone.now())))


def _drawn(request: HttpRequest, page: Page, status: int = 200, **more: Any) -> HttpResponse:
    return render(request, "web/lifter_file.html", {**page, **more}, status=status)


def _lists() -> Page:
    """What the page suggests where a lift or a policy value is named."""
    return {
        "lift_names": sorted(builtin_catalogue().lifts),
        "policy_keys": sorted(default_policy().values),
    }


def _notes(warnings: Iterable[Problem]) -> list[str]:
    return [f"{label_of(one.key or '').capitalize()}: {said(one)}" for one in warnings]


def _whole(text: str) -> int:
    """The version that was opened; 0, which none is, for what is no number."""
    return int(text) if text.isdecimal() and len(text) < 10 else 0
