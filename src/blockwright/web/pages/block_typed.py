"""What the block's grid asks while it is typed into (`static/desk/typed_block.js`): the grid with
every change judged, the next lifts for part of a name, the rest solved, all of it kept."""

import json
from dataclasses import replace
from datetime import date
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from blockwright.engine.editing import Place
from blockwright.engine.errors import BadInput, Problem
from blockwright.store.access import or_404, person_of
from blockwright.store.blocks import block_of
from blockwright.verbs.edit_block import (
    ChangeQuestion,
    Several,
    StaleRevision,
    TakeRest,
    keep,
    preview,
)
from blockwright.verbs.read_change import several_of
from blockwright.verbs.typed_block import lift_choices, solved_rest, typed_block
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import typed_whole
from .block import shown


@require_POST
def block_typed(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    """`step` "keep" stores what was typed and answers with the block's address, "solve" composes
    the rest around it; anything else shows it. 422 says what cannot be done, 409 that the block
    was changed meanwhile."""
    frame = lifter_frame(request, key, "change")
    row, today = frame["lifter"], frame["today"]
    or_404(block_of(row, start), "block")
    try:
        question = _question(request, start)
        if request.POST.get("step") == "keep" and question.change != Several(()):
            kept = keep(person_of(request), row, question, today)
            address = reverse("block_of", kwargs={"key": row.key, "start": kept.start})
            return JsonResponse({"address": f"{address}?kept={kept.revision}"}, status=201)
        made = None
        if request.POST.get("step") == "solve":
            made = solved_rest(person_of(request), row, question, today)
        return _answer(request, frame, question, made)
    except StaleRevision as stale:
        return _said(stale.problems, 409)
    except BadInput as error:
        return _said(error.problems, 422)


@require_POST
def typed_lifts(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    """The next three lifts for part of a name, in the block as typed so far."""
    frame = lifter_frame(request, key, "change")
    place = Place(
        week=typed_whole(request, "week"),
        session=typed_whole(request, "session"),
        lift=request.POST.get("lift", ""),
    )
    try:
        seen = preview(frame["lifter"], _question(request, start), frame["today"])
        stored = replace(seen.stored, block=seen.after)
        choices = lift_choices(stored, place, request.POST.get("typed", "")[:100])
    except StaleRevision as stale:
        return _said(stale.problems, 409)
    except BadInput as error:
        return _said(error.problems, 422)
    page = {"choices": choices, "typed": request.POST.get("typed", "")}
    return render(request, "web/block_typed_lifts.html", page)


def _question(request: HttpRequest, start: date) -> ChangeQuestion:
    try:
        steps = json.loads(request.POST.get("steps", "[]"))
    except ValueError as error:
        says = "what was typed cannot be read"
        raise BadInput.of(says, "load the page anew", column="steps") from error
    return ChangeQuestion(
        start=start,
        revision=typed_whole(request, "revision"),
        change=several_of(steps) if steps else Several(()),
        words=request.POST.get("words", ""),
        insist=request.POST.get("insist") == "yes",
    )


def _answer(
    request: HttpRequest, frame: dict[str, Any], question: ChangeQuestion, made: TakeRest | None
) -> HttpResponse:
    """The grid with everything typed in it; `made` is what the rest was solved to."""
    steps = question.change
    if made is not None and isinstance(steps, Several):
        steps = Several((*steps.steps, made))
    if not isinstance(steps, Several):
        raise TypeError("the grid sends several changes")
    seen = preview(frame["lifter"], replace(question, change=steps), frame["today"])
    typed = typed_block(seen, steps)
    page = frame | shown(request, frame, seen.stored.revision, typed.page)
    page |= {"typed": typed, "count": len(steps.steps), "made": made and made.search}
    return render(request, "web/block_typed.html", page)


def _said(problems: tuple[Problem, ...], status: int) -> HttpResponse:
    return JsonResponse({"problems": [str(one) for one in problems]}, status=status)
