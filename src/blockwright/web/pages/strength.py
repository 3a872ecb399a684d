"""A lifter's strength: what is believed of each lift, how sure that is, where it is heading."""

from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.sheets.strength_words import NOTE
from blockwright.verbs.strength_page import PERIODS, girth_pages, strength_page, weight_page
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.person import person_of

WORDS = {"half-year": "Half a year", "two-years": "Two years", "all": "Everything"}


@require_safe
def strength(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    period = request.GET.get("period", "half-year")
    if period not in PERIODS:
        raise Http404("no such period")
    page = strength_page(person_of(request), frame["lifter"], period, frame["today"])
    periods = [{"word": word, "says": WORDS[word], "here": word == period} for word in PERIODS]
    whose = (person_of(request), frame["lifter"], frame["rights"], frame["today"])
    measured = {"weight": weight_page(*whose), "girths": list(girth_pages(*whose))}
    shown = {"page": page, "periods": periods, "note": NOTE, **measured}
    return render(request, "web/strength.html", frame | shown)
