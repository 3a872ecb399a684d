"""One lift of a block: sets, another session, another lift, a pin. Shown before it is kept."""

from contextlib import suppress
from datetime import date
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.engine import editing
from blockwright.engine.errors import BadInput, Problem
from blockwright.engine.planning.disruption import Disruption
from blockwright.engine.training import MUSCLES, REGIONS, Session
from blockwright.files.words import caution_says
from blockwright.store.access import person_of
from blockwright.store.blocks import last_search, open_search
from blockwright.verbs.block_words import pin_text, planned_lines
from blockwright.verbs.edit_block import (
    Change,
    ChangeQuestion,
    EditPreview,
    StaleRevision,
    TakeRest,
    keep,
    preview,
    rule_says,
)
from blockwright.verbs.search_block import begin_rest, is_waiting
from blockwright.verbs.stored_case import StoredBlock, last_stored
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import typed_whole

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
        revision=typed_whole(request, "revision"),
        change=change,
        words=request.POST.get("words", ""),
        insist=request.POST.get("insist") == "yes",
    )
    row, today = frame["lifter"], frame["today"]
    problems: tuple[Problem, ...] = ()
    shown: EditPreview | None = None
    try:
        if request.POST.get("step") == "keep":
            kept = keep(person_of(request), row, question, today)
            answer = redirect("block_of", key=row.key, start=start)
            answer["Location"] += f"?kept={kept.revision}"
            return answer
        shown = preview(row, question, today)
    except StaleRevision as stale:
        page = frame | {"start": start, "stale": stale}
        return render(request, "web/block_stale.html", page, status=409)
    except BadInput as error:
        problems = error.problems
        with suppress(BadInput):  # what it would have done, where it can be done at all
            shown = preview(row, question, today)
    page = frame | _preview_page(request, shown, problems)
    wrong = problems or (shown is not None and shown.refused)
    return render(request, template, page, status=422 if wrong else 200)


def _preview_page(
    request: HttpRequest, shown: EditPreview | None, problems: tuple[Problem, ...]
) -> dict[str, Any]:
    return {
        "problems": problems if shown is None else (),
        "lines": () if shown is None else shown.lines,
        "refused": () if shown is None else [*map(rule_says, shown.refused)],
        "to_insist": () if shown is None else [*map(rule_says, shown.to_insist)],
        "becomes_pin": shown is not None and shown.becomes_pin,
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


# ---------------------------------------------------------------------------------------- one lift


TEMPLATE = "web/block_change.html"


@require_http_methods(["GET", "HEAD", "POST"])
def change_lift(
    request: HttpRequest, key: UUID, start: date, week: int, session: int, entry: int
) -> HttpResponse:
    """The forms for one entry of the block."""
    frame = lifter_frame(request, key, "change")
    stored = last_stored(frame["lifter"], start, frame["today"])
    lift = _lift_at(stored, week, session, entry)
    if request.method == "POST":
        # A form from an older revision names its own lift; the number may be another's by now.
        lift = request.POST.get("lift", lift or "")
    if lift is None:
        raise Http404("no such entry")
    place = editing.Place(week=week, session=session, lift=lift)
    page = frame | _page(stored, place)
    if request.method == "POST":
        return answered(request, page, start, _edit(request, place), TEMPLATE)
    if page.get("entry") is None:
        raise Http404("no such entry")
    return render(request, TEMPLATE, page)


def _lift_at(stored: StoredBlock, week: int, session: int, order: int) -> str | None:
    try:
        _, found = editing.session_at(stored.block, week, session)
    except BadInput:
        return None
    return next((e.lift for e in found.entries if e.order == order), None)


def _edit(request: HttpRequest, place: editing.Place) -> editing.Edit:
    only = request.POST.get("weeks") == "only"
    match request.POST.get("edit"):
        case "move":
            to = typed_whole(request, "to_session")
            return editing.MoveLift(place=place, to_session=to, only_this_week=only)
        case "swap":
            other = request.POST.get("other", "")
            return editing.SwapLift(place=place, other=other, only_this_week=only)
        case "pin":
            return editing.PinLift(place=place)
        case "unpin":
            return editing.UnpinLift(place=place)
        case _:
            return editing.SetCount(
                place=place, sets=typed_whole(request, "sets"), only_this_week=only
            )


def _page(stored: StoredBlock, place: editing.Place) -> dict[str, Any]:
    """What the forms are filled with; little where the entry is not there (any more)."""
    page: dict[str, Any] = {"revision": stored.revision, "place": place, "entry": None}
    try:
        week, session, entry = editing.entry_at(stored.block, place)
    except BadInput:
        return page
    lifter, case = stored.block.lifter, stored.case
    pin = editing.pins_by_lift(lifter, case.catalogue).get(place.lift)
    same, others = editing.swap_candidates(stored.block, place, case.catalogue, case.policy)
    return page | {
        "entry": entry,
        "week": week,
        "session": session,
        "lines": (),
        "planned": ", ".join(
            planned_lines(entry, week, case.catalogue.find(entry.lift), lifter.units)
        ),
        "sessions": [
            other
            for other in week.sessions
            if other.session != session.session and not stored.closed.session(other)
        ],
        "same": same,
        "others": others,
        "pinned": pin is not None,
        "pin_days": "" if pin is None else pin_text(pin),
        "cautions": [caution_says(caution) for caution in stored.block.cautions],
        "most_sets": editing.most_sets_named(entry, stored.case.policy),
        "builds": [w.week for w in stored.block.builds],
        "weeks_open": [
            (other.week, found.order)
            for other in stored.block.builds
            for planned in other.sessions
            if planned.session == session.session and not stored.closed.session(planned)
            for found in planned.entries
            if found.lift == place.lift
        ],
    }


# ------------------------------------------------------------------------------------- one session


SESSION = "web/block_session.html"


@require_http_methods(["GET", "HEAD", "POST"])
def block_session(
    request: HttpRequest, key: UUID, start: date, week: int, session: int
) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    stored = last_stored(frame["lifter"], start, frame["today"])
    try:
        _, found = editing.session_at(stored.block, week, session)
    except BadInput as error:
        raise Http404("no such session") from error
    page = frame | _session_page(stored, week, found)
    if request.method != "POST":
        return render(request, SESSION, page)
    try:
        trouble = _trouble(request, week, found)
    except BadInput as error:
        return render(request, SESSION, page | {"problems": error.problems}, status=422)
    return answered(request, page, start, trouble, SESSION)


def _trouble(request: HttpRequest, week: int, session: Session) -> Disruption:
    """What was posted; BadInput names the field that is missing."""
    what = request.POST.get("edit", "")
    said: dict[str, Any] = {
        "missed": True,
        "without": tuple(request.POST.getlist("without")),
        "hurts": tuple(request.POST.getlist("hurts")),
        "sore": tuple(name for name in request.POST.getlist("sore") if name in MUSCLES),
        "minutes": typed_whole(request, "minutes"),
    }
    if not said.get(what):
        if what in ("without", "hurts", "sore"):
            says = f"no {'muscle' if what == 'sore' else 'lift'} is ticked"
            raise BadInput.of(says, "tick one or more", column=what)
        raise BadInput.of("no minutes are given", "give a number", column="minutes")
    place = request.POST.get("region", "")
    region = place if what == "hurts" and place in REGIONS else ""
    return Disruption(week=week, session=session.session, region=region, **{what: said[what]})


def _session_page(stored: StoredBlock, week: int, session: Session) -> dict[str, Any]:
    trained = {
        muscle
        for lift in stored.case.catalogue.known(entry.lift for entry in session.entries)
        for muscle in lift.direct
    }
    return {
        "revision": stored.revision,
        "week_number": week,
        "session": session,
        "muscles": [(name, name.replace("_", " ")) for name in MUSCLES if name in trained],
        "regions": [(name, name.replace("_", " ")) for name in REGIONS],
        "cautions": [caution_says(caution) for caution in stored.block.cautions],
        "over": session.day in stored.closed.trained,
        "past": session.day < stored.today,
    }


# ---------------------------------------------------------------------------------------- the rest


REST = "web/block_rest.html"


@require_http_methods(["GET", "HEAD", "POST"])
def block_rest(request: HttpRequest, key: UUID, start: date) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    row, today = frame["lifter"], frame["today"]
    stored = last_stored(row, start, today)
    there = stored.revision
    found = last_search(row, "rest", start)
    made = found if found is not None and is_waiting(found, there) else None
    page = frame | {
        "revision": there,
        "first_open": editing.first_open_week(stored.block, stored.closed),
        "pins": [(pin.lift, pin_text(pin)) for pin in stored.block.lifter.pins],
        "made": made,
        "searching": open_search(row),
    }
    if request.method != "POST":
        return render(request, REST, page)
    if request.POST.get("step") in ("show", "keep"):
        return answered(request, page, start, TakeRest(typed_whole(request, "search")), REST)
    try:
        search = begin_rest(
            person_of(request),
            row,
            start,
            typed_whole(request, "revision"),
            today,
            timezone.now(),
            other_lifts=request.POST.get("other_lifts") == "yes",
        )
    except BadInput as error:
        return render(request, REST, page | {"problems": error.problems}, status=422)
    return redirect("composing", key=key, search=search.pk)
