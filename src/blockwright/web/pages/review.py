"""The review: a letter to read, and the coach's word on each of its lines."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, NamedTuple
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from blockwright.engine.errors import BadInput, Problem
from blockwright.store.letters import letters_of
from blockwright.verbs.decide_letter import StaleLetter, all_open, decide_letter
from blockwright.verbs.read_letter import Field, LetterLine, LetterPage, letter_page
from blockwright.verbs.verdicts import CoachAnswer
from blockwright.verbs.write_letter import suggested_through, write_letter
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.person import person_of

MOST_WORDS = 2000
CLIMBS = ("raise_load", "add_set")
"""Kinds a block is made to bring, many in each letter: told in short, like what stays."""


class Written(NamedTuple):
    """What was typed into the form of one line, shown again when it could not be stored."""

    verdict: str
    value: str
    unit: str
    words: str
    problem: str


@dataclass(frozen=True, slots=True)
class ShownLine:
    """A line of the letter for the template."""

    at: LetterLine
    written: Written

    @property
    def told_whole(self) -> bool:
        """Whether every reason stands in the letter itself; else behind "Why", a caution never."""
        line = self.at.line
        return bool(line.cautions) or line.kind not in CLIMBS

    @property
    def opened(self) -> bool:
        """Whether its form stands open: something was typed that is not stored."""
        return bool(self.written.problem or self.written.verdict or self.written.words)


@require_http_methods(["GET", "HEAD", "POST"])
def review(request: HttpRequest, key: UUID) -> HttpResponse:
    """The latest letter, or the offer to write one; POST writes one."""
    if request.method == "POST":
        return _write(request, key)
    frame = lifter_frame(request, key, "read")
    return _shown(request, frame, letter_page(frame["lifter"], None, frame["today"]))


@require_http_methods(["GET", "HEAD", "POST"])
def letter(request: HttpRequest, key: UUID, letter: int) -> HttpResponse:
    """One letter; POST decides on it."""
    if request.method == "POST":
        return _decide(request, key, letter)
    frame = lifter_frame(request, key, "read")
    return _shown(request, frame, letter_page(frame["lifter"], letter, frame["today"]))


# ---------------------------------------------------------------------------------------- write


def _write(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = _frame_to_change(request, key)
    asked = request.POST.get("through", "").strip()
    try:
        through = _day(asked)
        found = write_letter(frame["lifter"], frame["today"], through)
    except BadInput as error:
        page = letter_page(frame["lifter"], None, frame["today"])
        more = {"write_problems": error.problems, "through": asked}
        return _shown(request, frame, page, more, status=422)
    return redirect("letter", key=key, letter=found.letter.pk)


def _day(text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        says = f'"{text}" is no date'
        problem = Problem(column="through", says=says, mend="write it as 2027-01-10")
        raise BadInput(problem) from error


# --------------------------------------------------------------------------------------- decide


def _decide(request: HttpRequest, key: UUID, number: int) -> HttpResponse:
    frame = _frame_to_change(request, key)
    row, person = frame["lifter"], person_of(request)
    page = letter_page(row, number, frame["today"])
    assert page is not None
    written = {at.line.id: _written(request.POST, at) for at in page.changes}
    try:
        said = _said(request.POST, page, written)
        if "accept_all" in request.POST:
            chosen = {one.proposal for one in said}
            words = _words(request.POST, "words_for_all")
            said += [o for o in all_open(row, number, words) if o.proposal not in chosen]
        decide_letter(person, row, number, said, _revision(request.POST))
    except StaleLetter as error:
        page = letter_page(row, number, frame["today"])
        return _shown(request, frame, page, {"stale": error.problems}, status=409)
    except BadInput as error:
        more = _problems(error, written)
        return _shown(request, frame, page, more, status=422, written=written)
    return redirect(f"{reverse('letter', args=[key, number])}#decided")


def _said(form: QueryDict, page: LetterPage, written: Mapping[str, Written]) -> list[CoachAnswer]:
    """The word on every line where one was chosen. BadInput names the line that is unclear."""
    found: list[CoachAnswer] = []
    problems: list[Problem] = []
    for at in page.changes:
        typed = written[at.line.id]
        if not typed.verdict:
            if typed.value or typed.words:
                says = "something is written here, but nothing is chosen"
                mend = "choose accept, change or decline"
                problems.append(Problem(key=at.line.id, says=says, mend=mend))
            continue
        if typed.value and typed.verdict != "changed":
            says = f"a value is written, but the line is {typed.verdict}"
            mend = "choose change, or empty the field"
            problems.append(Problem(key=at.line.id, says=says, mend=mend))
            continue
        if typed.verdict == "changed" and not typed.value:
            label = at.field.label.lower() if at.field is not None else "a value"
            mend = f"write the {label}, or choose accept or decline"
            problems.append(
                Problem(key=at.line.id, says="nothing is written to change it to", mend=mend)
            )
            continue
        change = _change(at.field, typed) if typed.verdict == "changed" else ""
        found.append(
            CoachAnswer(
                proposal=at.line.id,
                verdict=typed.verdict,  # type: ignore[arg-type]
                change=change,
                words=typed.words,
            )
        )
    if problems:
        raise BadInput(problems)
    return found


def _written(form: QueryDict, at: LetterLine) -> Written:
    name = at.line.id
    verdict = form.get(f"verdict-{name}", "")
    return Written(
        verdict=verdict if verdict in ("accepted", "changed", "declined") else "",
        value=form.get(f"value-{name}", "").strip()[:200],
        unit=form.get(f"unit-{name}", ""),
        words=_words(form, f"words-{name}"),
        problem="",
    )


def _words(form: QueryDict, name: str) -> str:
    return " ".join(form.get(name, "").split())[:MOST_WORDS]


def _change(field: Field | None, typed: Written) -> str:
    """KEY=VALUE, as the command takes it: a bare number is in the unit that stands beside it."""
    if field is None:
        return typed.value
    value = typed.value
    if field.key in ("load_kg", "sets", "weeks"):
        value = value.replace(",", ".")
    if field.key == "load_kg" and not value.endswith(("kg", "lb")):
        value = f"{value} {typed.unit if typed.unit in ('kg', 'lb') else field.unit}"
    return f"{field.key}={value}"


def _revision(form: QueryDict) -> int:
    text = form.get("revision", "")
    if not text.isdecimal() or len(text) > 9:
        raise StaleLetter(
            Problem(says="this form is from another page", mend="read the letter, decide again")
        )
    return int(text)


def _problems(error: BadInput, written: dict[str, Written]) -> dict[str, Any]:
    """Problems beside their line where they name one, else on top."""
    general = []
    for problem in error.problems:
        if problem.key in written:
            says = f"{problem.says}; {problem.mend}"
            written[problem.key] = written[problem.key]._replace(problem=says)
        else:
            general.append(problem)
    return {"problems": general, "line_problems": len(error.problems) - len(general)}


# ----------------------------------------------------------------------------------------- show


def _frame_to_change(request: HttpRequest, key: UUID) -> dict[str, Any]:
    frame = lifter_frame(request, key, "read")
    if "change" not in frame["rights"]:
        raise PermissionDenied
    return frame


def _shown(
    request: HttpRequest,
    frame: dict[str, Any],
    page: LetterPage | None,
    more: dict[str, Any] | None = None,
    *,
    status: int = 200,
    written: Mapping[str, Written] | None = None,
) -> HttpResponse:
    row = frame["lifter"]
    may_change = "change" in frame["rights"]
    shown: dict[str, Any] = {
        **frame,
        "may_change": may_change,
        "letters": letters_of(row)[::-1],
        "suggested": suggested_through(row, frame["today"]) if may_change else None,
        "page": page,
    }
    if page is not None:
        shown["may_decide"] = may_change and page.obstacle is None
        shown["changes"] = [_line(at, written) for at in page.changes]
    return render(request, "web/review.html", shown | (more or {}), status=status)


def _line(at: LetterLine, written: Mapping[str, Written] | None) -> ShownLine:
    blank = Written("", "", at.field.unit if at.field is not None else "", "", "")
    return ShownLine(at, (written or {}).get(at.line.id, blank))
