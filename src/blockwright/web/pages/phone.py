"""The phone page's shell, its worker, and how a phone joins; a session's sheet as a page and on
paper, from the same document as the phone's."""

import hashlib
import json
from datetime import date
from pathlib import Path
from uuid import UUID

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.contrib.staticfiles import finders
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.templatetags.static import static
from django.utils.cache import get_conditional_response
from django.views.decorators.csrf import ensure_csrf_cookie
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import require_safe

from blockwright.engine.day_sheet import Partner
from blockwright.engine.pain import REGIONS, place_in
from blockwright.sheets.pdf import Paper, sheets_pdf
from blockwright.sheets.sheet_words import sheet_words, told_once
from blockwright.store.access import person_of
from blockwright.verbs.phone_home import trains_beside
from blockwright.verbs.phone_sheet import SessionName, prepare, sheet_document
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.static_files import FIRST, bare
from .invite import address_of, qr_svg

FILES = "const FILES = [];"


@gzip_page
@ensure_csrf_cookie
@require_safe
def phone(request: HttpRequest) -> HttpResponse:
    """The shell: nothing personal in it, so that a worker may keep it."""
    regions = json.dumps({region: place_in(region) for region in REGIONS})
    return _asked_anew(request, render(request, "web/phone.html", {"regions": regions}))


@gzip_page
@login_not_required
@require_safe
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker, from the root so that it may serve the whole site. Its empty list of
    files becomes the list of what the page needs: a changed file is a changed worker."""
    found = finders.find("blockwright/sw.js")
    if not isinstance(found, str):
        raise Http404
    script = bare(Path(found).read_text(encoding="utf-8"))
    letters = (f"blockwright/{file.name}" for file in Path(found).parent.glob("*.woff2"))
    files = json.dumps([static(name) for name in sorted([*FIRST, *letters])])
    script = script.replace(FILES, f"const FILES = {files};", 1)
    answer = HttpResponse(script, content_type="text/javascript; charset=utf-8")
    return _asked_anew(request, answer)


def _asked_anew(request: HttpRequest, answer: HttpResponse) -> HttpResponse:
    """A browser asks at every visit; it need not get what it has."""
    answer["Cache-Control"] = "no-cache"
    answer["ETag"] = f'"{hashlib.sha256(answer.content).hexdigest()[:32]}"'
    return get_conditional_response(request, answer["ETag"], None, answer) or answer


@require_safe
def phones(request: HttpRequest) -> HttpResponse:
    """How a phone joins: address, code, certificate; what works without https."""
    person_of(request)
    page = {
        "address": address_of(request, "/phone/"),
        "reachable": bool(settings.ADDRESS),
        "https": settings.HTTPS,
        "public": bool(settings.PUBLIC_URL),
    }
    return render(request, "web/phones.html", page)


@require_safe
def phones_qr(request: HttpRequest) -> HttpResponse:
    person_of(request)
    drawing = qr_svg(address_of(request, "/phone/"))
    return HttpResponse(
        drawing.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1),
        content_type="image/svg+xml",
    )


@login_not_required
@require_safe
def certificate(request: HttpRequest) -> HttpResponse:
    """The certificate of this site's own authority, for a phone to trust (public by nature)."""
    file = settings.DATA / "certificate" / "authority.crt"
    if not settings.OWN_CERTIFICATE or not file.is_file():
        raise Http404
    return HttpResponse(file.read_bytes(), content_type="application/x-x509-ca-cert")


@require_safe
def sheet(request: HttpRequest, key: UUID, block: date, week: int, session: int) -> HttpResponse:
    """A session to read; with `?paper=a4` or `letter` the one page to write on."""
    frame = lifter_frame(request, key, "see")
    prepared = prepare(frame["lifter"], SessionName(block, week, session))
    day = prepared.chosen.session.day
    asked, paper = request.GET.get("with"), request.GET.get("paper")
    others = [] if asked is None else list(trains_beside(person_of(request), frame["lifter"], day))
    other = next((one for one in others if str(one.lifter.key) == asked), None)
    partner = None if other is None else Partner(other.lifter.name, other.planned.session)
    document = sheet_document(prepared, partner)
    if paper:
        size: Paper = "letter" if paper == "letter" else "a4"
        named = {"Content-Disposition": f'inline; filename="sheet-{document["date"]}.pdf"'}
        printed = sheets_pdf([document], size)
        return HttpResponse(printed, content_type="application/pdf", headers=named)
    words = sheet_words(document)
    page = {
        "sheet": document,
        "finding": words.finding,
        "cautions": told_once(one["says"] for one in document["cautions"]),
        "entries": list(zip(document["entries"], words.entries, strict=True)),
        "day": day,
        "start": block,
        "session": session,
        "asked": asked is not None,
        "others": others,
        "other": other,
    }
    return render(request, "web/sheet.html", {**frame, **page})
