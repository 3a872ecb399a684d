"""The rack: plates, nearest loads, warm-up and a partner's turn for a load."""

from collections.abc import Iterable
from itertools import groupby
from typing import Any, Literal, cast
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.training import MUSCLES
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.vocabulary import vocabulary
from blockwright.sheets.rack_words import rack_words
from blockwright.store.access import person_of
from blockwright.verbs.desk_gyms import gyms_for, lifts_in_gym, rack_in_gym
from blockwright.verbs.list_lifts import Narrowing
from blockwright.verbs.rack_load import RackQuestion

FIELDS = ("load", "unit", "bar", "partner", "lift")


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
        about = problem.column or problem.key
        field = about if about in FIELDS else "load"
        says = f"{problem.says}; {problem.mend}" if problem.mend else problem.says
        found[field] = f"{found[field]} {says}" if field in found else says
    return found


MOST_OPEN = 12  # Up to so many lifts are shown with everything about them at once
MOST_AT_ONCE = 40
"""Beyond so many the patterns are folded: nobody reads three hundred lifts on a phone."""


@require_safe
def lifts(request: HttpRequest) -> HttpResponse:
    person = person_of(request)
    lifter = asked_lifter(request)
    asked = Narrowing(
        find=request.GET.get("find", "").strip(),
        muscle=request.GET.get("muscle", ""),
        pattern=request.GET.get("pattern", ""),
        kit=tuple(request.GET.getlist("kit")),
    )
    words = vocabulary()
    page: dict[str, Any] = {
        "asked": asked,
        "lifter_key": lifter,
        "gyms": gyms_for(person),
        "muscles": [(muscle, muscle.replace("_", " ")) for muscle in MUSCLES],
        "patterns": [(name, pattern.says) for name, pattern in words.patterns.items()],
        "kit": [(word, meaning.says, word in asked.kit) for word, meaning in words.kit.items()],
    }
    try:
        found = lifts_in_gym(person, lifter, asked)["lifts"]
    except BadInput as error:
        return render(request, "web/lifts.html", page | {"problems": error.problems}, status=422)
    page |= {
        "count": len(found),
        "open": len(found) <= MOST_OPEN,
        "folded": len(found) > MOST_AT_ONCE,
        "groups": [
            (name, words.patterns[name].says, [_shown(lift) for lift in group])
            for name, group in groupby(found, key=lambda lift: lift["pattern"])
        ],
    }
    return render(request, "web/lifts.html", page)


def _shown(lift: dict[str, Any]) -> dict[str, Any]:
    """A lift for the template: muscles trained directly and in part, in words."""
    shares = lift["muscles"].items()
    return lift | {
        "direct": [name.replace("_", " ") for name, share in shares if share >= 1],
        "in_part": [name.replace("_", " ") for name, share in shares if share < 1],
    }


def asked_lifter(request: HttpRequest) -> UUID | None:
    """None for nobody's gym in particular; Http404 for what is no key."""
    typed = request.GET.get("lifter", "")
    try:
        return UUID(typed) if typed else None
    except ValueError as error:
        raise Http404("no such lifter") from error
