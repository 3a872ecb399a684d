"""One lifter: sessions, files in and out, who has access."""

from uuid import UUID

from django import forms
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from blockwright.actions.erase_lifter import erase_lifter
from blockwright.actions.export_lifter import export_lifter
from blockwright.actions.import_files import Given, import_files, new_lifter
from blockwright.actions.lifter_page import lifter_page
from blockwright.engine.errors import BadInput, BlockwrightError, Problem
from blockwright.store.access import lifter_for
from blockwright.web.person import person_of

MOST_FILE_BYTES = 8 * 1024 * 1024
"""A log of twenty years is about 4 MB."""


@require_safe
def lifter(request: HttpRequest, key: UUID) -> HttpResponse:
    person = person_of(request)
    row = lifter_for(person, key, "see")
    return render(request, "web/lifter.html", lifter_page(person, row, timezone.now()))


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """A new lifter from files: the lifter file first, logs beside it if there are any."""
    person = person_of(request)
    if not person.may_add_lifters:
        raise PermissionDenied
    problems: list[Problem] = []
    if request.method == "POST":
        try:
            row = new_lifter(person, _given(request), timezone.now())
        except BlockwrightError as error:
            problems += error.problems
        else:
            return redirect("lifter", key=row.key)
    status = 422 if problems else 200
    return render(request, "web/new_lifter.html", {"problems": problems}, status=status)


@require_POST
def add_files(request: HttpRequest, key: UUID) -> HttpResponse:
    """More files for a lifter: a changed lifter file, logs, check-ins, blocks."""
    person = person_of(request)
    row = lifter_for(person, key, "change")
    try:
        taken = import_files(person, row, _given(request), timezone.now())
    except BlockwrightError as error:
        page = lifter_page(person, row, timezone.now())
        page |= {"problems": error.problems}
        return render(request, "web/lifter.html", page, status=422)
    page = lifter_page(person, row, timezone.now()) | {"taken": taken}
    return render(request, "web/lifter.html", page)


def _given(request: HttpRequest) -> list[Given]:
    """The uploaded files; BadInput for none or one that is too large."""
    found: list[Given] = []
    problems: list[Problem] = []
    for upload in request.FILES.getlist("files"):
        assert isinstance(upload, UploadedFile)
        name = str(upload.name)
        if upload.size is None or upload.size > MOST_FILE_BYTES:
            says = f"is larger than {MOST_FILE_BYTES // 2**20} MB"
            problems.append(Problem(file=name, says=says, mend="send a part at a time"))
        else:
            found.append(Given(name=name, content=upload.read()))
    if not found and not problems:
        problems.append(Problem(says="no file was chosen", mend="choose one or more"))
    if problems:
        raise BadInput(problems)
    return found


@require_safe
def export(request: HttpRequest, key: UUID) -> HttpResponse:
    """Everything about one lifter: the command line's files and the whole JSON, zipped."""
    row = lifter_for(person_of(request), key, "export")
    answer = HttpResponse(export_lifter(row), content_type="application/zip")
    answer["Content-Disposition"] = f'attachment; filename="blockwright-{row.key}.zip"'
    answer["Cache-Control"] = "private, no-store"
    return answer


class EraseForm(forms.Form):
    name = forms.CharField(max_length=200)


@require_http_methods(["GET", "HEAD", "POST"])
def erase(request: HttpRequest, key: UUID) -> HttpResponse:
    """Erases a lifter for good, once their name has been typed."""
    row = lifter_for(person_of(request), key, "change")
    form = EraseForm(request.POST or None)
    wrong = False
    if request.method == "POST" and form.is_valid():
        if form.cleaned_data["name"].strip() == row.name:
            erase_lifter(row)
            return redirect("home")
        wrong = True
    return render(
        request, "web/erase.html", {"lifter": row, "wrong": wrong}, status=422 if wrong else 200
    )
