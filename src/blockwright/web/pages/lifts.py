"""The lift catalogue, searched by word, muscle, pattern and kit; one's own lifts on request."""

from itertools import groupby
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from blockwright.engine.errors import BadInput
from blockwright.engine.training import MUSCLES
from blockwright.files.vocabulary import vocabulary
from blockwright.verbs.desk_gyms import gyms_for, lifts_in_gym
from blockwright.verbs.list_lifts import Narrowing
from blockwright.web.person import person_of
from blockwright.web.whose_gym import asked_lifter

MOST_OPEN = 12
"""Up to so many lifts are shown with everything about them at once."""
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
