"""What a page reads of its request: parts of the address as values, files; and sentences
kept for the next page, over the redirect that follows a form."""

from datetime import date
from uuid import UUID

from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest

from blockwright.engine.errors import BadInput, Problem
from blockwright.verbs.import_files import Given


def day_of(typed: str) -> date | None:
    """A date behind the `?` of an address, None for none; Http404 for what names no day."""
    try:
        return date.fromisoformat(typed) if typed else None
    except ValueError as error:
        raise Http404("no such day") from error


def typed_day(request: HttpRequest, name: str) -> date | None:
    """A date of the form, None where nothing was typed; BadInput for what is none."""
    text = request.POST.get(name, "").strip()
    try:
        return date.fromisoformat(text) if text else None
    except ValueError as error:
        says = f"{text[:40]!r} is no date"
        raise BadInput.of(says, "write it as 2027-01-04", column=name) from error


def typed_whole(request: HttpRequest, name: str, digits: int = 6) -> int:
    """A whole number of the form; 0 for anything else, which nothing is numbered."""
    return whole(request.POST.get(name, ""), digits)


def whole(text: str, digits: int = 6) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) <= digits else 0


def key_of(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None


_KEY = "notes"


def keep_notes(request: HttpRequest, lifter: UUID, notes: list[str]) -> None:
    request.session[_KEY] = {"lifter": str(lifter), "says": notes}


def notes_for(request: HttpRequest, lifter: UUID) -> list[str]:
    """The notes about this lifter; they are shown once."""
    kept = request.session.get(_KEY)
    if not kept or kept["lifter"] != str(lifter):
        return []
    del request.session[_KEY]
    return list(kept["says"])


MOST_FILE_BYTES = 8 * 1024 * 1024  # A log of twenty years is about 4 MB


def given_files(request: HttpRequest) -> list[Given]:
    """The uploaded files; BadInput for none or one that is too large."""
    found: list[Given] = []
    problems: list[Problem] = []
    for upload in request.FILES.getlist("files"):
        assert isinstance(upload, UploadedFile)
        name = str(upload.name)
        if upload.size is None or upload.size > MOST_FILE_BYTES:
            says = f"is larger than {MOST_FILE_BYTES // 2**20} MB"
            problems.append(Problem(file=name, says=says, mend="send a part at a time"))
        else:
            found.append(Given(name=name, content=upload.read()))
    if not found and not problems:
        problems.append(Problem(says="no file was chosen", mend="choose one or more"))
    if problems:
        raise BadInput(problems)
    return found
