"""Plates, nearest loads, warm-up, a partner's changes."""

from typing import Annotated, Any, Literal

from django.http import HttpRequest, HttpResponse
from ninja import Router
from pydantic import Field, WithJsonSchema

from blockwright.actions.rack_load import RackQuestion, rack_load
from blockwright.api import whose
from blockwright.api.documents import answers, document_answer
from blockwright.api.errors import ERRORS
from blockwright.api.values import Find

router = Router()

_TYPED = r"^[0-9]{1,4}(\.[0-9]{1,3})?$"
Load = Annotated[str, Field(pattern=_TYPED, description="As typed: 82.5, in `unit`.")]
PartnersLoad = Annotated[
    str | None, Field(pattern=_TYPED), WithJsonSchema({"type": "string", "pattern": _TYPED})
]


@router.get(
    "/rack",
    response={200: dict[str, Any], **ERRORS, 409: ERRORS[404]},
    openapi_extra=answers("rack"),
    summary="What a load needs on a usual bar",
    description=f"{whose.ANYONE} A 20 kg bar (45 lb) and enough standard plates.",
)
def rack(
    request: HttpRequest,
    load: Load,
    unit: Literal["kg", "lb"] = "kg",
    lift: Find = None,
    partner: PartnersLoad = None,
) -> HttpResponse:
    question = RackQuestion(load=load, unit=unit, lift=lift, partner=partner)
    return document_answer(request, rack_load(question).document)
