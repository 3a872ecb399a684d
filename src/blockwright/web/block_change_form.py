"""What every page that changes a block does alike: show what would change, keep it, refuse it."""

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from blockwright.engine.errors import BadInput, Problem
from blockwright.files.words import reason_says
from blockwright.verbs.edit_block import (
    Change,
    ChangeQuestion,
    Preview,
    StaleRevision,
    keep,
    preview,
)
from blockwright.web.person import person_of

_OWN = ("csrfmiddlewaretoken", "step", "words", "insist")
"""Fields that the form for keeping asks for itself."""


def answered(
    request: HttpRequest, frame: dict[str, Any], start: date, change: Change, template: str
) -> HttpResponse:
    """The answer to a posted form: `step` "keep" stores the change and goes to the block, anything
    else shows it. `frame` is the template's page so far; it says what is wrong with status 422,
    and what somebody else changed meanwhile with 409."""
    question = ChangeQuestion(
        start=start,
        revision=whole(request, "revision"),
        change=change,
        words=request.POST.get("words", ""),
        insist=request.POST.get("insist") == "yes",
    )
    row, today = frame["lifter"], frame["today"]
    problems: tuple[Problem, ...] = ()
    try:
        if request.POST.get("step") == "keep":
            kept = keep(person_of(request), row, question, today)
            answer = redirect("block_of", key=row.key, start=start)
            answer["Location"] += f"?kept={kept.revision}"
            return answer
        shown: Preview | None = preview(row, question, today)
    except StaleRevision as stale:
        page = frame | {"start": start, "stale": stale}
        return render(request, "web/block_stale.html", page, status=409)
    except BadInput as error:
        problems = error.problems
        shown = _shown_anyway(row, question, today)
    page = frame | _preview_page(request, shown, problems)
    wrong = problems or (shown is not None and shown.refused)
    return render(request, template, page, status=422 if wrong else 200)


def _shown_anyway(row: Any, question: ChangeQuestion, today: date) -> Preview | None:
    """What a change that was refused would have done, where it can be done at all."""
    try:
        return preview(row, question, today)
    except BadInput:
        return None


def _preview_page(
    request: HttpRequest, shown: Preview | None, problems: tuple[Problem, ...]
) -> dict[str, Any]:
    broken = () if shown is None else shown.broken
    return {
        "problems": problems if shown is None else (),
        "lines": () if shown is None else shown.lines,
        "refused": [_rule(one) for one in broken if one.force == "refused"],
        "to_insist": [_rule(one) for one in broken if one.force != "refused"],
        "becomes_pin": any(one.force == "pin" for one in broken),
        "must_insist": bool(problems) and shown is not None,
        "asked": [
            (name, value)
            for name, values in request.POST.lists()
            if name not in _OWN
            for value in values
        ],
        "words": request.POST.get("words", ""),
        "was": request.POST,
    }


def _rule(one: Any) -> str:
    return f"Week {one.week}: {reason_says(one.reason)}"


def whole(request: HttpRequest, name: str) -> int:
    """A whole number of the form; 0 for anything else, which nothing is numbered."""
    text = request.POST.get(name, "")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 7 else 0
