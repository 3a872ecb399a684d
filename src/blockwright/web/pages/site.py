"""The owner's page of the site itself: its archive, and who came from one and has no password."""

from tempfile import TemporaryFile

from django.core.exceptions import PermissionDenied
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from blockwright.verbs.archive_site import write_archive
from blockwright.verbs.invitations import invite_back, without_password
from blockwright.web.pages.invite import shown_link
from blockwright.web.person import person_of


def _require_owner(request: HttpRequest) -> None:
    if not person_of(request).is_owner:
        raise PermissionDenied


@require_safe
def site(request: HttpRequest) -> HttpResponse:
    _require_owner(request)
    return render(request, "web/site.html", {"people": without_password()})


@require_safe
def archive(request: HttpRequest) -> FileResponse:
    """Everything, in one file; written to disk first, since it may be large."""
    _require_owner(request)
    file = TemporaryFile()  # noqa: SIM115 (the answer closes it)
    write_archive(file)
    file.seek(0)
    answer = FileResponse(file, as_attachment=True, filename="blockwright-archive.zip")
    answer["Cache-Control"] = "private, no-store"
    return answer


@require_POST
def person_link(request: HttpRequest, person: int) -> HttpResponse:
    token, whom = invite_back(person_of(request), person, timezone.now())
    return shown_link(request, token, whom.name)
