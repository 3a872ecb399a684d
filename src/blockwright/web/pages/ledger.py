"""The ledger: everything proposed and everything decided, with a plain search."""

from datetime import date
from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.verbs.ledger import VERDICTS, LedgerPage, LedgerQuestion, kind_words, ledger
from blockwright.web.lifter_frame import lifter_frame

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
def page(request: HttpRequest, key: UUID) -> HttpResponse:
    """The lines that fit what was asked, the last decided first."""
    frame = lifter_frame(request, key, "read")
    form = LedgerForm(request.GET)
    question = _question(form.cleaned_data) if form.is_valid() else LedgerQuestion()
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
        "before": _address(question, found, -1),
        "after": _address(question, found, 1),
    }
    return render(request, "web/ledger.html", shown, status=200 if form.is_valid() else 422)


def _question(asked: dict[str, Any]) -> LedgerQuestion:
    return LedgerQuestion(**asked | {"page": asked["page"] or 1})


def _address(question: LedgerQuestion, found: LedgerPage, step: int) -> str | None:
    """The address of the page before or after, with the same search; None at the ends."""
    number = found.page + step
    if not 1 <= number <= found.pages:
        return None
    asked: dict[str, str | int | date] = {
        name: value
        for name in ("text", "kind", "verdict", "lift", "first", "last")
        if (value := getattr(question, name))
    }
    return "?" + urlencode(asked | {"page": number})
