"""The rack: plates, nearest loads, warm-up and a partner's turn for a load."""

from collections.abc import Iterable
from typing import Literal, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.catalogue import builtin_catalogue
from blockwright.sheets.rack_words import rack_words
from blockwright.verbs.desk_gyms import gyms_for, rack_in_gym
from blockwright.verbs.rack_load import RackQuestion
from blockwright.web.person import person_of
from blockwright.web.whose_gym import asked_lifter

FIELDS = ("load", "unit", "bar", "partner", "lift")
_FIELD_OF = {
    "LOAD": "load", "--bar": "bar", "bar": "bar", "--partner": "partner", "--lift": "lift",
}  # fmt: skip
"""By what a problem is about, as the command names it."""


@require_safe
def rack(request: HttpRequest) -> HttpResponse:
    """The form, and below it the answer once a load was typed."""
    person = person_of(request)
    lifter = asked_lifter(request)
    typed = {name: request.GET.get(name, "").strip() for name in FIELDS}
    page = {
        "typed": typed,
        "lifter_key": lifter,
        "gyms": gyms_for(person),
        "lifts": sorted(builtin_catalogue().lifts),
    }
    if not any(typed[name] for name in ("load", "partner", "bar", "lift")):
        return render(request, "web/rack.html", page)
    try:
        document = rack_in_gym(person, lifter, _question(typed))
    except BadInput as error:
        page |= {"wrong": _by_field(error.problems)}
        return render(request, "web/rack.html", page, status=422)
    return render(request, "web/rack.html", page | {"words": rack_words(document)})


def _question(typed: dict[str, str]) -> RackQuestion:
    unit = typed["unit"] if typed["unit"] in ("kg", "lb") else None
    return RackQuestion(
        load=typed["load"],
        unit=cast(Literal["kg", "lb"] | None, unit),
        bar=typed["bar"] or None,
        partner=typed["partner"] or None,
        lift=typed["lift"] or None,
    )


def _by_field(problems: Iterable[Problem]) -> dict[str, str]:
    """What is wrong, beside the field it is about; the load's where a problem names none."""
    found: dict[str, str] = {}
    for problem in problems:
        field = _FIELD_OF.get(problem.column or problem.key or "", "load")
        says = f"{problem.says}; {problem.mend}" if problem.mend else problem.says
        found[field] = f"{found[field]} {says}" if field in found else says
    return found
