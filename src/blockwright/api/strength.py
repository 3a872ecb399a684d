"""How strong a lifter is on each lift, and how good that estimate has been."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import Router

from blockwright.api import whose
from blockwright.api.documents import answers, document_answer, json_answer
from blockwright.api.errors import ERRORS
from blockwright.api.signed_in import lifter_of
from blockwright.api.values import Key
from blockwright.verbs.backtest_log import backtest_log
from blockwright.verbs.estimate_lifter import estimate_lifter
from blockwright.verbs.stored_case import stored_case

router = Router()


@router.get(
    "/lifters/{lifter}/estimate",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("estimate"),
    summary="Strength per lift, with its uncertainty",
    description=f"{whose.READ} From every set the site knows.",
)
def estimate(request: HttpRequest, lifter: Key) -> HttpResponse:
    row = lifter_of(request, lifter, "read")
    return json_answer(request, estimate_lifter(row).document)


@router.get(
    "/lifters/{lifter}/backtest",
    response={200: dict[str, Any], **ERRORS},
    openapi_extra=answers("backtest"),
    summary="Each set predicted from the sets before it only",
    description=whose.READ,
)
def backtest(request: HttpRequest, lifter: Key) -> HttpResponse:
    row = lifter_of(request, lifter, "read")
    return document_answer(request, backtest_log([stored_case(row)]).document)
