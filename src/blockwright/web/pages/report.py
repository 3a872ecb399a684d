"""What is to be read of a lifter: strength, weekly sets, a block's report as a page and as a PDF,
and the ledger with a plain search."""

from datetime import date
from uuid import UUID

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.sheets.report_pdf import report_pdf
from blockwright.sheets.report_plots import DESK
from blockwright.sheets.report_words import report_page
from blockwright.sheets.sets_words import EVIDENCE, sets_words
from blockwright.sheets.sets_words import NOTE as SETS_NOTE
from blockwright.sheets.strength_words import NOTE as STRENGTH_NOTE
from blockwright.store.access import person_of
from blockwright.store.blocks import block_starts
from blockwright.verbs.ledger import VERDICTS, LedgerQuestion, kind_words, ledger
from blockwright.verbs.report_lifter import (
    PERIODS,
    count_sets,
    girth_pages,
    report_lifter,
    strength_page,
    weight_page,
)
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import day_of


@require_safe
def report(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    document = report_lifter(frame["lifter"], start, frame["today"])
    page = {
        "start": start,
        "report": None if document is None else report_page(document, DESK),
        "others": [day for day in block_starts(frame["lifter"]) if day != start],
    }
    return render(request, "web/report.html", frame | page)


@require_safe
def report_paper(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    """The report on A4, or on Letter with ?paper=letter."""
    frame = lifter_frame(request, key, "read")
    document = report_lifter(frame["lifter"], start, frame["today"])
    if document is None:
        raise Http404("nothing to report yet")
    paper = report_pdf(document, "letter" if request.GET.get("paper") == "letter" else "a4")
    named = {"Content-Disposition": f'attachment; filename="report-{start}.pdf"'}
    return HttpResponse(paper, content_type="application/pdf", headers=named)


WORDS = {"half-year": "Half a year", "two-years": "Two years", "all": "Everything"}


@require_safe
def strength(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    period = request.GET.get("period", "half-year")
    if period not in PERIODS:
        raise Http404("no such period")
    page = strength_page(person_of(request), frame["lifter"], period, frame["today"])
    whose = (person_of(request), frame["lifter"], frame["rights"], frame["today"])
    measured = {"weight": weight_page(*whose), "girths": list(girth_pages(*whose))}
    shown = {"page": page, "periods": WORDS.items(), "period": period, "note": STRENGTH_NOTE}
    return render(request, "web/strength.html", frame | shown | measured)


@require_safe
def sets(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "read")
    row = frame["lifter"]
    document = count_sets(row, day_of(request.GET.get("block", "")), frame["today"])
    here = document["start"]
    page = {
        "words": sets_words(document),
        "document": document,
        "start": date.fromisoformat(here) if here else None,
        "blocks": [{"start": day, "here": day.isoformat() == here} for day in block_starts(row)],
        "note": SETS_NOTE,
        "evidence": EVIDENCE,
    }
    return render(request, "web/sets.html", frame | page)


NARROWED = ("kind", "verdict", "lift", "first", "last")
"""What may be asked beside words; the fields stand open where one of them is."""


class LedgerForm(forms.Form):
    """What may be looked for; everything may be left out."""

    text = forms.CharField(required=False, max_length=200)
    kind = forms.CharField(required=False, max_length=40)
    verdict = forms.ChoiceField(required=False, choices=[("", ""), *((v, v) for v in VERDICTS)])
    lift = forms.CharField(required=False, max_length=200)
    first = forms.DateField(required=False)
    last = forms.DateField(required=False)
    page = forms.IntegerField(required=False, min_value=1, max_value=100_000)


@require_safe
def ledger_page(request: HttpRequest, key: UUID) -> HttpResponse:
    """The lines that fit what was asked, the last decided first."""
    frame = lifter_frame(request, key, "read")
    form = LedgerForm(request.GET)
    asked = form.cleaned_data if form.is_valid() else {"page": 1}
    question = LedgerQuestion(**asked | {"page": asked["page"] or 1})
    found = ledger(frame["lifter"], question)
    shown = {
        **frame,
        "page": found,
        "asked": question,
        "form": form,
        "is_search": any(value for name, value in request.GET.items() if name != "page"),
        "is_narrowed": any(value for name, value in request.GET.items() if name in NARROWED),
        "verdicts": VERDICTS,
        "kinds": [{"code": one, "words": kind_words(one)} for one in found.kinds],
    }
    return render(request, "web/ledger.html", shown, status=200 if form.is_valid() else 422)
