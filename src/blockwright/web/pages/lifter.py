"""One lifter: sessions, the lifter file as a form, files in and out, the log at the desk, who has
access."""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from blockwright.accounts.models import User
from blockwright.engine.errors import BadInput, BlockwrightError, ChangedMeanwhile, Problem
from blockwright.engine.pain import REGIONS
from blockwright.files.catalogue import builtin_catalogue
from blockwright.files.policy_files import default_policy
from blockwright.files.reading import Reading
from blockwright.store.access import coach_of, lifter_for, or_404, person_of
from blockwright.store.letters import letter_with
from blockwright.verbs import desk_log
from blockwright.verbs.amend_fact import settle_dispute
from blockwright.verbs.erase_lifter import erase_lifter, export_lifter
from blockwright.verbs.import_batches import (
    PERSON,
    answer,
    batch_of,
    batches_of,
    drop,
    forget_old_files,
    hold_sheets,
    is_foreign,
    preview,
    store_batch,
    take_back,
    waits,
)
from blockwright.verbs.import_files import import_files, new_lifter, stored_already
from blockwright.verbs.invitations import open_invitations
from blockwright.verbs.letter_questions import answer_question
from blockwright.verbs.lifter_page import lifter_page, screened
from blockwright.verbs.phone_home import today_of
from blockwright.verbs.save_lifter import add_lifter, change_lifter, write_down_pains
from blockwright.web.lifter_form.shown import (
    blank_form,
    differences,
    in_form,
    judged,
    shown,
    turned,
    typed_in,
    without_origin,
)
from blockwright.web.lifter_form.typed import compacted, typed_from
from blockwright.web.lifter_frame import lifter_frame
from blockwright.web.request_values import (
    given_files,
    keep_notes,
    key_of,
    notes_for,
    typed_whole,
    whole,
)


@require_safe
def lifter(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "see")
    return _drawn(request, frame, notes=notes_for(request, key))


@require_POST
def add_files(request: HttpRequest, key: UUID) -> HttpResponse:
    """More files for a lifter: a changed lifter file, logs, check-ins, blocks."""
    frame = lifter_frame(request, key, "change")
    row = frame["lifter"]
    person, now = person_of(request), timezone.now()
    try:
        given = given_files(request)
        foreign = [one for one in given if is_foreign(one)]
        if foreign:
            forget_old_files(now)
            batch = hold_sheets(person, row, foreign)
        rest = [one for one in given if one not in foreign]
        taken = import_files(person, row, rest, now) if rest else None
        if foreign:
            return redirect("import", key=key, batch=batch.key)
    except BlockwrightError as error:
        row.refresh_from_db()
        return _drawn(request, frame, 422, problems=error.problems)
    return _drawn(request, lifter_frame(request, key, "change"), taken=taken)


@require_POST
def settle(request: HttpRequest, key: UUID) -> HttpResponse:
    """Which of two corrections is true, or that a set that is asked about is, or what it was, by
    whoever may read the log; asked on the lifter's page or on a letter, which is shown again."""
    frame = lifter_frame(request, key, "export")
    row, person, now = frame["lifter"], person_of(request), timezone.now()
    chosen = next((name for name in ("true", "was", "word", "told") if name in request.POST), "")
    name, _, meant = request.POST.get(chosen, "").partition(" ")
    letter = whole(request.POST.get("letter", ""))
    is_told = chosen == "told" and bool(letter)
    word = None if is_told else key_of(name)
    if word is None and not is_told:
        unchosen = Problem(says="nothing was chosen", mend="tap what is true")
        return _drawn(request, frame, 422, problems=[unchosen])
    fields = ("load", "reps", "pain", "about", "words")
    typed = {field: request.POST.get(f"{field}-{name}", "")[:200] for field in fields}
    try:
        if word is None:
            stored = or_404(letter_with(row, letter or 0), "letter")
            says = answer_question(person, stored, name, typed | {"choice": meant}, now)
        elif chosen == "was":
            was = {"load": meant} if meant else typed
            says = desk_log.correct(person, row, word, was, now)
        else:
            verb = settle_dispute if chosen == "word" else desk_log.confirm_set
            says = verb(person, row, word, now)
    except BlockwrightError as error:
        return _drawn(request, frame, 409, problems=error.problems)
    if letter:
        evening = request.POST.get("back") == "evening"
        page = reverse("evening") if evening else reverse("letter", args=[key, letter])
        return redirect(f"{page}#settle-{letter}")
    keep_notes(request, key, [f"{says[:1].upper()}{says[1:]}."])
    return redirect("lifter", key=key)


def _drawn(
    request: HttpRequest, frame: dict[str, Any], status: int = 200, **more: Any
) -> HttpResponse:
    rights = frame["rights"]
    page = lifter_page(frame["lifter"], rights, frame["today"])
    may: dict[str, Any] = {"may_change": "change" in rights, "may_export": "export" in rights}
    found = open_invitations(person_of(request), timezone.now()) if may["may_change"] else []
    may["invitations"] = [one for one in found if one.lifter == frame["lifter"]]
    return render(request, "web/lifter.html", {**frame, **page, **may, **more}, status=status)


@require_safe
def export(request: HttpRequest, key: UUID) -> HttpResponse:
    """Everything about one lifter: the command line's files and the whole JSON, zipped."""
    row = lifter_for(person_of(request), key, "export")
    named = {"Content-Disposition": f'attachment; filename="blockwright-{row.key}.zip"'}
    return HttpResponse(export_lifter(row), content_type="application/zip", headers=named)


@require_http_methods(["GET", "HEAD", "POST"])
def erase(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "change")
    row = frame["lifter"]
    wrong = request.method == "POST" and request.POST.get("name", "").strip() != row.name
    if request.method == "POST" and not wrong:
        erase_lifter(row)
        return redirect("home")
    return render(request, "web/erase.html", frame | {"wrong": wrong}, status=422 if wrong else 200)


# ----------------------------------------------------------------------------------------- the log


@require_http_methods(["GET", "HEAD", "POST"])
def log(request: HttpRequest, key: UUID) -> HttpResponse:
    frame = lifter_frame(request, key, "export")
    problems: Any = ()
    if request.method == "POST":
        try:
            keep_notes(request, key, [_said(request, frame["lifter"])])
            return redirect(request.get_full_path())
        except BlockwrightError as error:
            problems = error.problems
    number = whole(request.GET.get("page", "")) or 1
    days, more = desk_log.log_days(frame["lifter"], number)
    page = {
        "days": days,
        "earlier": number + 1 if more else None,
        "later": number - 1,
        "problems": problems,
        "notes": notes_for(request, key),
        "kinds": ("kg", "lb"),
    }
    return render(request, "web/log.html", frame | page, status=422 if problems else 200)


def _said(request: HttpRequest, row: Any) -> str:
    person, now = person_of(request), timezone.now()
    fact = key_of(request.POST.get("fact", ""))
    if fact is None:
        raise BadInput.of("nothing was chosen", "press a button of the list")
    if request.POST.get("do") == "withdraw":
        return desk_log.withdraw(person, row, fact, now)
    typed = {name: request.POST[name] for name in desk_log.FIELDS if name in request.POST}
    return desk_log.correct(person, row, fact, typed, now)


# ------------------------------------------------------------------------- imports of a lifter


ROWS_SHOWN = 200
SKIPPED_SHOWN = 100


@require_http_methods(["GET", "HEAD", "POST"])
def imports(request: HttpRequest, key: UUID) -> HttpResponse:
    """All imports of a lifter; each can be taken back whole."""
    frame = lifter_frame(request, key, "change")
    row = frame["lifter"]
    forget_old_files(timezone.now())
    problems: Any = ()
    if request.method == "POST":
        try:
            batch = batch_of(row, key_of(request.POST.get("batch", "")) or UUID(int=0))
            count = take_back(person_of(request), row, batch, timezone.now())
            keep_notes(request, key, [f"Taken back: {count} sets and check-ins."])
            return redirect("imports", key=key)
        except BlockwrightError as error:
            problems = error.problems
    page = {"batches": batches_of(row), "problems": problems, "notes": notes_for(request, key)}
    return render(request, "web/imports.html", frame | page, status=409 if problems else 200)


@require_http_methods(["GET", "HEAD", "POST"])
def one_import(request: HttpRequest, key: UUID, batch: UUID) -> HttpResponse:
    """One import that waits: its preview, its questions, and the button that stores it."""
    frame = lifter_frame(request, key, "change")
    row = frame["lifter"]
    forget_old_files(timezone.now())
    held = batch_of(row, batch)
    if not waits(held):
        return redirect("imports", key=key)
    problems: Any = ()
    if request.method == "POST":
        try:
            return _decided(request, row, held)
        except BlockwrightError as error:
            problems = error.problems
    found = preview(held)
    page = {
        "batch": held,
        "found": found,
        "rows": found.rows[:ROWS_SHOWN],
        "stored": stored_already(row, found.sets, found.checkins),
        "doubtful": [line for line in found.rows if line.doubt],
        "checkins": found.measured[:ROWS_SHOWN],
        "more_rows": len(found.rows) > ROWS_SHOWN,
        "more_checkins": len(found.checkins) > ROWS_SHOWN,
        "skipped": found.draft.skipped[:SKIPPED_SHOWN],
        "more_skipped": max(0, len(found.draft.skipped) - SKIPPED_SHOWN),
        "problems": problems,
    }
    return render(request, "web/import.html", frame | page, status=422 if problems else 200)


def _decided(request: HttpRequest, row: Any, held: Any) -> HttpResponse:
    """Carries out the button that was pressed; answers count with every one but "forget"."""
    action = request.POST.get("do", "")
    if action == "forget":
        drop(held)
        keep_notes(request, row.key, ["Nothing was stored, and the files are forgotten."])
        return redirect("lifter", key=row.key)
    found = preview(held)
    asked = {question.id for question in found.draft.questions}
    given = {name: text for name in {*asked, PERSON} if (text := request.POST.get(name))}
    answer(held, given)
    if action != "store":
        return redirect("import", key=row.key, batch=held.key)
    count = store_batch(person_of(request), row, held, timezone.now())
    kind = " and ".join(["sets"] * bool(found.rows) + ["check-ins"] * bool(found.checkins))
    keep_notes(request, row.key, [f"Stored: {count} new {kind}. Imports can be taken back whole."])
    return redirect("lifter", key=row.key)


# --------------------------------------------------------------------------------- the lifter file


Page = dict[str, Any]


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HttpRequest) -> HttpResponse:
    """A new lifter, by the form or from files."""
    person = coach_of(request)
    page: Page = {"may_change": True, **_lists(request)}
    if request.method != "POST":
        return _form_drawn(request, page, form=_blank(person))
    if "from_files" in request.POST or request.FILES:
        return _from_files(request, page)
    return _answer(request, page, {}, lambda table: add_lifter(person, table))


@require_http_methods(["GET", "HEAD", "POST"])
def lifter_file(request: HttpRequest, key: UUID) -> HttpResponse:
    """The stored file to read; who may change the lifter may change it here."""
    frame = lifter_frame(request, key, "export")
    row = frame["lifter"]
    page: Page = {
        **frame,
        "may_change": "change" in frame["rights"],
        "screened": screened(row, frame["today"]),
        "version": row.version,
        **_lists(request),
    }
    if request.method != "POST":
        return _form_drawn(request, page, form=shown(typed_from(row.document)))
    if not page["may_change"]:
        raise PermissionDenied
    version = typed_whole(request, "version", 9)
    page["version"] = version
    person, today = person_of(request), frame["today"]
    return _answer(
        request,
        page,
        row.document,
        lambda table: change_lifter(person, row, version, table, today),
    )


def _answer(request: HttpRequest, page: Page, base: Mapping[str, Any], save: Any) -> HttpResponse:
    """Rows more or fewer, what is wrong, what differs, or the way on to the lifter's page."""
    typed = typed_in(request.POST)
    after_turn = turned(request.POST, typed)
    if after_turn is not None:
        return _form_drawn(request, page, form=shown(after_turn[0], turn=after_turn[1]))
    typed = compacted(typed)
    made, problems = judged(typed, base)
    if problems:
        return _form_drawn(request, page, 422, form=shown(typed, problems, made.places))
    try:
        saved: Reading[Any] = save(made.table)
    except ChangedMeanwhile:
        return _stale(request, page, typed)
    except BlockwrightError as error:
        return _form_drawn(request, page, 422, form=shown(typed, error.problems, made.places))
    pains = {region: whole(request.POST.get(f"hurts-{region}", ""), 2) for region in REGIONS}
    words = request.POST.get("hurts-words", "").strip()[:200]
    write_down_pains(person_of(request), saved.value, pains, words, timezone.now())
    keep_notes(request, saved.value.key, ["The lifter file is saved.", *in_form(saved.warnings)])
    return redirect("compose" if "compose" in request.POST else "lifter", key=saved.value.key)


def _stale(request: HttpRequest, page: Page, typed: dict[str, list[str]]) -> HttpResponse:
    """Nothing is overwritten: what differs is shown, and saving again is a choice."""
    row = page["lifter"]
    row.refresh_from_db()
    page |= {"version": row.version, "differences": differences(typed, row.document)}
    return _form_drawn(request, page, 409, form=shown(without_origin(typed)), stale=True)


def _from_files(request: HttpRequest, page: Page) -> HttpResponse:
    person = person_of(request)
    try:
        row = new_lifter(person, given_files(request), timezone.now())
    except BlockwrightError as error:
        page |= {"problems": error.problems}
        return _form_drawn(request, page, 422, form=_blank(person))
    return redirect("lifter", key=row.key)


def _blank(person: User) -> Any:
    form = shown(blank_form(person.units, today_of(person, timezone.now())))
    form.sections[0].asked[0].focus = True
    return form


def _form_drawn(request: HttpRequest, page: Page, status: int = 200, **more: Any) -> HttpResponse:
    return render(request, "web/lifter_file.html", {**page, **more}, status=status)


def _lists(request: HttpRequest) -> Page:
    """What the page suggests where a lift or a policy value is named."""
    return {
        "lift_names": sorted(builtin_catalogue().lifts),
        "policy_keys": sorted(default_policy().values),
        "hurts": [(region, request.POST.get(f"hurts-{region}")) for region in REGIONS],
        "hurts_words": request.POST.get("hurts-words", ""),
        "grades": [str(grade) for grade in range(1, 11)],
    }
