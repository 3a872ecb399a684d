"""A session's sheet as the command line prints it."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import Router

from blockwright.api import whose
from blockwright.api.documents import answers, json_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import lifter_of
from blockwright.api.values import Day, Key, Number
from blockwright.verbs.phone_sheet import SessionName, prepare, sheet_document

router = Router()


@router.get(
    "/lifters/{lifter}/blocks/{start}/weeks/{week}/sessions/{session}/sheet",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("sheet"),
    summary="A session's sheet",
    description=f"{whose.SEE} Made from what was logged up to the day before.",
)
def sheet(
    request: HttpRequest, lifter: Key, start: Day, week: Number, session: Number
) -> HttpResponse:
    row = lifter_of(request, lifter, "see")
    name = SessionName(start, week, session)
    return json_answer(request, sheet_document(prepare(row, name)))
