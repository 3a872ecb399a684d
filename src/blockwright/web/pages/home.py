"""The first page: everyone I may see."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.store.access import lifters_for
from blockwright.web.person import person_of


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    return render(request, "web/home.html", {"person": person, "lifters": lifters_for(person)})
