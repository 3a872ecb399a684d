"""What a block came to, and its weekly sets per muscle."""

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import Router

from blockwright.api import whose
from blockwright.api.documents import answers, document_answer
from blockwright.api.errors import ERRORS, ApiError
from blockwright.api.signed_in import lifter_of, today_for
from blockwright.api.values import Day, Key
from blockwright.verbs.count_sets import count_sets
from blockwright.verbs.report_lifter import report_lifter

router = Router()


@router.get(
    "/lifters/{lifter}/blocks/{start}/report",
    response={200: dict[str, Any], **ERRORS, 409: ERRORS[404]},
    openapi_extra=answers("report"),
    summary="What a block came to",
    description=f"{whose.READ} 409 while nothing of it is done.",
)
def report(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    row = lifter_of(request, lifter, "read")
    document = report_lifter(row, start, today_for(request))
    if document is None:
        says = "nothing of this block is done yet"
        raise ApiError(409, "not_possible", says, "ask again after its first session")
    return document_answer(request, document)


@router.get(
    "/lifters/{lifter}/blocks/{start}/sets",
    response={200: dict[str, Any], **ERRORS},
    summary="Weekly sets per muscle, done and planned",
    description=f"{whose.READ} The blockwright/sets/1 document.",
)
def sets(request: HttpRequest, lifter: Key, start: Day) -> HttpResponse:
    row = lifter_of(request, lifter, "read")
    return document_answer(request, count_sets(row, start, today_for(request)))


def _today(request: HttpRequest) -> date:
    return today_for(request)
