"""The review: a letter to read, and the coach's word on each of its lines."""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from blockwright.engine.errors import BadInput, ChangedMeanwhile, Problem
from blockwright.engine.pain import REGIONS
from blockwright.store.access import coach_of, person_of
from blockwright.store.letters import letters_of
from blockwright.verbs.decide_letter import all_open, decide_letter
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.read_letter import (
    LetterFace,
    LetterField,
    LetterPage,
    LineToDecide,
    TypedLine,
    letter_page,
)
from blockwright.verbs.revise_block import CoachAnswer
from blockwright.verbs.roster import roster_line
from blockwright.verbs.write_letter import (
    NotWritten,
    evening,
    needs_beside,
    suggested_through,
    write_all,
    write_letter,
)
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import typed_day, typed_whole

MOST_WORDS = 2000


@require_http_methods(["GET", "HEAD", "POST"])
def review(request: HttpRequest, key: UUID, letter: int | None = None) -> HttpResponse:
    """The latest letter, or the offer to write one, which POST does; or one letter, on which POST
    decides."""
    if request.method == "POST":
        return _write(request, key) if letter is None else _decide(request, key, letter)
    frame = lifter_frame(request, key, "read")
    return _shown(request, frame, letter_page(frame["lifter"], letter, frame["today"]))


def _write(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    asked = request.POST.get("through", "").strip()
    try:
        through = typed_day(request, "through")
        found = write_letter(frame["lifter"], frame["today"], through)
    except BadInput as error:
        page = letter_page(frame["lifter"], None, frame["today"])
        more = {"write_problems": error.problems, "through": asked}
        return _shown(request, frame, page, more, status=422)
    return redirect("letter", key=key, letter=found.letter.pk)


def _decide(request: HttpRequest, key: UUID, number: int) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    row, person = frame["lifter"], person_of(request)
    page = letter_page(row, number, frame["today"])
    assert page is not None
    typed = {at.line.id: _typed(request.POST, at) for at in page.face.lines}
    try:
        said = [*_quick(request.POST), *_said(request.POST, page.face, typed)]
        if "accept_all" in request.POST:
            chosen = {one.proposal for one in said}
            words = _words(request.POST, "words_for_all")
            said += [o for o in all_open(row, number, words) if o.proposal not in chosen]
        decide_letter(person, row, number, said, typed_whole(request, "revision", 9))
    except ChangedMeanwhile as error:
        page = letter_page(row, number, frame["today"])
        assert page is not None
        # What was typed stays, but where somebody else decided: that is to be read first.
        kept = {at.line.id: typed[at.line.id] if at.standing is None else at.typed
                for at in page.face.lines}  # fmt: skip
        return _shown(request, frame, page, {"stale": error.problems}, status=409, typed=kept)
    except BadInput as error:
        more = _problems(error, typed)
        return _shown(request, frame, page, more, status=422, typed=typed)
    if _is_part(request):
        return _shown(request, frame, letter_page(row, number, frame["today"]))
    if request.POST.get("back") == "evening":
        return redirect(f"{reverse('evening')}#letter-{number}")
    return redirect(f"{reverse('letter', args=[key, number])}#decided")


def _quick(form: QueryDict) -> list[CoachAnswer]:
    """The buttons beside a line, each for all the proposals it stands for."""
    buttons = {"accept": "accepted", "decline": "declined", "undo": "undone"}
    return [
        CoachAnswer(proposal=name, verdict=verdict)  # type: ignore[arg-type]
        for button, verdict in buttons.items()
        for name in form.get(button, "").split()
    ]


def _is_part(request: HttpRequest) -> bool:
    """Whether the page's script asks for the letter alone, in place of the one it shows."""
    return request.headers.get("X-Letter") == "alone"


def _said(form: QueryDict, face: LetterFace, typed: Mapping[str, TypedLine]) -> list[CoachAnswer]:
    """The word on every line where one was chosen. BadInput names the line that is unclear."""
    found: list[CoachAnswer] = []
    problems: list[Problem] = []
    for at in face.lines:
        one = typed[at.line.id]
        unclear = _unclear(at, one)
        if unclear is not None:
            problems.append(unclear)
        if unclear is not None or not one.verdict:
            continue
        change = _change(at.field, one) if one.verdict == "changed" else ""
        found.append(
            CoachAnswer(
                proposal=at.line.id,
                verdict=one.verdict,  # type: ignore[arg-type]
                change=change,
                words=one.words,
            )
        )
    if problems:
        raise BadInput(problems)
    return found


def _unclear(at: LineToDecide, one: TypedLine) -> Problem | None:
    """What has to be mended before the word on a line can be taken."""
    label = at.field.label.lower() if at.field is not None else "a value"
    if not one.verdict and (one.value or one.words):
        says = "something is written here, but nothing is chosen"
        mend = "choose accept, change or decline"
    elif one.value and one.verdict not in ("", "changed"):
        says = f"a value is written, but the line is {one.verdict}"
        mend = "choose change, or empty the field"
    elif one.verdict == "changed" and not one.value:
        says = "nothing is written to change it to"
        mend = f"write the {label}, or choose accept or decline"
    else:
        return None
    return Problem(key=at.line.id, says=says, mend=mend)


def _typed(form: QueryDict, at: LineToDecide) -> TypedLine:
    name = at.line.id
    verdict = form.get(f"verdict-{name}", "")
    return TypedLine(
        verdict=verdict if verdict in ("accepted", "changed", "declined") else "",
        value=form.get(f"value-{name}", "").strip()[:200],
        unit=form.get(f"unit-{name}", ""),
        words=_words(form, f"words-{name}"),
        problem="",
    )


def _words(form: QueryDict, name: str) -> str:
    return " ".join(form.get(name, "").split())[:MOST_WORDS]


def _change(field: LetterField | None, typed: TypedLine) -> str:
    """KEY=VALUE, as the command takes it: a bare number is in the unit that stands beside it."""
    if field is None:
        return typed.value
    value = typed.value
    if field.key in ("load_kg", "sets", "weeks"):
        value = value.replace(",", ".")
    if field.key == "load_kg" and not value.endswith(("kg", "lb")):
        value = f"{value} {typed.unit if typed.unit in ('kg', 'lb') else field.unit}"
    return f"{field.key}={value}"


def _problems(error: BadInput, typed: dict[str, TypedLine]) -> dict[str, Any]:
    """Problems beside their line where they name one, else on top."""
    general = []
    for problem in error.problems:
        if problem.key in typed:
            says = f"{problem.says}; {problem.mend}"
            typed[problem.key] = typed[problem.key]._replace(problem=says)
        else:
            general.append(problem)
    return {"problems": general, "line_problems": len(error.problems) - len(general)}


def _shown(
    request: HttpRequest,
    frame: dict[str, Any],
    page: LetterPage | None,
    more: dict[str, Any] | None = None,
    *,
    status: int = 200,
    typed: Mapping[str, TypedLine] | None = None,
) -> HttpResponse:
    row = frame["lifter"]
    may_change = "change" in frame["rights"]
    shown: dict[str, Any] = {**frame, "may_change": may_change, "page": page}
    if page is not None:
        face = page.face if typed is None else page.face.with_typed(typed)
        shown |= face_context(face, may_change=may_change)
        shown["back"] = "evening" if request.POST.get("back") == "evening" else ""
        if shown["back"]:
            shown["waiting"] = {"needs": needs_beside(roster_line(row, frame["today"]))}
    if page is not None and _is_part(request):
        return render(request, "web/letter_part.html", shown | (more or {}), status=status)
    shown["letters"] = letters_of(row)[::-1]
    shown["suggested"] = suggested_through(row, frame["today"]) if may_change else None
    return render(request, "web/review.html", shown | (more or {}), status=status)


def face_context(face: LetterFace, *, may_change: bool) -> dict[str, Any]:
    """What `web/letter.html` needs of one letter."""
    may_decide = may_change and face.obstacle is None
    may = {"may_change": may_change, "may_decide": may_decide}
    return {"face": face, "regions": REGIONS, **may}


# ------------------------------------------------------------------------------------- the evening


@require_http_methods(["GET", "HEAD", "POST"])
def evening_page(request: HttpRequest) -> HttpResponse:
    """The letters; POST writes all that are due."""
    person = coach_of(request)
    today = today_of(person, timezone.now())
    failed: list[NotWritten] = []
    if request.method == "POST":
        _, failed = write_all(person, today)
        if not failed:
            return redirect("evening")
    found = evening(person, today)
    shown = {
        "evening": found,
        "not_written": failed,
        "back": "evening",
        "letters": [
            {"waiting": one, "lifter": one.lifter, **face_context(one.face, may_change=True)}
            for one in found.letters
        ],
    }
    return render(request, "web/evening.html", shown, status=422 if failed else 200)
