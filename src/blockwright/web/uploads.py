"""The files of a form, read into memory up to a limit."""

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest

from blockwright.engine.errors import BadInput, Problem
from blockwright.verbs.import_files import Given

MOST_FILE_BYTES = 8 * 1024 * 1024
"""A log of twenty years is about 4 MB."""


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
