"""Invitations: a link shown once, with a code a phone can read."""

from tempfile import TemporaryFile
from uuid import UUID

import segno
from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_POST, require_safe

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput
from blockwright.store.access import lifter_for, person_of
from blockwright.verbs.archive_site import write_archive
from blockwright.verbs.invitations import (
    LEAST,
    invite,
    invite_back,
    share_more_or_less,
    withdraw_invitation,
    without_password,
)
from blockwright.verbs.invitations import end_share as end


def address_of(request: HttpRequest, path: str) -> str:
    """A full address a phone can reach: the server's own on the network, where it has one."""
    base: str = settings.ADDRESS
    return f"{base.rstrip('/')}{path}" if base else request.build_absolute_uri(path)


def qr_svg(text: str) -> SafeString:
    """The code as an SVG that a strict content policy allows: no style attribute, no script."""
    code = segno.make(text, error="m", micro=False)
    drawn = code.svg_inline(scale=6, border=4, dark="#000", light="#fff", omitsize=False)
    return mark_safe(drawn)  # made here from an address of ours


@require_POST
def invite_coach(request: HttpRequest) -> HttpResponse:
    token = invite(person_of(request), "coach", None, timezone.now())
    return shown_link(request, token, "a coach")


@require_POST
def invite_to_lifter(request: HttpRequest, key: UUID) -> HttpResponse:
    person = person_of(request)
    lifter = lifter_for(person, key, "change")
    role = request.POST.get("role")
    if role == User.LIFTER:
        token, whom = invite(person, "lifter", lifter, timezone.now()), lifter.name
    elif role == User.PARTNER:
        sees = request.POST.get("sees", LEAST)
        try:
            token = invite(person, "partner", lifter, timezone.now(), sees)
        except BadInput as error:
            return HttpResponseBadRequest(str(error))
        whom = f"a training partner of {lifter.name}"
    else:
        return HttpResponseBadRequest("role is lifter or partner")
    return shown_link(request, token, whom)


def shown_link(request: HttpRequest, token: str, whom: str) -> HttpResponse:
    address = address_of(request, reverse("join", args=[token]))
    page = {"address": address, "code": qr_svg(address), "whom": whom}
    return render(request, "web/invitation.html", page)


@require_POST
def end_share(request: HttpRequest, key: UUID, share: int) -> HttpResponse:
    end(lifter_for(person_of(request), key, "change"), share)
    return redirect("lifter", key=key)


@require_POST
def change_share(request: HttpRequest, key: UUID, share: int) -> HttpResponse:
    """A partner sees more or less from now on."""
    row = lifter_for(person_of(request), key, "change")
    try:
        share_more_or_less(row, share, request.POST.get("sees", ""))
    except BadInput as error:
        return HttpResponseBadRequest(str(error))
    return redirect("lifter", key=key)


@require_POST
def withdraw(request: HttpRequest, invitation: int) -> HttpResponse:
    """Takes a link back before it is used."""
    key = withdraw_invitation(person_of(request), invitation)
    return redirect("home") if key is None else redirect("lifter", key=key)


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
    return FileResponse(file, as_attachment=True, filename="blockwright-archive.zip")


@require_POST
def person_link(request: HttpRequest, person: int) -> HttpResponse:
    token, whom = invite_back(person_of(request), person, timezone.now())
    return shown_link(request, token, whom.name)
